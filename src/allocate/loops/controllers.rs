//! Loops onto the ports of controller units, with their supplies.

use super::equipment::{Equipment, cheapest, price, supplies};
use super::held;
use super::placing::Ground;
use crate::model::bus::{BusSupply, Controller, SupplyCurrent};
use crate::model::issued::IssuedLoop;
use crate::model::project::Project;
use crate::norms::iec_62386;
use crate::quantity::Current;
use std::collections::BTreeMap;
use std::sync::Arc;
use uom::ConstZero;
use uom::si::ratio::ratio;

/// The port that a loop hangs on.
#[derive(Debug, Clone)]
pub(super) struct Port {
    /// The unit, as in `CTL-1`; empty when there is no controller.
    pub controller: String,
    /// Its catalogue item.
    pub item: Option<Arc<Controller>>,
    /// Which of its loops, from 1.
    pub port: usize,
    /// The loop's separate supply.
    pub supply: Option<Arc<BusSupply>>,
    /// What the loop is supplied with.
    pub current: SupplyCurrent,
}

/// A loop that wants a port.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wanted<'a> {
    /// Index of the point where its controller stands.
    pub at: usize,
    /// Its current.
    pub current: Current,
    /// The loop that was issued, if it is that one.
    pub issued: Option<&'a IssuedLoop>,
}

/// A port for each loop. Loops that were issued keep theirs; others take ports that are free on
/// the units that are there, and then new units, numbered by point and then by loop. New units are
/// chosen from `options`, of all that there are.
pub(super) fn ports(
    (options, all): (&[&Equipment], &[&Equipment]),
    wanted: &[Wanted],
    project: &Project,
) -> Vec<Port> {
    let mut ports: Vec<(usize, Port)> = Vec::new();
    let mut by_point: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (index, want) in wanted.iter().enumerate() {
        if let Some(port) = want.issued.and_then(|on| kept(on, all)) {
            ports.push((index, port));
        }
    }
    for (index, want) in wanted.iter().enumerate() {
        if ports.iter().any(|(known, _)| *known == index) {
            continue;
        }
        match spare_port(&ports, wanted, want, all, project) {
            Some(port) => ports.push((index, port)),
            None => by_point.entry(want.at).or_default().push(index),
        }
    }
    let record = project.issued.held();
    let mut units = record.map_or(0, |record| record.highest.controllers);
    for loops in by_point.values() {
        let mut waiting = loops.iter().copied();
        let (_, chosen) = cheapest(options, loops.len());
        for (equipment, served) in chosen {
            units += 1;
            for (port, index) in (1..=served).zip(waiting.by_ref()) {
                let current = wanted.get(index).map(|want| want.current);
                ports.push((index, filled(equipment, units, port, current, project)));
            }
        }
    }
    ports.sort_by_key(|(index, _)| *index);
    ports.into_iter().map(|(_, port)| port).collect()
}

/// The port that a loop was issued with, if its equipment can still be had.
fn kept(on: &IssuedLoop, options: &[&Equipment]) -> Option<Port> {
    let equipment = held::equipment(on, options)?;
    Some(Port {
        controller: on.controller.clone().unwrap_or_default(),
        item: equipment.controller.clone(),
        port: on.port,
        supply: equipment.supply.clone(),
        current: equipment.current,
    })
}

/// A port that is free on a unit that stands where a loop wants one.
fn spare_port(
    taken: &[(usize, Port)],
    wanted: &[Wanted],
    want: &Wanted,
    options: &[&Equipment],
    project: &Project,
) -> Option<Port> {
    taken.iter().find_map(|(other, port)| {
        let item = port.item.as_ref()?;
        let here = wanted.get(*other)?.at == want.at;
        let used = |number: &usize| {
            let same = |known: &Port| known.controller == port.controller && known.port == *number;
            taken.iter().any(|(_, known)| same(known))
        };
        let free = (1..=item.loops).find(|number| !used(number))?;
        let equipment = options.iter().find(|option| {
            let same = option.controller.as_ref();
            same.is_some_and(|same| same.offer.id == item.offer.id)
        })?;
        let mut port_of = filled(equipment, 0, free, Some(want.current), project);
        port_of.controller.clone_from(&port.controller);
        here.then_some(port_of)
    })
}

fn filled(
    equipment: &Equipment,
    unit: usize,
    port: usize,
    current: Option<Current>,
    project: &Project,
) -> Port {
    let cheaper = equipment
        .supply
        .as_ref()
        .map(|supply| enough(supply, current, project));
    Port {
        controller: match equipment.controller {
            Some(_) => format!("CTL-{unit}"),
            None => String::new(),
        },
        item: equipment.controller.clone(),
        port,
        current: cheaper
            .as_ref()
            .map_or(equipment.current, |supply| supply.supply),
        supply: cheaper,
    }
}

/// The cheapest supply that delivers a loop's current with its spare; `known` when none is cheaper.
fn enough(known: &Arc<BusSupply>, current: Option<Current>, project: &Project) -> Arc<BusSupply> {
    let Some(current) = current else {
        return Arc::clone(known);
    };
    let kept = 1.0 - project.loops.spare.get::<ratio>();
    let mut best = known;
    let all = supplies(project);
    for supply in &all {
        let delivers = supply.supply.guaranteed * kept >= current;
        let cheaper = match (price(&supply.offer), price(&best.offer)) {
            (Some(this), Some(that)) => this < that,
            _ => false,
        };
        if delivers && cheaper {
            best = supply;
        }
    }
    Arc::clone(best)
}

/// The most current that a supply of the equipment may deliver.
pub(super) fn most(options: &[&Equipment]) -> Current {
    let none = iec_62386::most_supply();
    options
        .iter()
        .map(|option| option.current.maximum)
        .filter(|current| *current > Current::ZERO)
        .reduce(Current::max)
        .unwrap_or(none)
}

/// The current of some blocks' units.
pub(super) fn current(ground: &Ground, blocks: &[usize]) -> Current {
    let units = ground.units_of(blocks);
    units.fold(Current::ZERO, |sum, unit| sum + unit.current)
}

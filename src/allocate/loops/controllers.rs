//! Loops onto the ports of controller units, with their supplies.

use super::equipment::{Equipment, cheapest, price, supplies};
use super::placing::Ground;
use crate::model::bus::{BusSupply, Controller, SupplyCurrent};
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

/// A port for each loop. `wanted` holds, loop by loop, the index of the point where its controller
/// stands and its current; units are numbered by point and then by loop.
pub(super) fn ports(
    options: &[&Equipment],
    wanted: &[(usize, Current)],
    project: &Project,
) -> Vec<Port> {
    let mut by_point: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (index, (point, _)) in wanted.iter().enumerate() {
        by_point.entry(*point).or_default().push(index);
    }
    let mut units = 0;
    let mut ports: Vec<(usize, Port)> = Vec::new();
    for loops in by_point.values() {
        let mut waiting = loops.iter().copied();
        let (_, chosen) = cheapest(options, loops.len());
        for (equipment, served) in chosen {
            units += 1;
            for (port, index) in (1..=served).zip(waiting.by_ref()) {
                let current = wanted.get(index).map(|(_, current)| *current);
                ports.push((index, filled(equipment, units, port, current, project)));
            }
        }
    }
    ports.sort_by_key(|(index, _)| *index);
    ports.into_iter().map(|(_, port)| port).collect()
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

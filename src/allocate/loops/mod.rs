//! Control loops: which unit goes on which, and everything that follows from that.

mod address;
mod block;
mod bus_cable;
mod capacity;
mod controllers;
mod count;
mod equipment;
mod notes;
mod placing;
mod unit;
mod wiring;

pub(crate) use bus_cable::price_per_metre;

use crate::allocate::allocated::{Loop, MemberKind};
use crate::choose::sized::Sizing;
use crate::model::cable::Cable;
use crate::model::project::Project;
use crate::model::site::{Point, PointKind};
use crate::quantity::{Current, Voltage};
use crate::solve::bus::BusFigures;
use crate::solve::route::Routes;
use block::{Block, blocks};
use capacity::Capacity;
use controllers::Port;
use count::Fewest;
use equipment::{Cost, Equipment};
use placing::{Ground, Placed};
use std::sync::Arc;
use unit::Unit;
use uom::ConstZero;
use wiring::{Standing, Wiring};

/// The loops of a project.
#[derive(Debug, Clone, Default)]
pub(super) struct Layout {
    /// Loops, by name.
    pub loops: Vec<Loop>,
    /// What the reader must be told.
    pub notes: Vec<String>,
    /// Whether fewer loops are proved impossible.
    pub proved: bool,
}

/// Lays out the loops of a project.
pub(super) fn lay_out(project: &Project, sizing: &Sizing, routes: &Routes) -> Layout {
    let units = unit::units(project, sizing);
    if units.is_empty() {
        return Layout {
            proved: true,
            ..Layout::default()
        };
    }
    let options = equipment::options(project);
    let plan = cheapest_plan(project, &units, &options);
    let roots = roots(project, &units);
    let cables = bus_cable::candidates(project);
    let ground = Ground {
        units: &units,
        blocks: &plan.blocks,
        capacity: plan.capacity,
        routes,
        roots: &roots,
        cable: cables.last().map(Arc::as_ref),
        maximum: controllers::most(&plan.options),
        settings: &project.loops,
    };
    let (placed, more) = match project.loops.count {
        Some(count) => (count::place_on(&ground, &plan.fewest, count.max(1)), 0),
        None => count::place(&ground, &plan.fewest),
    };
    let loops = Assembly {
        project,
        ground: &ground,
        options: &plan.options,
        cables: &cables,
    }
    .loops(placed);
    let mut notes = notes::of(project, &loops);
    notes.extend(notes::of_count(more, &plan.fewest, project.loops.count));
    Layout {
        notes,
        proved: project.loops.count.is_none() && more == 0 && plan.fewest.proved,
        loops,
    }
}

/// What the loops are made with.
struct Plan<'a> {
    options: Vec<&'a Equipment>,
    capacity: Capacity,
    blocks: Vec<Block>,
    fewest: Fewest,
}

/// For each current that some equipment guarantees: the fewest loops of that current and the
/// cheapest equipment that delivers it. The cheapest of these; the fewest loops among equals.
fn cheapest_plan<'a>(project: &Project, units: &[Unit], options: &'a [Equipment]) -> Plan<'a> {
    let mut best: Option<((Cost, usize), Plan)> = None;
    let mut tried: Vec<Current> = Vec::new();
    for option in options {
        let current = option.guaranteed();
        if tried.contains(&current) {
            continue;
        }
        tried.push(current);
        let options: Vec<&Equipment> = options
            .iter()
            .filter(|option| option.guaranteed() >= current)
            .collect();
        let capacity = Capacity::new(current, project.loops.spare);
        let blocks = blocks(units, project.loops.keep_rooms_whole, &capacity);
        let fewest = count::fewest(&blocks, &capacity);
        let count = project.loops.count.unwrap_or(fewest.loops.len());
        let (cost, _) = equipment::cheapest(&options, count);
        let key = (cost, fewest.loops.len());
        if best.as_ref().is_none_or(|(known, _)| key < *known) {
            let plan = Plan {
                options,
                capacity,
                blocks,
                fewest,
            };
            best = Some((key, plan));
        }
    }
    best.map(|(_, plan)| plan).unwrap_or_else(|| Plan {
        options: Vec::new(),
        capacity: Capacity::new(Current::ZERO, project.loops.spare),
        blocks: Vec::new(),
        fewest: Fewest {
            loops: Vec::new(),
            proved: false,
        },
    })
}

/// Where controllers may stand: as the project says, or at the first panel, or else at the first
/// cupboard, or else where the first unit stands.
fn roots(project: &Project, units: &[Unit]) -> Vec<Arc<Point>> {
    if !project.loops.at.is_empty() {
        return project.loops.at.clone();
    }
    let points = &project.site.points;
    let first = |kind: PointKind| points.iter().find(|point| point.kind == kind).cloned();
    first(PointKind::Panel)
        .or_else(|| first(PointKind::Cupboard))
        .or_else(|| units.first().map(|unit| Arc::clone(&unit.at)))
        .into_iter()
        .collect()
}

/// Makes loops of placed blocks.
struct Assembly<'a> {
    project: &'a Project,
    ground: &'a Ground<'a>,
    options: &'a [&'a Equipment],
    cables: &'a [Arc<Cable>],
}

impl Assembly<'_> {
    fn loops(&self, placed: Placed) -> Vec<Loop> {
        let mut loops = placed.loops;
        if self.project.loops.count.is_none() {
            loops.retain(|blocks| !blocks.is_empty());
        }
        // In the order of the documents: by the first unit; loops without units come last.
        let first = |blocks: &Vec<usize>| {
            let units = blocks
                .iter()
                .filter_map(|b| self.ground.blocks.get(*b)?.units.first());
            units.min().copied().unwrap_or(usize::MAX)
        };
        loops.sort_by_key(first);
        let wirings: Vec<Wiring> = loops
            .iter()
            .filter_map(|blocks| self.wiring(blocks))
            .collect();
        let wanted: Vec<(usize, Current)> = loops
            .iter()
            .zip(&wirings)
            .map(|(blocks, w)| (w.root.index, controllers::current(self.ground, blocks)))
            .collect();
        let ports = controllers::ports(self.options, &wanted, self.project);
        let parts: Vec<(&Vec<usize>, &Wiring, &Port)> = loops
            .iter()
            .zip(&wirings)
            .zip(&ports)
            .map(|((blocks, wiring), port)| (blocks, wiring, port))
            .collect();
        let cable = bus_cable::choose(self.cables, |cable| {
            let each = parts.iter().map(|part| self.standing(part, cable));
            each.max().unwrap_or(Standing::KeepsAll)
        });
        parts
            .iter()
            .zip(1..)
            .map(|(part, number)| self.made(part, number, cable.as_ref()))
            .collect()
    }

    /// The cable of a loop as it is laid: with least cable, unless only the shortest way to each
    /// unit keeps the limits.
    fn wiring(&self, blocks: &[usize]) -> Option<Wiring> {
        let ground = self.ground;
        let units: Vec<&Unit> = ground.units_of(blocks).collect();
        let points = wiring::points(units.iter().copied());
        let short = wiring::nearest(ground.roots, &points, |root, points| {
            wiring::lay(ground.routes, ground.settings, root, points)
        })?;
        let stands = |wiring: &Wiring| {
            let cable = ground.cable?;
            let figures = wiring.figures(&units, ground.maximum, cable, ground.settings);
            Some(wiring::standing(figures.as_ref(), cable))
        };
        if stands(&short) != Some(Standing::Breaks) {
            return Some(short);
        }
        let near = wiring::nearest(ground.roots, &points, |root, points| {
            ground.routes.nearest_tree(root, points)
        })?;
        let line = ground.settings.topology == crate::model::project::Topology::Line;
        let better = !line && stands(&near) < Some(Standing::Breaks);
        Some(if better { near } else { short })
    }

    fn standing(
        &self,
        (blocks, wiring, port): &(&Vec<usize>, &Wiring, &Port),
        cable: &Cable,
    ) -> Standing {
        let units: Vec<&Unit> = self.ground.units_of(blocks).collect();
        let found = wiring.figures(&units, most_of(port), cable, self.ground.settings);
        wiring::standing(found.as_ref(), cable)
    }

    fn made(
        &self,
        (blocks, wiring, port): &(&Vec<usize>, &Wiring, &Port),
        number: usize,
        cable: Option<&Arc<Cable>>,
    ) -> Loop {
        let units: Vec<&Unit> = self.ground.units_of(blocks).collect();
        let (reached, unreached): (Vec<&Unit>, Vec<&Unit>) =
            units.iter().partition(|unit| wiring.reaches(unit));
        let figures = cable
            .and_then(|c| wiring.figures(&reached, most_of(port), c, self.ground.settings))
            .or_else(|| wiring.distances(&reached, most_of(port)))
            .unwrap_or_else(no_figures);
        let drop_of = |unit: &&Unit| {
            let place = reached.iter().position(|r| r.name == unit.name);
            let drop = place.and_then(|place| figures.drops.get(place));
            drop.copied().unwrap_or(Voltage::ZERO)
        };
        let drops: Vec<Voltage> = units.iter().map(drop_of).collect();
        let groups = address::groups(&units, self.project);
        let addresses = |kind: MemberKind| {
            let of_kind = units.iter().filter(|unit| unit.kind == kind);
            of_kind.map(|unit| unit.addresses).sum()
        };
        Loop {
            name: format!("L{number}"),
            controller: port.controller.clone(),
            controller_item: port.item.clone(),
            port: port.port,
            supply_item: port.supply.clone(),
            at: Arc::clone(&wiring.root),
            supply_guaranteed: port.current.guaranteed,
            supply_maximum: port.current.maximum,
            gear: addresses(MemberKind::Gear),
            control_devices: addresses(MemberKind::ControlDevice),
            current: units
                .iter()
                .fold(Current::ZERO, |sum, unit| sum + unit.current),
            drop: figures.drop,
            drop_full: figures.drop_full,
            longest: figures.longest,
            cable_length: figures.cable,
            cable: cable.cloned(),
            members: address::members(&units, &drops, &groups, self.project),
            tree: wiring.stretches(&figures),
            unreached: unreached.iter().map(|unit| unit.name.clone()).collect(),
            scenes: address::scenes(&groups, self.project),
            groups,
        }
    }
}

/// The most that a loop's supply may deliver; without a supply, the most that any may.
fn most_of(port: &Port) -> Current {
    if port.current.maximum > Current::ZERO {
        port.current.maximum
    } else {
        crate::norms::iec_62386::most_supply()
    }
}

fn no_figures() -> BusFigures {
    BusFigures {
        drops: Vec::new(),
        drop: Voltage::ZERO,
        drop_full: Voltage::ZERO,
        currents: Vec::new(),
        longest_between_units: crate::quantity::Length::ZERO,
        longest: crate::quantity::Length::ZERO,
        cable: crate::quantity::Length::ZERO,
        current: Current::ZERO,
    }
}

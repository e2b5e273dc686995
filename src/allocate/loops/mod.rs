//! Control loops: which unit goes on which, and everything that follows from that.

mod address;
mod assembly;
mod block;
mod bus_cable;
mod cable_bound;
mod capacity;
mod controllers;
mod count;
mod equipment;
mod exact;
mod held;
mod notes;
mod placing;
mod unit;
mod wiring;

pub(crate) use bus_cable::price_per_metre;

use crate::allocate::allocated::Loop;
use crate::choose::sized::Sizing;
use crate::model::cable::Cable;
use crate::model::issued::{Record, Released};
use crate::model::project::Project;
use crate::model::site::{Point, PointKind};
use crate::quantity::Current;
use crate::solve::route::Routes;
use assembly::Assembly;
use block::{Block, blocks};
use capacity::Capacity;
use count::Fewest;
use equipment::{Cost, Equipment};
use held::{Hold, Slot};
use placing::{Ground, SCORED};
use std::cell::Cell;
use std::sync::Arc;
use unit::Unit;
use uom::ConstZero;

/// The loops of a project.
#[derive(Debug, Clone, Default)]
pub(super) struct Layout {
    /// Loops, by name.
    pub loops: Vec<Loop>,
    /// What the reader must be told.
    pub notes: Vec<String>,
    /// Whether fewer loops are proved impossible.
    pub proved: bool,
    /// What could not stay as it was issued.
    pub released: Vec<Released>,
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
    let work = Cell::new(SCORED);
    let ground = Ground {
        units: &units,
        blocks: &plan.blocks,
        capacity: plan.capacity,
        routes,
        roots: &roots,
        cable: cables.last().map(Arc::as_ref),
        maximum: controllers::most(&plan.options),
        settings: &project.loops,
        scenes: &project.scenes,
        work: &work,
    };
    if let Some(record) = project
        .issued
        .held()
        .filter(|record| !record.loops.is_empty())
    {
        return held_to(record, project, ground, &options, &plan, &cables);
    }
    let (placed, more) = match project.loops.count {
        Some(count) => (count::place_on(&ground, &plan.fewest, count.max(1)), 0),
        None => count::place(&ground, &plan.fewest),
    };
    let mut slots: Vec<Slot> = placed.loops.into_iter().map(Slot::new).collect();
    if project.loops.count.is_none() {
        slots.retain(|slot| !slot.blocks.is_empty());
    }
    let loops = Assembly {
        project,
        ground: &ground,
        options: &plan.options,
        all: &plan.options,
        cables: &cables,
    }
    .loops(slots);
    let mut notes = notes::of(project, &loops);
    notes.extend(notes::of_count(more, &plan.fewest, project.loops.count));
    let mut least = cable_bound::least(&project.site, &units, &roots, &plan.capacity);
    if let Some(exact) = exact::least(&ground, loops.len()) {
        least = least.max(exact.cable);
    }
    notes.extend(notes::of_cable(&loops, least));
    Layout {
        notes,
        proved: project.loops.count.is_none() && more == 0 && plan.fewest.proved,
        loops,
        released: Vec::new(),
    }
}

/// The loops where some were issued: those stay, and new ones have equipment that delivers what
/// theirs does.
fn held_to(
    record: &Record,
    project: &Project,
    ground: Ground,
    options: &[Equipment],
    plan: &Plan,
    cables: &[Arc<Cable>],
) -> Layout {
    let all: Vec<&Equipment> = options.iter().collect();
    let mut known = record.loops.iter();
    let base = known.find_map(|on| held::equipment(on, &all));
    let (options, capacity) = match base {
        Some(base) => {
            let least = base.guaranteed();
            let enough = all.iter().filter(|option| option.guaranteed() >= least);
            let capacity = Capacity::new(least, project.loops.spare);
            (enough.copied().collect(), capacity)
        }
        None => (plan.options.clone(), plan.capacity),
    };
    let ground = Ground {
        capacity,
        blocks: &[],
        maximum: controllers::most(&all),
        ..ground
    };
    let holding = Hold {
        project,
        record,
        ground,
        options: &all,
    }
    .slots();
    let ground = Ground {
        blocks: &holding.blocks,
        ..ground
    };
    let loops = Assembly {
        project,
        ground: &ground,
        options: &options,
        all: &all,
        cables,
    }
    .loops(holding.slots);
    let mut notes = notes::of(project, &loops);
    let (units, roots) = (ground.units, ground.roots);
    let least = cable_bound::least(&project.site, units, roots, &ground.capacity);
    notes.extend(notes::of_cable(&loops, least));
    Layout {
        notes,
        proved: plan.fewest.proved && loops.len() <= plan.fewest.loops.len(),
        loops,
        released: holding.released,
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
        let fewest = count::fewest(units, &blocks, &capacity);
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
            bound: 0,
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

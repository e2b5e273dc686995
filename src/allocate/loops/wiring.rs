//! The bus cable of a loop: its way through the units, its drops and distances.

use super::unit::Unit;
use crate::allocate::allocated::BusStretch;
use crate::model::cable::Cable;
use crate::model::project::{LoopSettings, Topology};
use crate::model::site::Point;
use crate::norms::iec_62386;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::{Current, Length, Resistance, Voltage};
use crate::solve::bus::{Bus, BusEdge, BusFigures, BusSource, BusUnit, figures};
use crate::solve::cable::core_resistance;
use crate::solve::route::{Routes, Tree};
use std::sync::Arc;
use uom::ConstZero;

/// A loop's cable and what follows from it.
#[derive(Debug, Clone)]
pub(super) struct Wiring {
    /// Where supply and controller stand.
    pub root: Arc<Point>,
    /// The way of the cable.
    pub tree: Tree,
}

/// What is asked of the figures of a loop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Standing {
    /// Drop and distance are within limits, the drop also at the supply's maximum current.
    KeepsAll,
    /// Drop and distance are within limits with the units that are there.
    Keeps,
    /// A limit is broken, or the cable's resistance is not known.
    Breaks,
}

/// The points where some units stand, each once, in site order.
pub(super) fn points<'a>(units: impl Iterator<Item = &'a Unit>) -> Vec<Arc<Point>> {
    let mut points: Vec<Arc<Point>> = units.map(|unit| Arc::clone(&unit.at)).collect();
    points.sort_by_key(|point| point.index);
    points.dedup_by_key(|point| point.index);
    points
}

/// The cable through `points` from the nearest of `roots`; `None` without roots.
pub(super) fn nearest(
    roots: &[Arc<Point>],
    points: &[Arc<Point>],
    lay: impl Fn(&Point, &[Arc<Point>]) -> Tree,
) -> Option<Wiring> {
    let wirings = roots.iter().map(|root| Wiring {
        root: Arc::clone(root),
        tree: lay(root, points),
    });
    let mut best: Option<Wiring> = None;
    for wiring in wirings {
        let key = |w: &Wiring| (w.tree.unreached.len(), w.tree.length);
        if best.as_ref().is_none_or(|known| key(&wiring) < key(known)) {
            best = Some(wiring);
        }
    }
    best
}

/// How the cable is laid in the end.
pub(super) fn lay(
    routes: &Routes,
    settings: &LoopSettings,
    root: &Point,
    points: &[Arc<Point>],
) -> Tree {
    match settings.topology {
        Topology::Free => routes.short_tree(root, points),
        Topology::Line => routes.line(root, points),
    }
}

impl Wiring {
    /// The loop as a network. Units that the cable does not reach are left out. Resistances are
    /// `None` when the cable's is not known.
    fn bus(
        &self,
        units: &[&Unit],
        maximum: Current,
        resistance: impl Fn(Length) -> Option<Resistance>,
    ) -> Option<Bus> {
        let nodes = self.nodes();
        let node = |point: &Point| nodes.iter().position(|n| *n == point.index);
        let edges = self
            .tree
            .stretches
            .iter()
            .map(|stretch| {
                Some(BusEdge {
                    a: node(&stretch.from)?,
                    b: node(&stretch.to)?,
                    length: stretch.length,
                    resistance: resistance(stretch.length)?,
                })
            })
            .collect::<Option<Vec<BusEdge>>>()?;
        let units = units.iter().filter_map(|unit| {
            Some(BusUnit {
                node: node(&unit.at)?,
                draw: unit.current,
            })
        });
        Some(Bus {
            nodes: nodes.len(),
            edges,
            units: units.collect(),
            sources: vec![BusSource { node: 0, maximum }],
        })
    }

    /// Indices of the points that the cable joins, the root first.
    fn nodes(&self) -> Vec<usize> {
        let mut nodes = vec![self.root.index];
        nodes.extend(self.tree.stretches.iter().map(|stretch| stretch.to.index));
        nodes
    }

    /// Whether the cable reaches a unit.
    pub(super) fn reaches(&self, unit: &Unit) -> bool {
        self.nodes().contains(&unit.at.index)
    }

    /// Figures on a cable; `None` when its resistance is not known.
    pub(super) fn figures(
        &self,
        units: &[&Unit],
        maximum: Current,
        cable: &Cable,
        settings: &LoopSettings,
    ) -> Option<BusFigures> {
        // Both wires.
        let loop_resistance =
            |length| core_resistance(cable, length, settings.temperature).map(|core| 2.0 * core);
        figures(&self.bus(units, maximum, loop_resistance)?).ok()
    }

    /// Figures without any drop, for a cable of unknown resistance.
    pub(super) fn distances(&self, units: &[&Unit], maximum: Current) -> Option<BusFigures> {
        figures(&self.bus(units, maximum, |_| Some(Resistance::ZERO))?).ok()
    }

    /// The stretches with their currents.
    pub(super) fn stretches(&self, figures: &BusFigures) -> Vec<BusStretch> {
        self.tree
            .stretches
            .iter()
            .zip(&figures.currents)
            .map(|(stretch, current)| BusStretch {
                from: Arc::clone(&stretch.from),
                to: Arc::clone(&stretch.to),
                length: stretch.length,
                current: *current,
            })
            .collect()
    }
}

/// Most voltage lost, as a limit.
pub(super) fn drop_limit() -> Limit<Voltage> {
    at_most(iec_62386::most_drop(), "IEC 62386-101")
}

/// Longest distance on a cable, as a limit; no length at all for a conductor too thin.
pub(super) fn distance_limit(cable: &Cable) -> Limit<Length> {
    let longest = iec_62386::longest(cable.size.area()).unwrap_or(Length::ZERO);
    at_most(longest, "published bus guides")
}

fn at_most<Q>(value: Q, source: &'static str) -> Limit<Q> {
    Limit {
        value,
        bound: Bound::AtMost,
        source: Source::Published(source),
    }
}

/// How a loop's figures on a cable stand to the limits.
pub(super) fn standing(figures: Option<&BusFigures>, cable: &Cable) -> Standing {
    let Some(found) = figures else {
        return Standing::Breaks;
    };
    let drop = drop_limit();
    if !drop.allows(found.drop) || !distance_limit(cable).allows(found.longest) {
        Standing::Breaks
    } else if drop.allows(found.drop_full) {
        Standing::KeepsAll
    } else {
        Standing::Keeps
    }
}

//! Which block goes on which loop: the fewest loops come from packing; here blocks move and change
//! places until no limit is passed that need not be, groups and rooms are split as little as may
//! be, and the cable is short.

use super::block::Block;
use super::capacity::Capacity;
use super::unit::Unit;
use super::wiring::{Wiring, distance_limit, drop_limit, nearest, points};
use crate::model::cable::Cable;
use crate::model::project::{LoopSettings, Topology};
use crate::model::scene::Scene;
use crate::model::site::Point;
use crate::norms::iec_62386;
use crate::quantity::{Current, Length, Voltage};
use crate::solve::cable::core_resistance;
use crate::solve::route::Routes;
use num_traits::ToPrimitive;
use std::cell::Cell;
use std::collections::BTreeSet;
use std::sync::Arc;
use uom::si::electric_potential::microvolt;
use uom::si::length::millimeter;

/// What placing needs to know of the site and the settings.
#[derive(Clone, Copy)]
pub(super) struct Ground<'a> {
    /// Units by index.
    pub units: &'a [Unit],
    /// Blocks to place.
    pub blocks: &'a [Block],
    /// What a loop takes.
    pub capacity: Capacity,
    /// Routes of the site.
    pub routes: &'a Routes,
    /// Where controllers may stand.
    pub roots: &'a [Arc<Point>],
    /// The largest bus cable there is.
    pub cable: Option<&'a Cable>,
    /// Most current of a loop's supply.
    pub maximum: Current,
    /// Settings of the project's loops.
    pub settings: &'a LoopSettings,
    /// Scenes of the project.
    pub scenes: &'a [Scene],
    /// Units and stretches that may still be scored in searches.
    pub work: &'a Cell<usize>,
}

/// How good a loop, or all loops together, is: less is better, the first figure first.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Score {
    /// By how much capacities are passed.
    pub excess: u128,
    /// By how much what more loops could mend is: drop and distance, in microvolts and millimetres,
    /// and scenes in thousandths.
    pub fault: u64,
    /// On how many loops groups and rooms are, all together.
    pub spread: usize,
    /// Cable in millimetres.
    pub cable: u64,
}

impl std::ops::Add for Score {
    type Output = Score;

    fn add(self, other: Score) -> Score {
        Score {
            excess: self.excess.saturating_add(other.excess),
            fault: self.fault.saturating_add(other.fault),
            spread: self.spread + other.spread,
            cable: self.cable.saturating_add(other.cable),
        }
    }
}

/// Blocks on loops.
#[derive(Debug, Clone)]
pub(super) struct Placed {
    /// The blocks of each loop, rising; a loop may have none.
    pub loops: Vec<Vec<usize>>,
    /// How good it is.
    pub score: Score,
}

/// Units and stretches of cable scored at most, in all searches of one layout: past that the blocks
/// stay as they were packed, or as they are by then.
pub(super) const SCORED: usize = 1_500_000;

impl Ground<'_> {
    /// Scores a placing.
    pub(super) fn placed(&self, loops: Vec<Vec<usize>>) -> Placed {
        let score = loops
            .iter()
            .map(|blocks| self.score(blocks))
            .fold(Score::default(), Score::add_all);
        Placed { loops, score }
    }

    /// Moves blocks, and swaps pairs, while that is better.
    pub(super) fn improved(&self, start: Placed) -> Placed {
        let mut loops = start.loops;
        let mut scores: Vec<Score> = loops.iter().map(|blocks| self.score(blocks)).collect();
        let mut better = true;
        while better {
            better = false;
            for one in 0..loops.len() {
                for other in (0..loops.len()).filter(|other| *other != one) {
                    while self.exchange(&mut loops, &mut scores, (one, other)) {
                        better = true;
                    }
                }
            }
        }
        self.placed(loops)
    }

    /// The first move from one loop to another, or swap between them, that is better; whether
    /// there was one.
    fn exchange(
        &self,
        loops: &mut [Vec<usize>],
        scores: &mut [Score],
        (one, other): (usize, usize),
    ) -> bool {
        let (Some(from), Some(to)) = (loops.get(one).cloned(), loops.get(other).cloned()) else {
            return false;
        };
        let (Some(first), Some(second)) = (scores.get(one), scores.get(other)) else {
            return false;
        };
        let now = *first + *second;
        for block in &from {
            let given = std::iter::once(None).chain(to.iter().filter(|_| one < other).map(Some));
            for back in given {
                let trial = (
                    without(&from, *block, back),
                    without_option(&to, back, *block),
                );
                if self.work.get() == 0 {
                    return false;
                }
                let (a, b) = (self.score(&trial.0), self.score(&trial.1));
                if a + b < now {
                    set(loops, one, trial.0);
                    set(loops, other, trial.1);
                    set(scores, one, a);
                    set(scores, other, b);
                    return true;
                }
            }
        }
        false
    }

    /// How good one loop is.
    fn score(&self, blocks: &[usize]) -> Score {
        if blocks.is_empty() {
            return Score::default();
        }
        let units: Vec<&Unit> = self.units_of(blocks).collect();
        // On a free tree the shortest way to each unit is scored, which is quick to find.
        let lay = |root: &Point, points: &[Arc<Point>]| match self.settings.topology {
            Topology::Free => self.routes.nearest_tree(root, points),
            Topology::Line => self.routes.line(root, points),
        };
        let wiring = nearest(self.roots, &points(units.iter().copied()), lay);
        let stretches = wiring.as_ref().map_or(0, |w| w.tree.stretches.len());
        let left = self.work.get().saturating_sub(units.len() + stretches);
        self.work.set(left);
        Score {
            excess: self
                .capacity
                .excess(&self.capacity.sizes(units.iter().copied())),
            fault: wiring
                .as_ref()
                .map_or(0, |wiring| self.fault(wiring, &units))
                .saturating_add(self.scenes_over(&units)),
            spread: self.spread(&units),
            cable: wiring.map_or(0, |wiring| millimetres(wiring.tree.length)),
        }
    }

    /// Cable of a placing as it is laid in the end, in millimetres.
    pub(super) fn laid(&self, placed: &Placed) -> u64 {
        let lay = |root: &Point, points: &[Arc<Point>]| {
            super::wiring::lay(self.routes, self.settings, root, points)
        };
        let of = |blocks: &Vec<usize>| {
            let wiring = nearest(self.roots, &points(self.units_of(blocks)), lay);
            wiring.map_or(0, |wiring| millimetres(wiring.tree.length))
        };
        placed.loops.iter().map(of).sum()
    }

    /// The units of some blocks, in the order of the documents.
    pub(super) fn units_of<'b>(&'b self, blocks: &[usize]) -> impl Iterator<Item = &'b Unit> {
        let mut indices: Vec<usize> = blocks
            .iter()
            .filter_map(|block| self.blocks.get(*block))
            .flat_map(|block| block.units.iter().copied())
            .collect();
        indices.sort_unstable();
        indices
            .into_iter()
            .filter_map(|index| self.units.get(index))
    }

    fn spread(&self, units: &[&Unit]) -> usize {
        let groups: BTreeSet<usize> = units.iter().filter_map(|unit| unit.group).collect();
        let rooms: BTreeSet<usize> = units
            .iter()
            .filter(|_| self.settings.keep_rooms_whole)
            .flat_map(|unit| unit.rooms.iter().map(|room| room.index))
            .collect();
        groups.len() + rooms.len()
    }

    /// Scenes past the last that a loop has a number for, in thousandths.
    pub(super) fn scenes_over(&self, units: &[&Unit]) -> u64 {
        if self.scenes.len() <= iec_62386::SCENES {
            return 0;
        }
        let sets_one = |scene: &&Scene| {
            let mut settings = scene.settings.iter();
            settings.any(|setting| units.iter().any(|u| u.group == Some(setting.group.index)))
        };
        let here = self.scenes.iter().filter(sets_one).count();
        let over = here.saturating_sub(iec_62386::SCENES);
        over.to_u64().unwrap_or(u64::MAX).saturating_mul(1000)
    }

    /// By how much drop and distance are passed on the largest cable, in microvolts and
    /// millimetres together. A loop whose whole cable is within the limits needs no closer look.
    fn fault(&self, wiring: &Wiring, units: &[&Unit]) -> u64 {
        let Some(cable) = self.cable else { return 0 };
        let (drop, distance) = (drop_limit(), distance_limit(cable));
        let whole = wiring.tree.length;
        let core = core_resistance(cable, whole, self.settings.temperature);
        let most = core.map(|core| 2.0 * core * self.maximum);
        if most.is_none_or(|most| drop.allows(most)) && distance.allows(whole) {
            return 0;
        }
        let figures = wiring
            .figures(units, self.maximum, cable, self.settings)
            .or_else(|| wiring.distances(units, self.maximum));
        figures.map_or(0, |found| {
            let lost = over(
                &found.drop,
                &drop.value,
                drop.allows(found.drop),
                microvolts,
            );
            let far = distance.allows(found.longest);
            lost.saturating_add(over(&found.longest, &distance.value, far, millimetres))
        })
    }
}

impl Score {
    fn add_all(self, other: Score) -> Score {
        self + other
    }
}

fn over<Q>(found: &Q, limit: &Q, allowed: bool, units: impl Fn(Q) -> u64) -> u64
where
    Q: Copy + std::ops::Sub<Output = Q>,
{
    if allowed {
        0
    } else {
        units(*found - *limit).max(1)
    }
}

fn microvolts(voltage: Voltage) -> u64 {
    voltage.get::<microvolt>().round().to_u64().unwrap_or(0)
}

pub(super) fn millimetres(length: Length) -> u64 {
    length.get::<millimeter>().round().to_u64().unwrap_or(0)
}

fn set<T>(list: &mut [T], index: usize, value: T) {
    if let Some(entry) = list.get_mut(index) {
        *entry = value;
    }
}

/// A list without `block`, and with `back` when there is one.
fn without(list: &[usize], block: usize, back: Option<&usize>) -> Vec<usize> {
    let mut rest: Vec<usize> = list.iter().copied().filter(|b| *b != block).collect();
    rest.extend(back);
    rest.sort_unstable();
    rest
}

/// A list with `block`, and without `back` when there is one.
fn without_option(list: &[usize], back: Option<&usize>, block: usize) -> Vec<usize> {
    let mut rest: Vec<usize> = list.iter().copied().filter(|b| Some(b) != back).collect();
    rest.push(block);
    rest.sort_unstable();
    rest
}

//! Feeds and cuts off the evenly spaced places, where fewer feeds or thinner cable will then do or
//! the cables are shorter.
//!
//! Options of the same number of sections and feeds, with the same cable and kind of driver, are a
//! class. A class is left out when nothing in it can cost less than what is already found: its
//! feeds no further apart than each lights by itself through that cable. In the others feeds and
//! cuts are moved from the best evenly spaced option, first until every limit is kept, then for as
//! long as the cost falls, by an eighth of the run at first and by single segments, of a long run
//! by a hundred-and-fiftieth of it, in the end. What comes out can't be bettered by any one such
//! move, unless the run is so long, or an option so far from its limits, that the search was cut
//! short.

mod cover;
mod goal;
mod moves;
mod spans;
mod stretch;

use super::arrangement::Arrangement;
use super::candidate::Candidate;
use super::feeding::Feeding;
use super::field::Field;
use super::found::{Found, keep_two};
use super::limits;
use super::sharing::Sharing;
use super::trial::{self, Attempt, Trial};
use crate::quantity::number::real;
use crate::quantity::{Length, Ratio};
use crate::solve::extremes::Extremes;
use crate::solve::strip::extremes;
use cover::is_covered;
use goal::Goal;
use rust_decimal::Decimal;
use spans::Spans;
use std::cell::Cell;
use std::collections::BTreeMap;
use stretch::stretch;
use uom::si::ratio::ratio;

/// Evenly spaced options that miss a limit by more than this share of it are not put right by
/// moving their feeds.
const FURTHEST_MISS: f64 = 0.5;

/// Arrangements that are solved at most to put one right.
const MOST_REPAIRS: usize = 30;

/// Segments that may be solved for one run: long runs have so many moves that trying them all would
/// take seconds for cents.
const MOST_WORK: usize = 40_000;

/// The smallest move is this part of the run or one segment: smaller ones save cents.
const FINEST: usize = 150;

/// Feeds and cuts leave the even places only for at least this share of the cost of the best even
/// arrangement: odd places have to be measured out and remembered on site. Common practice, no
/// source.
pub const LEAST_SAVING: f64 = 0.02;

/// A move must bring the worst place nearer to its limit by so much of it.
const LEAST_GAIN: f64 = 1e-4;

/// Options that differ in places alone.
struct Class {
    /// Indices of its evenly spaced arrangements.
    ways: Vec<usize>,
    /// One of them, with the least cable that any could take.
    lowest: Candidate,
    /// It costs no less.
    floor: Option<Decimal>,
}

/// What was found among evenly spaced options, and what is cheaper than the cheapest of them by
/// moving feeds and cuts; the two cheapest, the cheapest first. Arrangements that come of it are
/// added to the field's. `candidates` are the evenly spaced options.
pub(super) fn placed(
    field: &mut Field,
    candidates: Vec<Candidate>,
    mut found: Vec<Found>,
) -> Vec<Found> {
    if field.is_given() {
        return found;
    }
    let work = Cell::new(MOST_WORK);
    let goal = Goal::beyond(&found);
    let mut spans: BTreeMap<(usize, Sharing), Option<Spans>> = BTreeMap::new();
    let mut classes = classes(field, candidates);
    // The class of the best first: what it comes down to leaves out more of the others.
    if let Some(best) = found.first().map(|best| &best.candidate) {
        classes.sort_by_key(|class| {
            let its = class.ways.contains(&best.way);
            !(its && class.lowest.cable == best.cable && class.lowest.sharing == best.sharing)
        });
    }
    for mut class in classes {
        if !goal.may_be_met(&found, class.floor) {
            continue;
        }
        let Candidate {
            cable,
            sharing,
            feeds,
            ..
        } = class.lowest;
        let item = field.feeding.cables.get(cable);
        let spans = spans
            .entry((cable, sharing))
            .or_insert_with(|| Spans::of(field, sharing, item?));
        let Some(length) = spans.as_mut().and_then(|spans| spans.least_cable(feeds)) else {
            continue;
        };
        class.lowest.cable_length = length;
        class.floor = field.least(&class.lowest);
        if !goal.may_be_met(&found, class.floor) {
            continue;
        }
        let better = Search {
            field,
            class: &class,
            work: &work,
        }
        .best();
        if let Some((way, trial)) = better {
            let known = field.ways.iter().position(|it| it.pieces == way.pieces);
            let index = known.unwrap_or_else(|| {
                field.ways.push(way);
                field.ways.len() - 1
            });
            let Some(candidate) = field.candidate(index, class.lowest.cable, class.lowest.sharing)
            else {
                continue;
            };
            if found.iter().any(|other| other.candidate == candidate) {
                continue;
            }
            let cost = field.cost(&candidate, &trial.sections);
            if !goal.is_met(cost) {
                continue;
            }
            keep_two(
                &mut found,
                Found {
                    candidate,
                    trial,
                    cost,
                },
            );
        }
    }
    found
}

/// Every class in which something can be moved, those that could cost least first.
fn classes(field: &Field, candidates: Vec<Candidate>) -> Vec<Class> {
    let reach = &field.feeding.reach;
    let nearest = (0..=field.feeding.segments).filter_map(|cut| reach.to(cut));
    let nearest = nearest.reduce(Length::min).unwrap_or_default();
    let mut classes: BTreeMap<(usize, usize, usize, Sharing), Class> = BTreeMap::new();
    for candidate in candidates {
        // Without cable along the strip the feeds of an uncut run stay at its ends.
        if !reach.along && candidate.sections == 1 {
            continue;
        }
        let key = (
            candidate.sections,
            candidate.feeds,
            candidate.cable,
            candidate.sharing,
        );
        let way = candidate.way;
        let class = classes.entry(key).or_insert_with(|| {
            let lowest = Candidate {
                cable_length: nearest * real(candidate.feeds),
                ..candidate
            };
            Class {
                ways: Vec::new(),
                floor: field.least(&lowest),
                lowest,
            }
        });
        class.ways.push(way);
    }
    let mut ordered: Vec<Class> = classes.into_values().collect();
    ordered.sort_by(|a, b| a.lowest.compare(a.floor, &b.lowest, b.floor));
    ordered
}

/// By how much of a limit a state misses its light or its volts; below zero where there is room.
fn miss(feeding: &Feeding, state: Extremes) -> f64 {
    let light = limits::light_drop(&feeding.limits, state.darkest.into());
    let lost = feeding.run.strip.voltage.value - state.least_volts;
    let share = Ratio::new::<ratio>(lost / feeding.run.strip.voltage.value);
    let volts = limits::feed_drop(&feeding.limits, share);
    light.excess().max(volts.excess())
}

/// A class being searched.
struct Search<'a, 'b> {
    field: &'a Field<'b>,
    class: &'a Class,
    /// Segments that may still be solved.
    work: &'a Cell<usize>,
}

impl Search<'_, '_> {
    /// The cheapest that keeps every limit.
    fn best(&self) -> Option<(Arrangement, Trial)> {
        let ways = || {
            self.class
                .ways
                .iter()
                .filter_map(|way| self.field.ways.get(*way))
        };
        let kept = self.class.ways.iter().filter_map(|index| {
            let way = self.field.ways.get(*index)?;
            let (cost, trial) = self.kept_even(*index)?;
            Some((cost, way.clone(), trial))
        });
        let start = kept.min_by(|a, b| a.0.cmp(&b.0)).or_else(|| {
            let missed = ways().map(|way| (self.missed(way), way));
            let nearest = missed.min_by(|a, b| a.0.total_cmp(&b.0));
            let (miss, way) = nearest.filter(|(miss, _)| *miss <= FURTHEST_MISS)?;
            self.repaired(way.clone(), miss)
        })?;
        Some(self.cheapened(start))
    }

    fn attempt<'w>(&'w self, way: &'w Arrangement) -> Option<Attempt<'w>> {
        Some(Attempt {
            way,
            cable: self.field.feeding.cables.get(self.class.lowest.cable)?,
            sharing: self.class.lowest.sharing,
        })
    }

    /// Takes what solving every segment once costs; `None` when there is too little left.
    fn spend(&self) -> Option<()> {
        let left = self.work.get().checked_sub(self.field.feeding.segments)?;
        self.work.set(left);
        Some(())
    }

    /// What one of the evenly spaced options costs, and what was solved, if it keeps every limit.
    fn kept_even(&self, way: usize) -> Option<(Option<Decimal>, Trial)> {
        self.spend()?;
        let lowest = &self.class.lowest;
        let option = self.field.candidate(way, lowest.cable, lowest.sharing)?;
        let trial = self.field.feasible(&option)?.ok()?;
        Some((self.field.cost(&option, &trial.sections), trial))
    }

    /// What an arrangement costs, and what was solved, if it keeps every limit.
    fn kept(&self, way: &Arrangement) -> Option<(Option<Decimal>, Trial)> {
        self.spend()?;
        let trial = trial::feasible(self.field.feeding, self.attempt(way)?).ok()?;
        let option = self.option(way)?;
        Some((self.field.cost(&option, &trial.sections), trial))
    }

    /// Whether stretches that the feeds light by themselves could cover the pieces; if not, no limit
    /// on light can be kept.
    fn may_be_lit(&self, way: &Arrangement) -> bool {
        let feeding = self.field.feeding;
        let Candidate { cable, sharing, .. } = self.class.lowest;
        let Some(cable) = feeding.cables.get(cable) else {
            return false;
        };
        let own = |cut: usize| {
            let length = feeding.reach.to_asked(cut)?;
            Some(stretch(feeding, sharing, cable, length))
        };
        way.pieces.iter().all(|piece| is_covered(piece, own))
    }

    fn option(&self, way: &Arrangement) -> Option<Candidate> {
        let last = self.field.ways.len();
        self.field.option(
            &way.shape(&self.field.feeding.reach),
            last,
            self.class.lowest.cable,
            self.class.lowest.sharing,
        )
    }

    /// By how much of a limit the worst piece misses its light or volts, in the state that strains
    /// it most.
    fn missed(&self, way: &Arrangement) -> f64 {
        let feeding = self.field.feeding;
        if self.spend().is_none() {
            return f64::INFINITY;
        }
        let of_piece = |piece| {
            let ladder = trial::ladder(feeding, self.attempt(way)?, piece);
            let lit = self.class.lowest.sharing.states().first()?;
            Some(miss(feeding, extremes(&ladder, *lit)?))
        };
        let pieces = way.pieces.iter().map(of_piece);
        pieces
            .map(|miss| miss.unwrap_or(f64::INFINITY))
            .fold(f64::NEG_INFINITY, f64::max)
    }

    /// Steps of moving, in segments.
    fn steps(&self) -> impl Iterator<Item = usize> + use<> {
        let first = (self.field.feeding.segments / 8).max(1);
        let last = (self.field.feeding.segments / FINEST).max(1);
        std::iter::successors(Some(first), move |step| {
            (*step >= 2 * last).then(|| step / 2)
        })
    }

    /// Moves feeds and cuts for as long as the worst place gains, until every limit is kept.
    fn repaired(
        &self,
        mut way: Arrangement,
        mut least: f64,
    ) -> Option<(Option<Decimal>, Arrangement, Trial)> {
        let end = self.work.get();
        let end = end.saturating_sub(MOST_REPAIRS * self.field.feeding.segments);
        for step in self.steps() {
            loop {
                if least <= 0.0
                    && let Some((cost, trial)) = self.kept(&way)
                {
                    return Some((cost, way, trial));
                }
                let moved = moves::moved(&way, step, &self.field.feeding.reach);
                let mut missed = moved
                    .into_iter()
                    .take_while(|_| self.work.get() > end)
                    .map(|way| (self.missed(&way), way));
                match missed.find(|(miss, _)| *miss < least - LEAST_GAIN) {
                    Some((miss, better)) => (least, way) = (miss, better),
                    None => break,
                }
            }
        }
        None
    }

    /// Moves feeds and cuts for as long as the cost falls.
    fn cheapened(
        &self,
        (mut cost, mut way, mut trial): (Option<Decimal>, Arrangement, Trial),
    ) -> (Arrangement, Trial) {
        for step in self.steps() {
            while let Some(better) = self.cheaper(&way, cost, step) {
                (cost, way, trial) = better;
            }
        }
        (way, trial)
    }

    /// The first of an arrangement's moves that costs less and keeps every limit, those with the
    /// least cable first.
    fn cheaper(
        &self,
        way: &Arrangement,
        cost: Option<Decimal>,
        step: usize,
    ) -> Option<(Option<Decimal>, Arrangement, Trial)> {
        let cost = cost?;
        let reach = &self.field.feeding.reach;
        let present = way.cable_length(reach);
        let cut = way.pieces.len() > 1;
        let mut options: Vec<(Candidate, Arrangement)> = moves::moved(way, step, reach)
            .into_iter()
            // Other lengths of sections may go on cheaper drivers, other places of feeds do not.
            .filter(|way| cut || way.cable_length(reach) < present)
            .filter_map(|way| Some((self.option(&way)?, way)))
            .filter(|(option, _)| option.floor.is_some_and(|floor| floor < cost))
            .collect();
        options.sort_by(|(a, _), (b, _)| a.cable_length.value.total_cmp(&b.cable_length.value));
        let options = options.into_iter().map(|(_, way)| way);
        let mut lit = options.filter(|way| self.may_be_lit(way));
        lit.find_map(|way| {
            let (its, trial) = self.kept(&way)?;
            its.filter(|its| *its < cost)
                .map(|its| (Some(its), way, trial))
        })
    }
}

//! The least cable that so many feeds of a run take, wherever they are.
//!
//! Between two feeds there is a place past which no current flows, so that each lights a stretch by
//! itself: no longer than what it lights standing in the middle, and to either side no further than
//! what it lights standing at an end. Covering the run with such stretches leaves out what stands
//! between feeds and limit in truth, so that no real arrangement takes less cable.

use crate::choose::arrangement::Piece;
use crate::choose::candidate::Field;
use crate::choose::trial;
use crate::choose::unit::Sharing;
use crate::model::cable::Cable;
use crate::quantity::number::real;
use crate::quantity::{Length, Resistance};
use crate::solve::cable::{core_resistance, hottest};
use crate::solve::strip::solve;

/// Lengths of cable at which the stretches are worked out.
const SAMPLES: usize = 5;
/// Cells into which a run is divided at most.
const CELLS: usize = 160;
/// Numbers of feeds for which the least cable is worked out in full.
const MOST_FEEDS: usize = 10;
/// How far the first stretch that is looked for may be from the whole run, as a part of it.
const FIRST_STEP: usize = 4;

/// What one feed lights by itself at most through cable of a length, in segments.
#[derive(Debug, Clone, Copy)]
struct Stretch {
    cable: Length,
    /// To one side.
    side: usize,
    /// In all.
    whole: usize,
}

/// The least cable by number of feeds.
pub(super) struct Spans {
    /// Of each cell the shortest cable, with what that lights, and the place from which it reaches
    /// furthest.
    places: Vec<Option<Stretch>>,
    /// The least cable that covers the run to the end of each cell, by all feeds so far.
    covered: Vec<Option<Length>>,
    /// The least cable of the whole run by one feed, by two and so on, as far as was asked.
    least: Vec<Option<Length>>,
    nearest: Length,
}

impl Spans {
    /// That of a run over a cable; `None` when no cable reaches the run.
    pub fn of(field: &Field, sharing: Sharing, cable: &Cable) -> Option<Spans> {
        let feeding = field.feeding;
        let last = feeding.segments;
        let reached = |cut: usize| feeding.reach.to(cut);
        let all = || (0..=last).filter_map(reached);
        let nearest = all().reduce(Length::min)?;
        let stretches = stretches(field, sharing, cable, (nearest, all().reduce(Length::max)?));
        let cell = last.div_ceil(CELLS);
        let cells = last.div_ceil(cell);
        let places: Vec<Option<Stretch>> = (0..=cells)
            .map(|index| {
                let cuts = index * cell..(index + 1) * cell;
                let length = cuts.filter_map(reached).reduce(Length::min)?;
                // Cable is no better than the next shorter one that was looked at.
                let shorter = stretches.iter().rev().find(|own| own.cable <= length);
                let found = shorter.or(stretches.first())?;
                Some(Stretch {
                    cable: length,
                    side: found.side.div_ceil(cell) + 1,
                    whole: found.whole.div_ceil(cell) + 1,
                })
            })
            .collect();
        let mut covered: Vec<Option<Length>> = vec![None; cells + 1];
        if let Some(none) = covered.first_mut() {
            *none = Some(Length::default());
        }
        Some(Spans {
            places,
            covered,
            least: Vec::new(),
            nearest,
        })
    }

    /// A length than which the cables of so many feeds are no shorter; `None` where so many can't
    /// light the run.
    pub fn least_cable(&mut self, feeds: usize) -> Option<Length> {
        while self.least.len() < feeds.min(MOST_FEEDS) {
            self.covered = with_one_more(&self.covered, &self.places);
            self.least.push(self.covered.last().copied().flatten());
        }
        match feeds.checked_sub(1).and_then(|one| self.least.get(one)) {
            Some(least) => *least,
            None => Some(self.nearest * real(feeds)),
        }
    }
}

/// The least cable that covers the run from its start to the end of each cell, by one feed more.
fn with_one_more(covered: &[Option<Length>], places: &[Option<Stretch>]) -> Vec<Option<Length>> {
    let last = covered.len().saturating_sub(1);
    let mut more: Vec<Option<Length>> = vec![None; covered.len()];
    for (from, before) in covered.iter().enumerate() {
        let Some(before) = before else { continue };
        for (place, own) in places.iter().enumerate().skip(from) {
            let Some(own) = own.filter(|own| place <= from + own.side) else {
                continue;
            };
            let end = (from + own.whole).min(place + own.side).min(last);
            let length = *before + own.cable;
            if let Some(slot) = more.get_mut(end)
                && slot.is_none_or(|known| length < known)
            {
                *slot = Some(length);
            }
        }
    }
    // What covers more covers less.
    let mut least = None;
    for slot in more.iter_mut().rev() {
        least = match (*slot, least) {
            (Some(a), Some(b)) if b < a => Some(b),
            (Some(a), _) => Some(a),
            (None, b) => b,
        };
        *slot = least;
    }
    more
}

/// What a feed lights at most, from the shortest cable to the longest.
fn stretches(
    field: &Field,
    sharing: Sharing,
    cable: &Cable,
    (nearest, furthest): (Length, Length),
) -> Vec<Stretch> {
    let hot = hottest(cable.insulation);
    let step = (furthest - nearest) / real(SAMPLES);
    let most = field.feeding.segments;
    let mut all: Vec<Stretch> = Vec::with_capacity(SAMPLES);
    for sample in 0..SAMPLES {
        let length = nearest + step * real(sample);
        let core = core_resistance(cable, length, hot).unwrap_or_default();
        let before = all.last().map_or((most, most), |own| (own.side, own.whole));
        all.push(Stretch {
            cable: length,
            side: longest(field, sharing, core, (before.0, |_| 0)),
            whole: longest(field, sharing, core, (before.1, |segments| segments / 2)),
        });
    }
    all
}

/// The longest piece, in segments up to `most`, that one feed lights by itself through a core, the
/// feed where `place` says for a length.
fn longest(
    field: &Field,
    sharing: Sharing,
    core: Resistance,
    (most, place): (usize, impl Fn(usize) -> usize),
) -> usize {
    let feeding = field.feeding;
    let lights = |segments: usize| {
        let piece = Piece {
            start: 0,
            segments,
            feeds: vec![place(segments)],
        };
        sharing.states().first().is_some_and(|lit| {
            let ladder = trial::network(feeding, &piece, |_| core);
            let state = solve(&ladder, *lit);
            state.is_some_and(|state| super::miss(feeding, &state) <= 0.0)
        })
    };
    // A little more cable lights a little less: down from the most, in growing steps.
    let (mut kept, mut missed) = (most, most + 1);
    let mut step = if most == feeding.segments {
        most.div_ceil(FIRST_STEP)
    } else {
        1
    };
    while kept > 0 && !lights(kept) {
        missed = kept;
        kept = kept.saturating_sub(step);
        step *= 2;
    }
    while missed - kept > 1 {
        let middle = usize::midpoint(kept, missed);
        if lights(middle) {
            kept = middle;
        } else {
            missed = middle;
        }
    }
    kept
}

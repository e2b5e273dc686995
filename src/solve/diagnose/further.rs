//! Which reading, not yet taken, tells two causes apart.

use super::case::{Case, Quantity, Reading};
use super::{Cause, apart};

/// By how many standard deviations two causes must move away from each other before a reading is
/// said to tell them apart.
const TELLING: f64 = 2.0;

/// A reading that would tell two causes apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Further {
    /// What to read.
    pub quantity: Quantity,
    /// What it would be with the first cause, in V, A or Ω.
    pub first: f64,
    /// Which cause it tells from the first, by its place in the list.
    pub other: usize,
    /// What it would be with that.
    pub second: f64,
}

/// The reading for which two causes that are alike differ most: the first, and the next best from
/// which any reading would tell it.
pub(super) fn tells_apart(case: &Case, taken: &[Reading], alike: &[Cause]) -> Option<Further> {
    let (first, others) = alike.split_first()?;
    let one = first
        .fault
        .on(case, &first.spot, first.number.unwrap_or(1.0));
    for (other, cause) in (1..).zip(others) {
        let second = cause
            .fault
            .on(case, &cause.spot, cause.number.unwrap_or(1.0));
        let now = apart(case, taken, &one, &second)?;
        let mut best: Option<(f64, Further)> = None;
        for quantity in left(case, taken) {
            let mut with = taken.to_vec();
            with.push(Reading {
                quantity,
                value: 0.0,
            });
            let Some(then) = apart(case, &with, &one, &second) else {
                continue;
            };
            let gain = (then * then - now * now).max(0.0).sqrt();
            if gain >= TELLING && best.as_ref().is_none_or(|(most, _)| gain > *most) {
                let value = |site: &super::Site| site.read_all(&with)?.last().copied();
                let (first, second) = (value(&one)?, value(&second)?);
                let further = Further {
                    quantity,
                    first,
                    other,
                    second,
                };
                best = Some((gain, further));
            }
        }
        if let Some((_, further)) = best {
            return Some(further);
        }
    }
    None
}

/// What can be read and was not: at the driver, at every feed in every state, at both ends, and the
/// feeds' cables dead.
fn left(case: &Case, taken: &[Reading]) -> Vec<Quantity> {
    let mut all = vec![Quantity::Output];
    for &lit in case.states() {
        for feed in case.feeds() {
            all.push(Quantity::FeedVolts { feed, lit });
            all.push(Quantity::FeedCurrent { feed, lit });
        }
        for segment in [0, case.ladder.segments.saturating_sub(1)] {
            all.push(Quantity::SegmentVolts { segment, lit });
        }
    }
    let known = case
        .feeds()
        .filter(|feed| matches!(case.cold_loops.get(*feed), Some(Some(_))));
    all.extend(known.map(|feed| Quantity::ColdLoop { feed }));
    all.retain(|quantity| !taken.iter().any(|it| it.quantity == *quantity));
    all
}

//! What an arrangement off the even places must cost to be worth its odd places.

use super::LEAST_SAVING;
use crate::choose::found::Found;
use rust_decimal::Decimal;

/// What an arrangement off the even places must cost less than; `None` when there is no even one.
pub(super) struct Goal(Option<Option<Decimal>>);

impl Goal {
    pub(super) fn beyond(even: &[Found]) -> Goal {
        let kept = Decimal::try_from(1.0 - LEAST_SAVING).unwrap_or(Decimal::ONE);
        Goal(even.first().map(|best| best.cost.map(|cost| cost * kept)))
    }

    /// Whether a cost is low enough.
    pub(super) fn is_met(&self, cost: Option<Decimal>) -> bool {
        stays_below(self.0, cost, |cost, most| cost <= most)
    }

    /// Whether what costs no less than `floor` could meet it and be the best of what was found.
    pub(super) fn may_be_met(&self, found: &[Found], floor: Option<Decimal>) -> bool {
        let best = found.first().map(|best| best.cost);
        stays_below(best, floor, |floor, cost| floor < cost) && self.is_met(floor)
    }
}

/// Whether a cost is low enough beside another one: anything is where there is no other, nothing
/// where either is not known.
fn stays_below(
    other: Option<Option<Decimal>>,
    cost: Option<Decimal>,
    low_enough: fn(Decimal, Decimal) -> bool,
) -> bool {
    match (other, cost) {
        (None, _) => true,
        (Some(Some(other)), Some(cost)) => low_enough(cost, other),
        (Some(_), _) => false,
    }
}

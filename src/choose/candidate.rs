//! One option for feeding a run, and which of two is to be preferred.

use super::sharing::Sharing;
use crate::quantity::Length;
use rust_decimal::Decimal;
use std::cmp::Ordering;

/// One arrangement with one cable and one kind of driver.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// Index of its arrangement.
    pub way: usize,
    /// Index of its cable.
    pub cable: usize,
    /// What its driver has on at once.
    pub sharing: Sharing,
    /// It costs no less; `None` when a price is missing.
    pub floor: Option<Decimal>,
    /// Sections.
    pub sections: usize,
    /// Feeds in all.
    pub feeds: usize,
    /// Feed cable in all.
    pub cable_length: Length,
    /// Volume of copper of one core, in m³.
    pub copper: f64,
}

impl Candidate {
    /// Whether this one is to be preferred at its cost to another at its own: what has a price
    /// before what has none, then lowest cost, fewest feeds, shortest cable; without prices fewest
    /// outputs, fewest feeds, least copper.
    #[must_use]
    pub fn compare(&self, cost: Option<Decimal>, other: &Self, its: Option<Decimal>) -> Ordering {
        match (cost, its) {
            (Some(cost), Some(its)) => cost
                .cmp(&its)
                .then(self.feeds.cmp(&other.feeds))
                .then(self.cable_length.value.total_cmp(&other.cable_length.value)),
            (Some(_), None) => Ordering::Less,
            (None, Some(_)) => Ordering::Greater,
            (None, None) => (self.sections, self.feeds)
                .cmp(&(other.sections, other.feeds))
                .then(self.copper.total_cmp(&other.copper)),
        }
        .then((self.way, self.cable, self.sharing).cmp(&(
            other.way,
            other.cable,
            other.sharing,
        )))
    }
}

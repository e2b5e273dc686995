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

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::length::meter;

    /// Sections, feeds, metres of cable and m³ of copper.
    fn candidate(way: usize, sizes: (usize, usize, f64, f64)) -> Candidate {
        Candidate {
            way,
            cable: 0,
            sharing: Sharing::Single,
            floor: None,
            sections: sizes.0,
            feeds: sizes.1,
            cable_length: Length::new::<meter>(sizes.2),
            copper: sizes.3,
        }
    }

    #[test]
    fn each_reason_counts_only_where_those_before_it_are_equal() {
        let at = |sizes| candidate(0, sizes);
        let (cheap, dear) = (Some(Decimal::ONE), Some(Decimal::TWO));
        let better = [
            // A price before none, then the lower one, whatever else.
            (at((9, 9, 9.0, 9.0)), dear, at((1, 1, 1.0, 1.0)), None),
            (at((9, 9, 9.0, 9.0)), cheap, at((1, 1, 1.0, 1.0)), dear),
            // At one price feeds, then cable; outputs and copper don't count.
            (at((9, 1, 9.0, 9.0)), cheap, at((1, 2, 1.0, 1.0)), cheap),
            (at((9, 2, 1.0, 9.0)), cheap, at((1, 2, 2.0, 1.0)), cheap),
            // Without prices outputs, then feeds, then copper; cable doesn't count.
            (at((1, 9, 9.0, 9.0)), None, at((2, 1, 1.0, 1.0)), None),
            (at((2, 1, 9.0, 9.0)), None, at((2, 2, 1.0, 1.0)), None),
            (at((2, 2, 9.0, 1.0)), None, at((2, 2, 1.0, 2.0)), None),
            // The one that was listed first, where nothing else tells them apart.
            (
                candidate(0, (1, 1, 1.0, 1.0)),
                cheap,
                candidate(1, (1, 1, 1.0, 1.0)),
                cheap,
            ),
            (
                candidate(0, (1, 1, 1.0, 1.0)),
                None,
                candidate(1, (1, 1, 1.0, 1.0)),
                None,
            ),
        ];
        for (one, cost, other, its) in better {
            assert_eq!(
                one.compare(cost, &other, its),
                Ordering::Less,
                "{one:?} {other:?}"
            );
            assert_eq!(other.compare(its, &one, cost), Ordering::Greater);
            assert_eq!(one.compare(cost, &one, cost), Ordering::Equal);
        }
    }
}

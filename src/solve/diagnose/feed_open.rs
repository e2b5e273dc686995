//! A feed that is open: its plus core carries nothing.

use super::fault::{Fault, Spot};

/// The plus core of one feed is open.
pub(super) const FAULT: Fault = Fault {
    key: "feed-open",
    name: "feed open: its plus core carries nothing",
    check: "the plus core's terminal at the driver and its joint on the strip, isolated and dead",
    number: None,
    one_place: false,
    spots: |case, _| case.feeds().map(Spot::at).collect(),
    inflict: |site, _, spot, _| {
        for joined in site.feeds_at(spot) {
            joined.plus_open = true;
        }
    },
};

//! Warm and cool swapped: the two return cores of a feed change places on the strip.

use super::fault::{Fault, each_feed_and_all};

/// The returns of one feed, or of all, are swapped.
pub(super) const FAULT: Fault = Fault {
    key: "swapped",
    name: "warm and cool returns swapped",
    check: "which white lights when warm alone is called, then the marks on the two return cores",
    number: None,
    one_place: false,
    spots: |case, _| {
        if case.ladder.channels.len() == 2 {
            each_feed_and_all(case)
        } else {
            Vec::new()
        }
    },
    inflict: |site, _, spot, _| {
        for joined in site.feeds_at(spot) {
            joined.swapped = true;
        }
    },
};

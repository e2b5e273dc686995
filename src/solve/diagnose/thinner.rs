//! A size thinner: a feed's cable has the next smaller conductor.

use super::fault::{Fault, each_feed_and_all};

/// The cable of one feed, or of all, is a size thinner.
pub(super) const FAULT: Fault = Fault {
    key: "thinner",
    name: "cable a size thinner",
    check: "the size printed on the cable's sheath against the cable schedule",
    number: None,
    one_place: false,
    spots: |case, _| match case.thinner {
        Some(_) => each_feed_and_all(case),
        None => Vec::new(),
    },
    inflict: |site, case, spot, _| site.stretch_cable(spot, case.thinner.unwrap_or(1.0)),
};

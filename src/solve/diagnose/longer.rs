//! Cable k times longer than in the project.

use super::fault::{Fault, Number, each_feed_and_all};
use crate::quantity::figure::Unit;

/// The cable of one feed, or of all, is longer. Common practice, no source, for what is tried: from
/// a quarter more to eight times.
pub(super) const FAULT: Fault = Fault {
    key: "longer",
    name: "cable longer than in the project",
    check: "the length of the cable as run, coils included, against the cable schedule",
    number: Some(Number {
        unit: Unit::Plain,
        range: |_| [1.25, 8.0],
    }),
    one_place: false,
    spots: |case, _| each_feed_and_all(case),
    inflict: |site, _, spot, times| site.stretch_cable(spot, times),
};

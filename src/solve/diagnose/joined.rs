//! Two sections joined: the cut between a section and its neighbour was not made, or bridged.

use super::fault::{Fault, Spot};

/// The section is one strip with its neighbour, each on its own output.
pub(super) const FAULT: Fault = Fault {
    key: "joined",
    name: "two sections joined: outputs in parallel on one strip",
    check: "the cut between the two sections: no copper may bridge it, on any rail",
    number: None,
    one_place: false,
    spots: |case, _| {
        let beside = [(&case.before, false), (&case.after, true)];
        let there = beside.into_iter().filter(|(other, _)| other.is_some());
        there
            .map(|(_, at_end)| Spot {
                at_end: Some(at_end),
                ..Spot::default()
            })
            .collect()
    },
    inflict: |site, case, spot, _| match (spot.at_end, &case.before, &case.after) {
        (Some(false), Some(before), _) => site.join_before(before),
        (Some(true), _, Some(after)) => site.join_after(after),
        _ => {}
    },
};

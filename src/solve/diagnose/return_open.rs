//! A return that is open: one channel's return core of one feed carries nothing.

use super::fault::{Core, Fault, Spot};

/// A return core of one feed is open.
pub(super) const FAULT: Fault = Fault {
    key: "return-open",
    name: "return open: a return core carries nothing",
    check: "that return core's terminal at the driver and its joint on the strip, isolated and dead",
    number: None,
    one_place: false,
    spots: |case, _| {
        let channels = case.ladder.channels.len();
        let returns = |feed| (0..channels).map(move |it| Spot::in_core(feed, Core::Return(it)));
        case.feeds().flat_map(returns).collect()
    },
    inflict: |site, _, spot, _| {
        if let Some(Core::Return(channel)) = spot.core {
            for joined in site.feeds_at(spot) {
                if let Some(open) = joined.returns_open.get_mut(channel) {
                    *open = true;
                }
            }
        }
    },
};

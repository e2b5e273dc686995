//! A joint with resistance where a feed meets the strip.

use super::fault::{Core, Fault, Number, Spot};
use crate::quantity::Resistance;
use crate::quantity::figure::Unit;
use uom::si::electrical_resistance::ohm;

/// One core of one feed has a bad joint. Common practice, no source, for what is tried: 20 mΩ to
/// 20 Ω.
pub(super) const FAULT: Fault = Fault {
    key: "joint",
    name: "a joint with resistance at the feed",
    check: "the joint of the core on the strip: volts across it under load, then its crimp or solder",
    number: Some(Number {
        unit: Unit::Ohm,
        range: |_| [0.02, 20.0],
    }),
    one_place: false,
    spots: |case, _| {
        let returns = (0..case.ladder.channels.len()).map(Core::Return);
        let cores: Vec<Core> = std::iter::once(Core::Plus).chain(returns).collect();
        let of = |feed| cores.iter().map(move |core| Spot::in_core(feed, *core));
        case.feeds().flat_map(of).collect()
    },
    inflict: |site, _, spot, ohms| {
        let more = Resistance::new::<ohm>(ohms);
        for feed in site.ladder_feeds_at(spot) {
            match spot.core {
                Some(Core::Return(channel)) => {
                    if let Some(core) = feed.returns.get_mut(channel) {
                        *core += more;
                    }
                }
                Some(Core::Plus) | None => feed.plus += more,
            }
        }
    },
};

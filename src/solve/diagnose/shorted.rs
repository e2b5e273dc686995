//! A shorted segment: a resistance across its rails.

use super::fault::{Fault, Number, Spot};
use crate::quantity::Resistance;
use crate::quantity::figure::Unit;
use crate::solve::strip::{Lit, Short};
use std::collections::BTreeSet;
use uom::si::electrical_resistance::ohm;

/// A segment is shorted. It is looked for where strip is worked on (at feeds and ends) and midway
/// between; less than 1 Ω makes a driver switch off, more than 300 Ω takes less than what power may
/// differ by. Common practice, no source.
pub(super) const FAULT: Fault = Fault {
    key: "shorted",
    name: "a segment shorted",
    check: "solder bridges, whiskers of core and damp near that place, isolated and dead; a dark or \
            warm segment",
    number: Some(Number {
        unit: Unit::Ohm,
        range: |_| [1.0, 300.0],
    }),
    one_place: true,
    spots: |case, readings| {
        let last = case.ladder.segments.saturating_sub(1);
        let at_feeds = case.ladder.feeds.iter().map(|feed| feed.cut.min(last));
        let worked: BTreeSet<usize> = at_feeds.chain([0, last]).collect();
        let midway = worked.iter().zip(worked.iter().skip(1));
        let midway: Vec<usize> = midway.map(|(left, right)| (left + right) / 2).collect();
        let places: BTreeSet<usize> = worked.iter().copied().chain(midway).collect();
        let read = |lit: Lit| readings.iter().any(|it| it.quantity.lit() == Some(lit));
        let lit = case.states().iter().filter(|lit| read(**lit));
        let channels = lit.flat_map(|lit| lit.channels());
        channels
            .flat_map(|channel| {
                places.iter().map(|segment| Spot {
                    segment: Some((*segment, *channel)),
                    ..Spot::default()
                })
            })
            .collect()
    },
    inflict: |site, _, spot, ohms| {
        site.short = spot.segment.map(|(segment, channel)| Short {
            segment: site.first_segment + segment,
            channel,
            resistance: Resistance::new::<ohm>(ohms),
        });
    },
};

//! What a catalogue knows of a strip's rails: one of four things, or nothing.

use super::desk::Desk;
use super::measure::{
    Amperes, CopperThickness, Extent, LowVoltage, OhmsPerLength, Share, TrackWidth,
};
use super::per_white::{Alike, PerWhite, whites};
use super::words::{StripKind, Word};
use super::written::{Span, Written};
use crate::model::strip::{RailsKnown, RatedFeed};
use crate::quantity::voltage;
use schemars::JsonSchema;
use serde::Deserialize;

/// The keys that may tell of the rails: give one of them.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RailsKeys {
    /// The rails' resistance. Or give `copper`, `longest_run` or `bench`.
    rails: Option<RailsBlock>,
    /// The rails' copper.
    copper: Option<CopperBlock>,
    /// The maker's longest run.
    longest_run: Option<LongestRunBlock>,
    /// A reading on the bench.
    bench: Option<BenchBlock>,
}

/// The rails' resistance at working temperature.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct RailsBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Of the common plus rail.
    #[schemars(required)]
    common: Option<Written<OhmsPerLength>>,
    /// Of each channel's return rail.
    #[serde(rename = "return")]
    #[schemars(required)]
    returns: Option<PerWhite<Written<OhmsPerLength>>>,
}

/// The rails' copper.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct CopperBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Thickness of the copper, both sides together if both carry.
    #[schemars(required)]
    thickness: Option<Written<CopperThickness>>,
    /// Width of the plus track.
    #[schemars(required)]
    common_width: Option<Written<TrackWidth>>,
    /// Width of each return track.
    #[schemars(required)]
    return_width: Option<Written<TrackWidth>>,
}

/// The maker's longest run.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct LongestRunBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// That length.
    #[schemars(required)]
    length: Option<Written<Extent>>,
    /// The feed it is stated for.
    #[schemars(required)]
    feed: Option<Written<Word<RatedFeed>>>,
    /// The light lost at its darkest.
    #[schemars(required)]
    drop: Option<Written<Share>>,
}

/// A reading on the bench: one end fed, all channels on.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct BenchBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Length on the bench.
    #[schemars(required)]
    length: Option<Written<Extent>>,
    /// Voltage at the fed end.
    #[schemars(required)]
    volts_in: Option<Written<LowVoltage>>,
    /// Voltage at the far end.
    #[schemars(required)]
    volts_out: Option<Written<LowVoltage>>,
    /// Current into the strip.
    #[schemars(required)]
    current: Option<Written<Amperes>>,
}

/// What is known of the rails: at most one of four keys.
pub fn read(keys: &RailsKeys, kind: StripKind, desk: &mut Desk) -> Option<RailsKnown> {
    let given = [
        keys.rails.as_ref().map(|block| block.place),
        keys.copper.as_ref().map(|block| block.place),
        keys.longest_run.as_ref().map(|block| block.place),
        keys.bench.as_ref().map(|block| block.place),
    ];
    if let Some(second) = given.into_iter().flatten().nth(1) {
        let message = "give only one of `rails`, `copper`, `longest_run` and `bench`";
        desk.complain("rails-twice", message, second);
    }
    if let Some(block) = &keys.rails {
        return resistance(block, kind, desk);
    }
    if let Some(block) = &keys.copper {
        let thickness = desk.read(&block.thickness);
        let common_width = desk.read(&block.common_width);
        let return_width = desk.read(&block.return_width);
        return Some(RailsKnown::Copper {
            thickness: thickness?,
            common_width: common_width?,
            return_width: return_width?,
        });
    }
    if let Some(block) = &keys.longest_run {
        let length = desk.read(&block.length);
        let feed = desk.read(&block.feed);
        let drop = desk.read(&block.drop);
        return Some(RailsKnown::LongestRun {
            length: length?,
            feed: feed?,
            drop: drop?,
        });
    }
    keys.bench
        .as_ref()
        .map_or(Some(RailsKnown::Unknown), |block| bench(block, desk))
}

fn resistance(block: &RailsBlock, kind: StripKind, desk: &mut Desk) -> Option<RailsKnown> {
    let common = desk.read(&block.common);
    let returns = whites(&block.returns, "return", kind, Alike::May, desk);
    let count = if kind == StripKind::SingleColour {
        1
    } else {
        2
    };
    let returns: Option<Vec<_>> = returns.into_iter().take(count).collect();
    Some(RailsKnown::Resistance {
        common: common?,
        returns: returns?,
    })
}

fn bench(block: &BenchBlock, desk: &mut Desk) -> Option<RailsKnown> {
    let length = desk.read(&block.length);
    let volts_in = desk.read(&block.volts_in);
    let volts_out = desk.read(&block.volts_out);
    let current = desk.read(&block.current);
    let (volts_in, volts_out) = (volts_in?, volts_out?);
    if volts_out >= volts_in {
        let message = format!(
            "`volts_out` is {}, which must be below `volts_in`, {}",
            voltage::write(volts_out),
            voltage::write(volts_in)
        );
        desk.complain("voltage-order", message, block.place);
    }
    Some(RailsKnown::Bench {
        length: length?,
        volts_in,
        volts_out,
        current: current?,
    })
}

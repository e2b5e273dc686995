//! The keys of a strip case file.

use super::format::FormatNumber;
use super::measure::{
    Ambient, CableSize, CutLength, Distance, Extent, LowVoltage, LumensPerLength, WattsPerLength,
    White,
};
use super::words::{StripKind, Word};
use super::written::{Reads, Span, Unread, Written};
use crate::model::cable::Conductor;
use crate::model::strip::LightSource;
use crate::quantity::{Resistance, ResistancePerLength, resistance, resistance_per_length};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;
use uom::si::electrical_resistance::ohm;

/// A strip case file.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct StripCaseFile {
    #[serde(rename = "@")]
    #[schemars(skip)]
    pub(super) place: Span,
    /// The version of the file format: 1.
    #[schemars(required)]
    pub(super) format: Option<Written<FormatNumber>>,
    /// The driver's output voltage.
    #[schemars(required)]
    pub(super) supply: Option<Written<LowVoltage>>,
    /// The strip's length; fitted down to whole segments.
    #[schemars(required)]
    pub(super) length: Option<Written<Extent>>,
    /// The strip.
    #[schemars(required)]
    pub(super) strip: Option<StripKeys>,
    /// Its feeds.
    #[schemars(required)]
    pub(super) feeds: Option<Vec<FeedKeys>>,
}

/// A strip, as far as its light and its voltages need it.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct StripKeys {
    #[serde(rename = "@")]
    #[schemars(skip)]
    pub(super) place: Span,
    /// What white it gives.
    #[schemars(required)]
    pub(super) kind: Option<Written<Word<StripKind>>>,
    /// Nominal voltage.
    #[schemars(required)]
    pub(super) voltage: Option<Written<LowVoltage>>,
    /// Length of a cut segment.
    #[schemars(required)]
    pub(super) cut: Option<Written<CutLength>>,
    /// How current follows voltage.
    #[schemars(required)]
    pub(super) light_source: Option<Written<Word<LightSource>>>,
    /// Power per length of each channel alone, full on.
    #[schemars(required)]
    pub(super) power: Option<Each<WattsPerLength>>,
    /// Light per length of each channel.
    pub(super) flux: Option<Each<LumensPerLength>>,
    /// Colour temperature of each channel.
    pub(super) white: Option<Each<White>>,
    /// Voltage at which light starts. Without it a range is tried.
    pub(super) light_starts_at: Option<Each<LowVoltage>>,
    /// Voltage from which a regulated strip holds its current.
    pub(super) regulated_from: Option<Each<LowVoltage>>,
    /// The rails' resistance. Without it the poorest common one is taken.
    pub(super) rails: Option<RailKeys>,
}

/// One figure for every channel, or one for warm and one for cool.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
#[serde(bound = "")]
#[schemars(bound = "K: Reads")]
pub(super) enum Each<K> {
    One(Written<K>),
    Two(WarmCool<K>),
}

/// A figure of the warm and one of the cool channel.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(bound = "")]
#[schemars(deny_unknown_fields, bound = "K: Reads")]
pub(super) struct WarmCool<K> {
    /// Of the warm channel.
    #[schemars(required)]
    pub(super) warm: Option<Written<K>>,
    /// Of the cool channel.
    #[schemars(required)]
    pub(super) cool: Option<Written<K>>,
}

/// The rails' resistance at working temperature.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct RailKeys {
    /// Of the common plus rail.
    #[schemars(required)]
    pub(super) common: Option<Written<RailOhms>>,
    /// Of each channel's return rail.
    #[serde(rename = "return")]
    #[schemars(required)]
    pub(super) returns: Option<Each<RailOhms>>,
}

/// A feed: where, and through what.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct FeedKeys {
    #[serde(rename = "@")]
    #[schemars(skip)]
    pub(super) place: Span,
    /// Distance from the strip's start.
    #[schemars(required)]
    pub(super) at: Option<Written<Distance>>,
    /// Its cable. Or give `core`.
    pub(super) cable: Option<CableKeys>,
    /// The resistance of its cores.
    pub(super) core: Option<CoreKeys>,
}

/// A feed's cable.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct CableKeys {
    /// From driver to strip.
    #[schemars(required)]
    pub(super) length: Option<Written<Distance>>,
    /// Size of each core.
    #[schemars(required)]
    pub(super) area: Option<Written<CableSize>>,
    /// Size of each return core, where it differs.
    pub(super) return_area: Option<Written<CableSize>>,
    /// How the conductors are made.
    #[schemars(required)]
    pub(super) conductor: Option<Written<Word<Conductor>>>,
    /// Their temperature.
    #[schemars(required)]
    pub(super) temperature: Option<Written<Ambient>>,
}

/// The resistance of a feed's cores.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct CoreKeys {
    /// Of the plus core.
    #[schemars(required)]
    pub(super) plus: Option<Written<CoreOhms>>,
    /// Of each channel's return core.
    #[serde(rename = "return")]
    #[schemars(required)]
    pub(super) returns: Option<Each<CoreOhms>>,
}

/// Resistance per length of a rail, which may be nothing.
#[derive(Debug)]
pub struct RailOhms;

impl Reads for RailOhms {
    type Value = ResistancePerLength;
    const NAME: &'static str = "RailOhms";

    fn what() -> String {
        resistance_per_length::KIND.what.to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "examples": [resistance_per_length::KIND.example]})
    }

    fn read(text: &str) -> Result<ResistancePerLength, Unread> {
        let value = resistance_per_length::read(text)?;
        let most = resistance_per_length::ohms_per_metre(100.0);
        (ResistancePerLength::default()..=most)
            .contains(&value)
            .then_some(value)
            .ok_or_else(|| out_of_range(text, "100 ohm/m"))
    }
}

/// Resistance of a core, which may be nothing.
#[derive(Debug)]
pub(super) struct CoreOhms;

impl Reads for CoreOhms {
    type Value = Resistance;
    const NAME: &'static str = "CoreOhms";

    fn what() -> String {
        resistance::KIND.what.to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "examples": [resistance::KIND.example]})
    }

    fn read(text: &str) -> Result<Resistance, Unread> {
        let value = resistance::read(text)?;
        (Resistance::default()..=Resistance::new::<ohm>(1000.0))
            .contains(&value)
            .then_some(value)
            .ok_or_else(|| out_of_range(text, "1000 ohm"))
    }
}

fn out_of_range(text: &str, most: &str) -> Unread {
    let message = format!("`{text}` is out of range: it must be at least 0 and at most {most}");
    Unread::new("out-of-range", message)
}

//! What only some strips' datasheets say.

use super::desk::Desk;
use super::measure::{Ambient, CutLength, Extent, LowVoltage, Steps};
use super::words::Word;
use super::written::{Span, Written};
use crate::model::strip::{BendAllowed, BendWay, StripDetail};
use crate::quantity::{Voltage, voltage};
use schemars::JsonSchema;
use serde::Deserialize;

/// The keys of a strip that its sheet may leave out.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct StripDetailKeys {
    /// Longest section fed at one end; twice that may be fed at both ends or in the middle.
    longest_section: Option<Written<Extent>>,
    /// Most voltage it stands; 5 % above nominal is taken when left out.
    most_voltage: Option<Written<LowVoltage>>,
    /// The ambient it stands.
    ambient: Option<StripAmbientBlock>,
    /// How it may be bent.
    bend: Option<BendAllowedBlock>,
    /// Distance from one LED to the next.
    led_pitch: Option<Written<CutLength>>,
    /// Most colour difference between two reels of one delivery.
    bin: Option<Written<Steps>>,
}

/// The ambient a strip stands.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct StripAmbientBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// The coolest.
    least: Option<Written<Ambient>>,
    /// The hottest.
    most: Option<Written<Ambient>>,
}

/// How a strip may be bent.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct BendAllowedBlock {
    /// Which way: `face`, out of its plane, when left out.
    way: Option<Written<Word<BendWay>>>,
    /// The least radius.
    #[schemars(required)]
    radius: Option<Written<Extent>>,
}

/// Reads them.
pub fn read(keys: &StripDetailKeys, nominal: Option<Voltage>, desk: &mut Desk) -> StripDetail {
    let most_voltage = desk.read(&keys.most_voltage);
    if let (Some(written), Some(most), Some(nominal)) = (&keys.most_voltage, most_voltage, nominal)
        && most < nominal
    {
        let message = format!(
            "`most_voltage` is {}, below the nominal {}",
            voltage::write(most),
            voltage::write(nominal)
        );
        desk.complain("voltage-order", message, written.at);
    }
    let ambient = keys.ambient.as_ref();
    let least_ambient = ambient.and_then(|block| desk.read(&block.least));
    let most_ambient = ambient.and_then(|block| desk.read(&block.most));
    if let (Some(block), Some(least), Some(most)) = (ambient, least_ambient, most_ambient)
        && least >= most
    {
        let message = "the coolest ambient must be below the hottest";
        desk.complain("ambient-order", message, block.place);
    }
    StripDetail {
        longest_section: desk.read(&keys.longest_section),
        most_voltage,
        least_ambient,
        most_ambient,
        bend: keys.bend.as_ref().and_then(|block| bend(block, desk)),
        led_pitch: desk.read(&keys.led_pitch),
        bin: desk.read(&keys.bin),
    }
}

fn bend(block: &BendAllowedBlock, desk: &mut Desk) -> Option<BendAllowed> {
    let way = desk.read(&block.way).unwrap_or(BendWay::Face);
    let radius = desk.read(&block.radius)?;
    Some(BendAllowed { way, radius })
}

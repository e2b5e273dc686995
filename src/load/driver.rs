//! A driver of a catalogue.

use super::bus::{BusMarkingKeys, marking};
use super::desk::Desk;
use super::driver_mains::{self, MainsBlock};
use super::flicker::{self, FlickerBlock};
use super::measure::{
    Ambient, Amperes, AmperesOrNone, Distance, Extent, LowVoltage, Share, TerminalSize, Watts,
};
use super::offer::{self, CatalogueDefaults, OfferKeys};
use super::plain::{Count, Flag, NewName};
use super::words::Word;
use super::written::{Reads, Span, Unread, Written};
use crate::model::driver::{
    Driver, DriverBus, DriverDetail, DriverOutput, EmergencyPart, GearType, Mixing, Polarity,
    SafetyClass,
};
use crate::model::offer::ItemKind;
use crate::quantity::{Length, Ratio, Temperature};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;

/// A driver.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct DriverBlock {
    /// The id by which projects name it.
    #[schemars(required)]
    pub driver: Option<Written<NewName>>,
    /// Its output side.
    #[schemars(required)]
    output: Option<OutputBlock>,
    /// Its control bus side, or `none` for a driver that is only switched.
    #[schemars(required)]
    bus: Option<BusKey>,
    /// Its mains side.
    mains: Option<MainsBlock>,
    /// Its output terminals.
    terminals: Option<TerminalsBlock>,
    /// The ambient it stands.
    ambient: Option<AmbientBlock>,
    /// Share of its rating at higher ambients.
    derating: Option<Vec<DeratingRow>>,
    /// Least load it needs, of its rating.
    least_load: Option<Written<Share>>,
    /// Lowest light level it holds steadily.
    least_level: Option<Written<Share>>,
    /// The classes it is marked with.
    safety: Option<Vec<Written<Word<SafetyClass>>>>,
    /// Its outside.
    size: Option<SizeBlock>,
    /// Longest cable to a feed.
    longest_feed: Option<Written<Distance>>,
    /// How its light is modulated.
    flicker: Option<FlickerBlock>,
    #[serde(flatten)]
    offer: OfferKeys,
}

/// A driver's output side.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct OutputBlock {
    /// Output voltage.
    #[schemars(required)]
    voltage: Option<Written<LowVoltage>>,
    /// Rated power of all channels together.
    #[schemars(required)]
    power: Option<Written<Watts>>,
    /// Channels; 1 when left out.
    channels: Option<Written<Count>>,
    /// Most current of each channel.
    current_per_channel: Option<Written<Amperes>>,
    /// What may be on at once.
    mixing: Option<Written<Word<Mixing>>>,
    /// Whether its plus may be joined with another unit's, so that two single-channel units feed
    /// one tunable white strip.
    joins_plus: Option<Written<Flag>>,
    /// Rated power of each channel.
    power_per_channel: Option<Written<Watts>>,
    /// The conductor that its channels have in common.
    common: Option<Written<Word<Polarity>>>,
    /// Most that it is off its nominal voltage at any load, none included.
    tolerance: Option<Written<Share>>,
}

/// `none`, or the control bus side.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
enum BusKey {
    None(Written<NoneWord>),
    Block(Box<BusBlock>),
}

/// A driver's control bus side.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct BusBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Short addresses it takes; 1 when left out.
    addresses: Option<Written<Count>>,
    /// Current it draws from the bus.
    current: Option<Written<AmperesOrNone>>,
    /// What it controls; needed when there is more than one channel.
    colour: Option<Written<Word<GearType>>>,
    /// Its emergency part, if it has one.
    emergency: Option<EmergencyBlock>,
    #[serde(flatten)]
    marking: BusMarkingKeys,
}

/// The emergency part of a driver.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct EmergencyBlock {
    /// Short addresses it takes, of those that the driver takes in all.
    #[schemars(required)]
    addresses: Option<Written<Count>>,
    /// Whether function and duration tests can be started and read over the bus.
    tested: Option<Written<Flag>>,
}

/// A driver's output terminals.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct TerminalsBlock {
    /// The largest conductor they take.
    largest: Option<Written<TerminalSize>>,
}

/// The ambient a driver stands.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct AmbientBlock {
    /// The highest at full output.
    most: Option<Written<Ambient>>,
}

/// Share of the rating at an ambient.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct DeratingRow {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// The ambient.
    #[schemars(required)]
    at: Option<Written<Ambient>>,
    /// The share of the rating up to there.
    #[schemars(required)]
    share: Option<Written<Share>>,
}

/// A driver's outside.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct SizeBlock {
    /// Length.
    #[schemars(required)]
    length: Option<Written<Extent>>,
    /// Width.
    #[schemars(required)]
    width: Option<Written<Extent>>,
    /// Height.
    #[schemars(required)]
    height: Option<Written<Extent>>,
}

/// The word `none`.
#[derive(Debug)]
struct NoneWord;

impl Reads for NoneWord {
    type Value = ();
    const NAME: &'static str = "None";

    fn what() -> String {
        "`none`".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"const": "none"})
    }

    fn read(text: &str) -> Result<(), Unread> {
        if text == "none" {
            return Ok(());
        }
        let message = format!("`{text}` is neither `none` nor a mapping");
        Err(Unread::new("unknown-word", message))
    }
}

/// Reads a driver. `None` when it is not complete; then there is a complaint.
pub fn read(raw: &DriverBlock, defaults: &CatalogueDefaults, desk: &mut Desk) -> Option<Driver> {
    let offer = offer::read(&raw.driver, &raw.offer, ItemKind::Driver, defaults, desk);
    let output = raw.output.as_ref().and_then(|block| output(block, desk));
    let channels = output.as_ref().map(|output| output.channels);
    let bus = raw.bus.as_ref().and_then(|key| bus(key, channels, desk));
    let mains = driver_mains::read(raw.mains.as_ref(), desk);
    let largest_terminal = raw
        .terminals
        .as_ref()
        .and_then(|block| desk.read(&block.largest));
    let most_ambient = raw
        .ambient
        .as_ref()
        .and_then(|block| desk.read(&block.most));
    let derating = derating(raw.derating.as_deref().unwrap_or_default(), desk);
    let least_load = desk.read(&raw.least_load);
    let least_level = desk.read(&raw.least_level);
    let safety = raw.safety.as_ref().map(|marks| safety(marks, desk));
    let size = raw.size.as_ref().and_then(|block| size(block, desk));
    let detail = detail(raw, desk);
    Some(Driver {
        offer: offer?,
        output: output?,
        bus: bus?,
        mains,
        largest_terminal,
        most_ambient,
        derating,
        least_load,
        least_level,
        safety,
        size,
        detail,
    })
}

fn detail(raw: &DriverBlock, desk: &mut Desk) -> DriverDetail {
    let output = raw.output.as_ref();
    DriverDetail {
        common: output.and_then(|block| desk.read(&block.common)),
        tolerance: output.and_then(|block| desk.read(&block.tolerance)),
        power_per_channel: output.and_then(|block| desk.read(&block.power_per_channel)),
        longest_feed: desk.read(&raw.longest_feed),
        flicker: flicker::read(raw.flicker.as_ref(), desk),
    }
}

fn output(block: &OutputBlock, desk: &mut Desk) -> Option<DriverOutput> {
    let voltage = desk.read(&block.voltage);
    let power = desk.read(&block.power);
    let channels = desk.read(&block.channels);
    let current_per_channel = desk.read(&block.current_per_channel);
    let mixing = desk.read(&block.mixing);
    let joins_plus = desk.read(&block.joins_plus);
    Some(DriverOutput {
        voltage: voltage?,
        power: power?,
        channels: channels.unwrap_or(1),
        current_per_channel,
        mixing,
        joins_plus,
    })
}

/// The bus side: outer `None` when it can't be read, inner when the driver has none.
fn bus(key: &BusKey, channels: Option<usize>, desk: &mut Desk) -> Option<Option<DriverBus>> {
    let block = match key {
        BusKey::None(word) => return desk.one(word).map(|()| None),
        BusKey::Block(block) => block.as_ref(),
    };
    let addresses = desk.read(&block.addresses);
    let current = desk.read(&block.current);
    let gear = desk.read(&block.colour);
    if block.colour.is_none() && channels.is_some_and(|channels| channels > 1) {
        let message = "`colour` is missing: with more than one channel, say whether the bus \
                       controls `single` levels or `colour temperature`";
        desk.complain("missing-key", message, block.place);
    }
    Some(Some(DriverBus {
        addresses: addresses.unwrap_or(1),
        current,
        gear: gear.unwrap_or(GearType::Single),
        marking: marking(&block.marking, desk),
        emergency: block.emergency.as_ref().and_then(|block| {
            let tested = desk.read(&block.tested);
            let addresses = desk.read(&block.addresses)?;
            Some(EmergencyPart { addresses, tested })
        }),
    }))
}

/// Rising ambients with shares that don't rise.
fn derating(rows: &[DeratingRow], desk: &mut Desk) -> Vec<(Temperature, Ratio)> {
    let mut read: Vec<(Temperature, Ratio)> = Vec::new();
    for row in rows {
        let at = desk.read(&row.at);
        let share = desk.read(&row.share);
        let (Some(at), Some(share)) = (at, share) else {
            continue;
        };
        let in_order = read
            .last()
            .is_none_or(|(before, above)| *before < at && *above >= share);
        if !in_order {
            let message = "`derating` goes from cooler to hotter, and its shares don't rise";
            desk.complain("derating-order", message, row.place);
        }
        read.push((at, share));
    }
    read
}

fn safety(marks: &[Written<Word<SafetyClass>>], desk: &mut Desk) -> Vec<SafetyClass> {
    let mut classes: Vec<_> = marks.iter().filter_map(|mark| desk.one(mark)).collect();
    classes.sort_unstable();
    classes.dedup();
    classes
}

fn size(block: &SizeBlock, desk: &mut Desk) -> Option<[Length; 3]> {
    let length = desk.read(&block.length);
    let width = desk.read(&block.width);
    let height = desk.read(&block.height);
    Some([length?, width?, height?])
}

//! A strip of a catalogue.

use super::desk::Desk;
use super::measure::{
    Amperes, CopperThickness, CutLength, Extent, LowVoltage, LumensPerLength, OhmsPerLength, Share,
    TrackWidth, WattsPerLength, White,
};
use super::offer::{self, CatalogueDefaults, OfferKeys, StockKeys};
use super::plain::{Flag, NewName};
use super::words::{StripKind, Word};
use super::written::{Reads, Span, Unread, Written};
use crate::model::offer::{ItemKind, StockLength};
use crate::model::strip::{Channel, Channels, LightSource, RailsKnown, RatedFeed, Strip};
use crate::quantity::{Length, Voltage, length, voltage};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;

/// An LED strip.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct StripBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// The id by which projects name it.
    #[schemars(required)]
    pub strip: Option<Written<NewName>>,
    /// What white it gives.
    #[schemars(required)]
    kind: Option<Written<Word<StripKind>>>,
    /// Nominal voltage.
    #[schemars(required)]
    voltage: Option<Written<LowVoltage>>,
    /// Power per length of each channel alone, full on.
    #[schemars(required)]
    power: Option<PerWhite<Written<WattsPerLength>>>,
    /// Light per length of each channel.
    flux: Option<PerWhite<Written<LumensPerLength>>>,
    /// Colour temperature of each channel.
    white: Option<PerWhite<Written<White>>>,
    /// Length of a cut segment.
    #[schemars(required)]
    cut: Option<Written<CutLength>>,
    /// How current follows voltage.
    #[schemars(required)]
    light_source: Option<Written<Word<LightSource>>>,
    /// Voltage at which light starts: the LED string's own. Without it a value is assumed.
    light_starts_at: Option<PerWhite<Written<LowVoltage>>>,
    /// Voltage from which a regulated strip holds its current.
    regulated_from: Option<PerWhite<Written<LowVoltage>>>,
    /// The rails' resistance. Or give `copper`, `longest_run` or `bench`.
    rails: Option<RailsBlock>,
    /// The rails' copper.
    copper: Option<CopperBlock>,
    /// The maker's longest run.
    longest_run: Option<LongestRunBlock>,
    /// A reading on the bench.
    bench: Option<BenchBlock>,
    /// The reels it is sold in.
    #[schemars(required, length(min = 1))]
    reels: Option<Vec<StockKeys>>,
    /// Ingress protection after IEC 60529.
    ingress: Option<Written<Ingress>>,
    /// Most current that may enter at one feed.
    most_feed_current: Option<Written<Amperes>>,
    /// Least voltage at which its furthest segment works as specified.
    least_voltage: Option<Written<LowVoltage>>,
    /// Whether pieces may be joined within a section.
    joints: Option<Written<Flag>>,
    #[serde(flatten)]
    offer: OfferKeys,
}

/// One figure, or one for warm and one for cool white.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
enum PerWhite<T> {
    One(T),
    Each(WarmAndCool<T>),
}

/// A figure for each white.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct WarmAndCool<T> {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Of the warm channel.
    #[schemars(required)]
    warm: Option<T>,
    /// Of the cool channel.
    #[schemars(required)]
    cool: Option<T>,
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

/// Ingress protection: `IP20`, `IP67`.
#[derive(Debug)]
struct Ingress;

impl Reads for Ingress {
    type Value = (u8, u8);
    const NAME: &'static str = "Ingress";

    fn what() -> String {
        "an ingress protection".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "pattern": "^IP[0-6][0-9]$", "examples": ["IP20"]})
    }

    fn read(text: &str) -> Result<(u8, u8), Unread> {
        let numerals = text.strip_prefix("IP").map(str::as_bytes);
        match numerals {
            Some([solids @ b'0'..=b'6', water @ b'0'..=b'9']) => Ok((solids - b'0', water - b'0')),
            _ => {
                let message = format!(
                    "`{text}` is not an ingress protection: it is written `IP` and two numerals, \
                     0 to 6 and 0 to 9, as in `IP20`"
                );
                Err(Unread::new("bad-ingress", message))
            }
        }
    }
}

/// Reads a strip. `None` when it is not complete; then there is a complaint.
pub fn read(raw: &StripBlock, defaults: &CatalogueDefaults, desk: &mut Desk) -> Option<Strip> {
    let offer = offer::read(&raw.strip, &raw.offer, ItemKind::Strip, defaults, desk);
    offer::refuse_price(&raw.offer, "reels", desk);
    let kind = desk.read(&raw.kind);
    let voltage = desk.read(&raw.voltage);
    let cut = desk.read(&raw.cut);
    let light_source = desk.read(&raw.light_source);
    let ingress = desk.read(&raw.ingress);
    let most_feed_current = desk.read(&raw.most_feed_current);
    let least_voltage = desk.read(&raw.least_voltage);
    let joints = desk.read(&raw.joints);
    let reels = offer::stock(raw.reels.as_deref().unwrap_or_default(), desk);
    check_reels(raw, &reels, cut, desk);
    check_below(
        &raw.least_voltage,
        "least_voltage",
        least_voltage,
        voltage,
        desk,
    );
    let kind = kind?;
    let channels = channels(raw, kind, voltage, desk);
    let rails = rails(raw, kind, desk);
    Some(Strip {
        offer: offer?,
        voltage: voltage?,
        channels: channels?,
        cut: cut?,
        light_source: light_source?,
        rails: rails?,
        reels,
        ingress,
        most_feed_current,
        least_voltage,
        joints: joints.unwrap_or(false),
    })
}

fn check_reels(raw: &StripBlock, reels: &[StockLength], cut: Option<Length>, desk: &mut Desk) {
    let too_short = reels
        .iter()
        .find(|reel| cut.is_some_and(|cut| reel.length < cut));
    if let (Some(reel), Some(cut)) = (too_short, cut) {
        let reel = length::write(reel.length);
        let message = format!(
            "a reel of {reel} is shorter than one cut of {}",
            length::write(cut)
        );
        desk.complain("short-reel", message, raw.place);
    }
}

/// Complains when a voltage of the strip is not below its nominal voltage.
fn check_below(
    written: &Option<Written<LowVoltage>>,
    key: &str,
    found: Option<Voltage>,
    nominal: Option<Voltage>,
    desk: &mut Desk,
) {
    if let (Some(written), Some(found), Some(nominal)) = (written, found, nominal)
        && found >= nominal
    {
        let message = format!(
            "`{key}` is {}, which must be below the nominal {}",
            voltage::write(found),
            voltage::write(nominal)
        );
        desk.complain("voltage-order", message, written.at);
    }
}

/// The channels, from one figure each or one for each white.
fn channels(
    raw: &StripBlock,
    kind: StripKind,
    nominal: Option<Voltage>,
    desk: &mut Desk,
) -> Option<Channels> {
    let apart = Alike::No;
    let power = whites(&raw.power, "power", kind, apart, desk);
    let flux = whites(&raw.flux, "flux", kind, apart, desk);
    let white = whites(&raw.white, "white", kind, apart, desk);
    let starts = whites(
        &raw.light_starts_at,
        "light_starts_at",
        kind,
        Alike::May,
        desk,
    );
    let from = whites(
        &raw.regulated_from,
        "regulated_from",
        kind,
        Alike::May,
        desk,
    );
    check_voltages(raw, &starts, &from, nominal, desk);
    if let ([Some(warm), Some(cool)], Some(key), StripKind::TunableWhite) =
        (white, &raw.white, kind)
        && warm >= cool
    {
        let message = "the warm white must have fewer kelvin than the cool white";
        desk.complain("white-order", message, key.place());
    }
    let [warm_power, cool_power] = power;
    let [warm_flux, cool_flux] = flux;
    let [warm_white, cool_white] = white;
    let [warm_starts, cool_starts] = starts;
    let [warm_from, cool_from] = from;
    let warm = Channel {
        power: warm_power?,
        flux: warm_flux,
        white: warm_white,
        light_starts_at: warm_starts,
        regulated_from: warm_from,
    };
    if kind == StripKind::SingleColour {
        return Some(Channels::SingleColour(warm));
    }
    let cool = Channel {
        power: cool_power?,
        flux: cool_flux,
        white: cool_white,
        light_starts_at: cool_starts,
        regulated_from: cool_from,
    };
    Some(Channels::TunableWhite { warm, cool })
}

/// Whether one figure may stand for both whites.
#[derive(Clone, Copy, PartialEq)]
enum Alike {
    /// It would be unclear what it means.
    No,
    /// It holds for each.
    May,
}

/// The figures of the channels: of the warm (or only) one and of the cool one.
fn whites<K: Reads<Value: Copy>>(
    key: &Option<PerWhite<Written<K>>>,
    name: &str,
    kind: StripKind,
    alike: Alike,
    desk: &mut Desk,
) -> [Option<K::Value>; 2] {
    match (key, kind) {
        (None, _) => [None, None],
        (Some(PerWhite::One(one)), StripKind::SingleColour) => [desk.one(one), None],
        (Some(PerWhite::Each(each)), StripKind::SingleColour) => {
            let message =
                format!("a single colour strip has one `{name}`, not a warm and a cool one");
            desk.complain("per-white", message, each.place);
            [None, None]
        }
        (Some(PerWhite::One(one)), StripKind::TunableWhite) => {
            if alike == Alike::No {
                let message = format!(
                    "`{name}` of a tunable white strip is given for each white: \
                     `{{warm: …, cool: …}}`"
                );
                desk.complain("per-white", message, one.at);
            }
            let value = desk.one(one);
            [value, value]
        }
        (Some(PerWhite::Each(each)), StripKind::TunableWhite) => {
            [desk.read(&each.warm), desk.read(&each.cool)]
        }
    }
}

impl<K> PerWhite<Written<K>> {
    fn place(&self) -> Span {
        match self {
            PerWhite::One(one) => one.at,
            PerWhite::Each(each) => each.place,
        }
    }
}

/// Light starts below the voltage from which current is held, and that is at most the nominal.
fn check_voltages(
    raw: &StripBlock,
    starts: &[Option<Voltage>; 2],
    from: &[Option<Voltage>; 2],
    nominal: Option<Voltage>,
    desk: &mut Desk,
) {
    let at = raw.light_starts_at.as_ref().map(PerWhite::place);
    for (starts, from) in starts.iter().zip(from) {
        let (Some(starts), Some(at)) = (starts, at) else {
            continue;
        };
        let ceiling = [*from, nominal]
            .into_iter()
            .flatten()
            .find(|top| starts >= top);
        if let Some(top) = ceiling {
            let message = format!(
                "light can't start at {}: that must be below {}",
                voltage::write(*starts),
                voltage::write(top)
            );
            desk.complain("voltage-order", message, at);
            return;
        }
    }
    let highest = from
        .iter()
        .flatten()
        .find(|from| nominal.is_some_and(|nominal| **from > nominal));
    if let (Some(from), Some(key)) = (highest, &raw.regulated_from) {
        let message = format!(
            "`regulated_from` is {}, above the nominal voltage",
            voltage::write(*from)
        );
        desk.complain("voltage-order", message, key.place());
    }
}

/// What is known of the rails: at most one of four keys.
fn rails(raw: &StripBlock, kind: StripKind, desk: &mut Desk) -> Option<RailsKnown> {
    let given = [
        raw.rails.as_ref().map(|block| block.place),
        raw.copper.as_ref().map(|block| block.place),
        raw.longest_run.as_ref().map(|block| block.place),
        raw.bench.as_ref().map(|block| block.place),
    ];
    if let Some(second) = given.into_iter().flatten().nth(1) {
        let message = "give only one of `rails`, `copper`, `longest_run` and `bench`";
        desk.complain("rails-twice", message, second);
    }
    if let Some(block) = &raw.rails {
        return resistance(block, kind, desk);
    }
    if let Some(block) = &raw.copper {
        let thickness = desk.read(&block.thickness);
        let common_width = desk.read(&block.common_width);
        let return_width = desk.read(&block.return_width);
        return Some(RailsKnown::Copper {
            thickness: thickness?,
            common_width: common_width?,
            return_width: return_width?,
        });
    }
    if let Some(block) = &raw.longest_run {
        let length = desk.read(&block.length);
        let feed = desk.read(&block.feed);
        let drop = desk.read(&block.drop);
        return Some(RailsKnown::LongestRun {
            length: length?,
            feed: feed?,
            drop: drop?,
        });
    }
    raw.bench
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

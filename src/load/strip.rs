//! A strip of a catalogue.

use super::desk::Desk;
use super::measure::{Amperes, CutLength, LowVoltage, LumensPerLength, WattsPerLength, White};
use super::offer::{self, CatalogueDefaults, OfferKeys, StockKeys};
use super::per_white::{Alike, PerWhite, whites};
use super::plain::{Flag, NewName};
use super::rails::{self, RailsKeys};
use super::strip_detail::{self, StripDetailKeys};
use super::words::{StripKind, Word};
use super::written::{Reads, Span, Unread, Written};
use crate::model::offer::{ItemKind, StockLength};
use crate::model::strip::{Channel, Channels, LightSource, Strip};
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
    #[serde(flatten)]
    rails: RailsKeys,
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
    detail: StripDetailKeys,
    #[serde(flatten)]
    offer: OfferKeys,
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
    let detail = strip_detail::read(&raw.detail, voltage, desk);
    let kind = kind?;
    let channels = channels(raw, kind, voltage, desk);
    let rails = rails::read(&raw.rails, kind, desk);
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
        detail,
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

//! Settings of the mains circuits of a project.

use super::desk::Desk;
use super::measure::{Amperes, SpareShare};
use super::plain::Flag;
use super::run::{AutoOrName, item};
use super::shelf::Shelf;
use super::words::Word;
use super::written::{Reads, Span, Unread, Written};
use crate::diagnostic::Place;
use crate::model::Choice;
use crate::model::project::{Breaker, CircuitSettings, Curve};
use crate::model::protection::{MainsFeed, Premises, Protection, ResidualType};
use crate::norms::region::Region;
use crate::quantity::{Current, Ratio};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;
use uom::si::electric_current::milliampere;
use uom::si::ratio::percent;

/// Share of a breaker kept free when the project does not say (common practice, no source).
const SPARE_PERCENT: f64 = 20.0;
/// The breaker when the project does not say (common practice, no source).
const BREAKER: Breaker = Breaker {
    curve: Curve::B,
    amperes: 16,
};
/// The residual current device when the project does not say, outside north-america.
const RESIDUAL_MA: f64 = 30.0;
/// Breaker ratings: preferred values of IEC 60898-1 with the 15 A and 20 A of north-america
/// (from memory).
const RATINGS: [u32; 11] = [6, 10, 13, 15, 16, 20, 25, 30, 32, 40, 50];

/// How mains circuits are laid out.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct CircuitsBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// The breaker of each circuit: curve and amperes; B16 when left out.
    breaker: Option<Written<BreakerName>>,
    /// Share of the breaker kept free; 20 % when left out.
    spare: Option<Written<SpareShare>>,
    /// Rated residual current of the device that protects each circuit, or `none`.
    residual: Option<Written<Residual>>,
    /// Its type: what residual currents it answers to.
    residual_type: Option<Written<Word<ResidualType>>>,
    /// What the circuits are in: a `dwelling`, or something `other`.
    premises: Option<Written<Word<Premises>>>,
    /// How the drivers' circuits are fed: `permanent` or `switched`.
    feed: Option<Written<Word<MainsFeed>>>,
    /// Mains cable, or `auto`.
    cable: Option<Written<AutoOrName>>,
    /// Whether one circuit may serve two cupboards; no when left out.
    share_cupboards: Option<Written<Flag>>,
    /// Whether the circuits of a room may be on several phases, for level phases; no when left out.
    spread_rooms: Option<Written<Flag>>,
}

/// A breaker: `B16`.
#[derive(Debug)]
pub struct BreakerName;

impl Reads for BreakerName {
    type Value = Breaker;
    const NAME: &'static str = "Breaker";

    fn what() -> String {
        "a breaker".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "pattern": "^[BCD][0-9]+$", "examples": ["B16", "C10"]})
    }

    fn read(text: &str) -> Result<Breaker, Unread> {
        let curves = [("B", Curve::B), ("C", Curve::C), ("D", Curve::D)];
        let split = curves
            .into_iter()
            .find_map(|(letter, curve)| Some((curve, text.strip_prefix(letter)?)));
        let read = split.and_then(|(curve, amperes)| {
            let amperes = amperes
                .parse()
                .ok()
                .filter(|number| RATINGS.contains(number))?;
            Some(Breaker { curve, amperes })
        });
        read.ok_or_else(|| {
            let ratings = RATINGS.map(|rating| rating.to_string()).join(", ");
            let message = format!(
                "`{text}` is not a breaker: it is a curve, B, C or D, and a rating in amperes, \
                 as in `B16` (ratings: {ratings})"
            );
            Unread::new("bad-breaker", message)
        })
    }
}

/// A rated residual current, or `none`.
#[derive(Debug)]
struct Residual;

impl Reads for Residual {
    type Value = Option<Current>;
    const NAME: &'static str = "Residual";

    fn what() -> String {
        "a residual current or `none`".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "examples": ["30 mA", "none"]})
    }

    fn read(text: &str) -> Result<Option<Current>, Unread> {
        if text == "none" {
            return Ok(None);
        }
        Amperes::read(text).map(Some)
    }
}

/// Reads the settings of the circuits; `file` is where they stand when there are none.
pub fn read(
    block: Option<&CircuitsBlock>,
    region: Region,
    shelf: &mut Shelf,
    desk: &mut Desk,
    file: Place,
) -> Option<CircuitSettings> {
    let residual = match region {
        Region::Iec | Region::AusNz => Some(Current::new::<milliampere>(RESIDUAL_MA)),
        Region::NorthAmerica => None,
    };
    let mut settings = CircuitSettings {
        breaker: BREAKER,
        spare: Ratio::new::<percent>(SPARE_PERCENT),
        residual,
        protection: Protection::default(),
        cable: Choice::Auto,
        share_cupboards: false,
        spread_rooms: false,
        place: file,
    };
    let Some(block) = block else {
        return Some(settings);
    };
    settings.place = desk.place(block.place);
    settings.breaker = desk.read(&block.breaker).unwrap_or(settings.breaker);
    settings.spare = desk.read(&block.spare).unwrap_or(settings.spare);
    settings.residual = desk.read(&block.residual).unwrap_or(settings.residual);
    settings.protection = Protection {
        residual_type: desk.read(&block.residual_type),
        premises: desk.read(&block.premises),
        feed: desk.read(&block.feed),
    };
    settings.share_cupboards = desk.read(&block.share_cupboards).unwrap_or(false);
    settings.spread_rooms = desk.read(&block.spread_rooms).unwrap_or(false);
    let cable = item(&block.cable, "circuits", shelf, desk);
    Some(CircuitSettings {
        cable: cable?,
        ..settings
    })
}

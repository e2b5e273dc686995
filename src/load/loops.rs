//! Settings of the control loops of a project.

use super::desk::Desk;
use super::measure::{Ambient, SpareShare};
use super::plain::{Count, Flag, Name};
use super::run::{AutoOrName, item};
use super::shelf::Shelf;
use super::site::Places;
use super::words::Word;
use super::written::{OneOrMany, Span, Written};
use crate::diagnostic::Place;
use crate::model::Choice;
use crate::model::project::{BusWiring, LoopSettings, Topology};
use crate::quantity::{Ratio, Temperature};
use schemars::JsonSchema;
use serde::Deserialize;
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Share kept free when the project does not say (common practice, no source).
const SPARE_PERCENT: f64 = 15.0;
/// Temperature of bus cable when the project does not say (common practice, no source).
const BUS_CELSIUS: f64 = 40.0;

/// How control loops are laid out.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct LoopsBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Share of addresses and current kept free; 15 % when left out.
    spare: Option<Written<SpareShare>>,
    /// Whether a room's devices stay on one loop; yes when left out.
    keep_rooms_whole: Option<Written<Flag>>,
    /// How bus cable is laid; `free` when left out.
    topology: Option<Written<Word<Topology>>>,
    /// Bus cable, or `auto`.
    cable: Option<Written<AutoOrName>>,
    /// Loop controller, or `auto`.
    controller: Option<Written<AutoOrName>>,
    /// Separate supply of each loop, or `auto`.
    supply: Option<Written<AutoOrName>>,
    /// Where controllers stand: a point or a list; the first panel when left out.
    at: Option<OneOrMany<Written<Name>>>,
    /// A fixed number of loops; the fewest when left out.
    count: Option<Written<Count>>,
    /// How the bus is wired in north-america: `class 1`, or `class 2` where every unit is listed so.
    wiring: Option<Written<Word<BusWiring>>>,
    /// Temperature of the bus conductors; 40 °C when left out.
    temperature: Option<Written<Ambient>>,
}

/// Reads the settings of the loops; `file` is where they stand when there are none.
pub fn read(
    block: Option<&LoopsBlock>,
    places: &Places,
    shelf: &mut Shelf,
    desk: &mut Desk,
    file: Place,
) -> Option<LoopSettings> {
    let mut settings = LoopSettings {
        spare: Ratio::new::<percent>(SPARE_PERCENT),
        keep_rooms_whole: true,
        topology: Topology::Free,
        cable: Choice::Auto,
        controller: Choice::Auto,
        supply: Choice::Auto,
        at: Vec::new(),
        count: None,
        wiring: None,
        temperature: Temperature::new::<degree_celsius>(BUS_CELSIUS),
        place: file,
    };
    let Some(block) = block else {
        return Some(settings);
    };
    settings.place = desk.place(block.place);
    settings.spare = desk.read(&block.spare).unwrap_or(settings.spare);
    let whole = desk.read(&block.keep_rooms_whole);
    settings.keep_rooms_whole = whole.unwrap_or(settings.keep_rooms_whole);
    settings.topology = desk.read(&block.topology).unwrap_or(settings.topology);
    settings.count = desk.read(&block.count);
    settings.wiring = desk.read(&block.wiring);
    let temperature = desk.read(&block.temperature);
    settings.temperature = temperature.unwrap_or(settings.temperature);
    let at = block.at.as_ref().map(OneOrMany::list).unwrap_or_default();
    let points = at.into_iter();
    settings.at = points
        .filter_map(|name| places.find(name, "loops", &[], desk))
        .collect();
    let cable = item(&block.cable, "loops", shelf, desk);
    let controller = item(&block.controller, "loops", shelf, desk);
    let supply = item(&block.supply, "loops", shelf, desk);
    Some(LoopSettings {
        cable: cable?,
        controller: controller?,
        supply: supply?,
        ..settings
    })
}

//! Controllers, bus supplies and control devices of a catalogue.

use super::desk::Desk;
use super::measure::{Amperes, AmperesOrNone, White};
use super::offer::{self, CatalogueDefaults, OfferKeys};
use super::plain::{Count, Flag, NewName};
use super::words::Word;
use super::written::{Span, Written};
use crate::model::bus::{
    BusInsulation, BusMarking, BusSupply, ControlDevice, Controller, SupplyCurrent,
};
use crate::model::offer::ItemKind;
use crate::quantity::{Current, Temperature};
use schemars::JsonSchema;
use serde::Deserialize;

/// A loop controller.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct ControllerBlock {
    /// The id by which projects name it.
    #[schemars(required)]
    pub controller: Option<Written<NewName>>,
    /// Loops it serves.
    #[schemars(required)]
    loops: Option<Written<Count>>,
    /// Its built-in supply on each loop.
    supply: Option<SupplyBlock>,
    /// Whether it can drive one group across its loops; no when left out.
    joins_loops: Option<Written<Flag>>,
    /// The range of whites it can be told: warmest, coolest.
    whites: Option<Vec<Written<White>>>,
    /// Its mains side.
    mains: Option<BusMainsBlock>,
    #[serde(flatten)]
    offer: OfferKeys,
}

/// What a supply delivers.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct SupplyBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Current it can always deliver.
    #[schemars(required)]
    guaranteed: Option<Written<Amperes>>,
    /// Most current it may deliver.
    #[schemars(required)]
    maximum: Option<Written<Amperes>>,
}

/// A mains side.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct BusMainsBlock {
    /// Mains current it draws.
    current: Option<Written<Amperes>>,
}

/// A separate supply for one loop.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct BusSupplyBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// The id by which projects name it.
    #[schemars(required)]
    pub bus_supply: Option<Written<NewName>>,
    /// Current it can always deliver.
    #[schemars(required)]
    guaranteed: Option<Written<Amperes>>,
    /// Most current it may deliver.
    #[schemars(required)]
    maximum: Option<Written<Amperes>>,
    /// Its mains side.
    mains: Option<BusMainsBlock>,
    #[serde(flatten)]
    offer: OfferKeys,
}

/// A sensor, wall panel or other control device.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct ControlDeviceBlock {
    /// The id by which projects name it.
    #[schemars(required)]
    pub control_device: Option<Written<NewName>>,
    /// Short addresses it takes; 1 when left out.
    addresses: Option<Written<Count>>,
    /// Current it draws from the bus.
    current: Option<Written<AmperesOrNone>>,
    #[serde(flatten)]
    marking: BusMarkingKeys,
    #[serde(flatten)]
    offer: OfferKeys,
}

/// What a unit's sheet says of its bus side; part of the unit's own block.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct BusMarkingKeys {
    /// Insulation between its bus terminals and what can be touched on it.
    insulation: Option<Written<Word<BusInsulation>>>,
    /// Whether its bus side is listed for Class 2 wiring (north-america).
    class_2: Option<Written<Flag>>,
}

/// Reads what a unit's sheet says of its bus side.
pub fn marking(keys: &BusMarkingKeys, desk: &mut Desk) -> BusMarking {
    BusMarking {
        insulation: desk.read(&keys.insulation),
        class_2: desk.read(&keys.class_2),
    }
}

/// Reads a controller. `None` when it is not complete; then there is a complaint.
pub fn controller(
    raw: &ControllerBlock,
    defaults: &CatalogueDefaults,
    desk: &mut Desk,
) -> Option<Controller> {
    let offer = offer::read(
        &raw.controller,
        &raw.offer,
        ItemKind::Controller,
        defaults,
        desk,
    );
    let loops = desk.read(&raw.loops);
    let supply = raw.supply.as_ref().and_then(|block| {
        let guaranteed = desk.read(&block.guaranteed);
        let maximum = desk.read(&block.maximum);
        supply_current(guaranteed?, maximum?, block.place, desk)
    });
    let joins_loops = desk.read(&raw.joins_loops);
    let whites = raw.whites.as_ref().and_then(|list| whites(list, desk));
    let mains_current = mains_current(&raw.mains, desk);
    Some(Controller {
        offer: offer?,
        loops: loops?,
        supply,
        joins_loops: joins_loops.unwrap_or(false),
        whites,
        mains_current,
    })
}

/// Reads a bus supply. `None` when it is not complete; then there is a complaint.
pub fn bus_supply(
    raw: &BusSupplyBlock,
    defaults: &CatalogueDefaults,
    desk: &mut Desk,
) -> Option<BusSupply> {
    let offer = offer::read(
        &raw.bus_supply,
        &raw.offer,
        ItemKind::BusSupply,
        defaults,
        desk,
    );
    let guaranteed = desk.read(&raw.guaranteed);
    let maximum = desk.read(&raw.maximum);
    let mains_current = mains_current(&raw.mains, desk);
    let supply = supply_current(guaranteed?, maximum?, raw.place, desk);
    Some(BusSupply {
        offer: offer?,
        supply: supply?,
        mains_current,
    })
}

/// Reads a control device. `None` when it is not complete; then there is a complaint.
pub fn control_device(
    raw: &ControlDeviceBlock,
    defaults: &CatalogueDefaults,
    desk: &mut Desk,
) -> Option<ControlDevice> {
    let kind = ItemKind::ControlDevice;
    let offer = offer::read(&raw.control_device, &raw.offer, kind, defaults, desk);
    let addresses = desk.read(&raw.addresses);
    let current = desk.read(&raw.current);
    let marking = marking(&raw.marking, desk);
    Some(ControlDevice {
        offer: offer?,
        addresses: addresses.unwrap_or(1),
        current,
        marking,
    })
}

fn supply_current(
    guaranteed: Current,
    maximum: Current,
    place: Span,
    desk: &mut Desk,
) -> Option<SupplyCurrent> {
    if guaranteed > maximum {
        let message = "`guaranteed` current can't be above the `maximum`";
        desk.complain("supply-order", message, place);
        return None;
    }
    Some(SupplyCurrent {
        guaranteed,
        maximum,
    })
}

fn whites(list: &[Written<White>], desk: &mut Desk) -> Option<(Temperature, Temperature)> {
    let read: Vec<_> = list.iter().filter_map(|white| desk.one(white)).collect();
    match read.as_slice() {
        [warmest, coolest] if warmest < coolest => Some((*warmest, *coolest)),
        _ if read.len() < list.len() => None,
        _ => {
            let place = list.first().map(|white| white.at).unwrap_or_default();
            let message = "`whites` is the warmest and the coolest, as in `[2700 K, 6500 K]`";
            desk.complain("white-order", message, place);
            None
        }
    }
}

fn mains_current(block: &Option<BusMainsBlock>, desk: &mut Desk) -> Option<Current> {
    block.as_ref().and_then(|block| desk.read(&block.current))
}

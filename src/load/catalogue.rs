//! A catalogue file.

use super::bus::{self, BusSupplyBlock, ControlDeviceBlock, ControllerBlock};
use super::cable::{self, CableBlock};
use super::desk::Desk;
use super::driver::{self, DriverBlock};
use super::extra::{self, AccessoryBlock, ProfileBlock};
use super::format::FormatNumber;
use super::offer::CatalogueDefaults;
use super::plain::{Currency, Day, Text};
use super::shelf::Shelf;
use super::strip::{self, StripBlock};
use super::written::Written;
use schemars::JsonSchema;
use serde::Deserialize;

/// A catalogue of what can be bought.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct CatalogueFile {
    /// The format of this file.
    #[schemars(required)]
    #[expect(
        dead_code,
        reason = "checked before the rest is read; here for the schema"
    )]
    format: Option<Written<FormatNumber>>,
    /// What holds for the whole file.
    #[schemars(required)]
    catalogue: Option<CatalogueBlock>,
    /// LED strips.
    #[serde(default)]
    strips: Vec<StripBlock>,
    /// Drivers.
    #[serde(default)]
    drivers: Vec<DriverBlock>,
    /// Cables.
    #[serde(default)]
    cables: Vec<CableBlock>,
    /// Loop controllers.
    #[serde(default)]
    controllers: Vec<ControllerBlock>,
    /// Separate supplies for loops.
    #[serde(default)]
    bus_supplies: Vec<BusSupplyBlock>,
    /// Sensors, wall panels and other control devices.
    #[serde(default)]
    control_devices: Vec<ControlDeviceBlock>,
    /// Profiles.
    #[serde(default)]
    profiles: Vec<ProfileBlock>,
    /// Connectors, end caps and whatever else is counted by a rule.
    #[serde(default)]
    accessories: Vec<AccessoryBlock>,
}

/// What holds for a whole catalogue.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct CatalogueBlock {
    /// Its title.
    #[schemars(required)]
    title: Option<Written<Text>>,
    /// The currency of its prices.
    #[schemars(required)]
    currency: Option<Written<Currency>>,
    /// Last day on which its prices hold.
    price_valid_until: Option<Written<Day>>,
    /// Who sells its items.
    supplier: Option<Written<Text>>,
}

/// Reads a catalogue file onto the shelf.
pub fn read(raw: &CatalogueFile, shelf: &mut Shelf, desk: &mut Desk) {
    let defaults = match &raw.catalogue {
        Some(block) => head(block, shelf, desk),
        None => CatalogueDefaults::default(),
    };
    for block in &raw.strips {
        let item = strip::read(block, &defaults, desk);
        shelf.put(&block.strip, item, desk);
    }
    for block in &raw.drivers {
        let item = driver::read(block, &defaults, desk);
        shelf.put(&block.driver, item, desk);
    }
    for block in &raw.cables {
        let item = cable::read(block, &defaults, desk);
        shelf.put(&block.cable, item, desk);
    }
    for block in &raw.controllers {
        let item = bus::controller(block, &defaults, desk);
        shelf.put(&block.controller, item, desk);
    }
    for block in &raw.bus_supplies {
        let item = bus::bus_supply(block, &defaults, desk);
        shelf.put(&block.bus_supply, item, desk);
    }
    for block in &raw.control_devices {
        let item = bus::control_device(block, &defaults, desk);
        shelf.put(&block.control_device, item, desk);
    }
    for block in &raw.profiles {
        let item = extra::profile(block, &defaults, desk);
        shelf.put(&block.profile, item, desk);
    }
    for block in &raw.accessories {
        let item = extra::accessory(block, &defaults, shelf, desk);
        shelf.put(&block.accessory, item, desk);
    }
}

/// Reads what holds for the whole file; its currency must be that of the catalogues before it.
fn head(block: &CatalogueBlock, shelf: &mut Shelf, desk: &mut Desk) -> CatalogueDefaults {
    let catalogue = &mut shelf.catalogue;
    catalogue.titles.extend(desk.read(&block.title));
    if let (Some(written), Some(currency)) = (&block.currency, desk.read(&block.currency)) {
        if catalogue.currency.is_empty() {
            catalogue.currency = currency;
        } else if catalogue.currency != currency {
            let message = format!(
                "prices in {currency}, but the catalogues before it are in {}: \
                 all catalogues of a project use one currency",
                catalogue.currency
            );
            desk.complain("currency", message, written.at);
        }
    }
    CatalogueDefaults {
        price_valid_until: desk.read(&block.price_valid_until),
        supplier: desk.read(&block.supplier),
    }
}

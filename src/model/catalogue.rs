//! All catalogues of a project as one.

use super::bus::{BusSupply, ControlDevice, Controller};
use super::cable::Cable;
use super::driver::Driver;
use super::extra::{Accessory, Profile};
use super::offer::{ItemKind, Offer};
use super::strip::Strip;
use std::sync::Arc;

/// What can be bought. Each list is in the order of the files.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Catalogue {
    /// Currency code, the same in all files of a project.
    pub currency: String,
    /// The files' titles.
    pub titles: Vec<String>,
    /// LED strips.
    pub strips: Vec<Arc<Strip>>,
    /// Drivers.
    pub drivers: Vec<Arc<Driver>>,
    /// Cables.
    pub cables: Vec<Arc<Cable>>,
    /// Loop controllers.
    pub controllers: Vec<Arc<Controller>>,
    /// Bus supplies.
    pub bus_supplies: Vec<Arc<BusSupply>>,
    /// Control devices.
    pub control_devices: Vec<Arc<ControlDevice>>,
    /// Profiles.
    pub profiles: Vec<Arc<Profile>>,
    /// Accessories.
    pub accessories: Vec<Arc<Accessory>>,
}

impl Catalogue {
    /// The offer of that kind and id.
    #[must_use]
    pub fn offer(&self, kind: ItemKind, id: &str) -> Option<&Offer> {
        self.offers()
            .find(|offer| offer.kind == kind && offer.id == id)
    }

    /// Every offer, kind by kind in listing order.
    pub fn offers(&self) -> impl Iterator<Item = &Offer> {
        let strips = self.strips.iter().map(|item| &item.offer);
        let drivers = self.drivers.iter().map(|item| &item.offer);
        let cables = self.cables.iter().map(|item| &item.offer);
        let controllers = self.controllers.iter().map(|item| &item.offer);
        let bus_supplies = self.bus_supplies.iter().map(|item| &item.offer);
        let control_devices = self.control_devices.iter().map(|item| &item.offer);
        let profiles = self.profiles.iter().map(|item| &item.offer);
        let accessories = self.accessories.iter().map(|item| &item.offer);
        strips
            .chain(drivers)
            .chain(cables)
            .chain(controllers)
            .chain(bus_supplies)
            .chain(control_devices)
            .chain(profiles)
            .chain(accessories)
    }
}

//! All catalogues of a project as one.

use super::bus::{BusSupply, ControlDevice, Controller};
use super::cable::Cable;
use super::driver::Driver;
use super::extra::{Accessory, Profile};
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

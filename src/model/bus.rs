//! Control bus equipment: controllers, bus supplies, control devices.

use super::offer::Offer;
use crate::quantity::{Current, Temperature};

/// What a bus supply can deliver.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SupplyCurrent {
    /// Current it can always deliver: what a loop is sized by.
    pub guaranteed: Current,
    /// Most current it may deliver: what the sum of a loop's supplies is limited by.
    pub maximum: Current,
}

/// Insulation between the bus terminals of a unit and what can be touched on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BusInsulation {
    /// Enough to work, no protection against shock.
    Functional,
    /// Basic insulation.
    Basic,
    /// Double insulation.
    Double,
    /// Reinforced insulation.
    Reinforced,
}

impl BusInsulation {
    /// All, from the least.
    pub const ALL: [BusInsulation; 4] = [
        BusInsulation::Functional,
        BusInsulation::Basic,
        BusInsulation::Double,
        BusInsulation::Reinforced,
    ];

    /// The word used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            BusInsulation::Functional => "functional",
            BusInsulation::Basic => "basic",
            BusInsulation::Double => "double",
            BusInsulation::Reinforced => "reinforced",
        }
    }
}

/// What a unit's sheet says of its bus side; each `None` when it does not.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct BusMarking {
    /// Insulation between its bus terminals and what can be touched.
    pub insulation: Option<BusInsulation>,
    /// Whether its bus side is listed for Class 2 wiring (north-america).
    pub class_2: Option<bool>,
}

/// A loop controller.
#[derive(Debug, Clone, PartialEq)]
pub struct Controller {
    /// Id, price, delivery.
    pub offer: Offer,
    /// Loops it serves.
    pub loops: usize,
    /// Its built-in supply on each loop, if it has one.
    pub supply: Option<SupplyCurrent>,
    /// Whether it can drive one group across its loops.
    pub joins_loops: bool,
    /// The range of whites it can be told, coolest last; `None` when it sends no colour.
    pub whites: Option<(Temperature, Temperature)>,
    /// Mains current it draws.
    pub mains_current: Option<Current>,
}

/// A separate supply for one loop.
#[derive(Debug, Clone, PartialEq)]
pub struct BusSupply {
    /// Id, price, delivery.
    pub offer: Offer,
    /// What it delivers.
    pub supply: SupplyCurrent,
    /// Mains current it draws.
    pub mains_current: Option<Current>,
}

/// A sensor, wall panel or other control device.
#[derive(Debug, Clone, PartialEq)]
pub struct ControlDevice {
    /// Id, price, delivery.
    pub offer: Offer,
    /// Short addresses it takes among the control devices.
    pub addresses: usize,
    /// Current it draws from the bus; `None` when the sheet does not say.
    pub current: Option<Current>,
    /// What its sheet says of its bus side.
    pub marking: BusMarking,
}

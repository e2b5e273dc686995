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
}

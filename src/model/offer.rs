//! What every catalogue item has: name, price, packs, delivery, labour.

use crate::diagnostic::Place;
use crate::quantity::{Length, Time};
use rust_decimal::Decimal;
use time::Date;

/// Kinds of catalogue item, in the order in which materials are listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ItemKind {
    /// LED strip.
    Strip,
    /// LED driver.
    Driver,
    /// Cable of any use.
    Cable,
    /// Loop controller.
    Controller,
    /// Power supply of a control bus.
    BusSupply,
    /// Sensor, wall panel or other control device.
    ControlDevice,
    /// Profile (extrusion with diffuser).
    Profile,
    /// Connector, end cap, label, breaker and so on.
    Accessory,
}

impl ItemKind {
    /// All kinds, in listing order.
    pub const ALL: [ItemKind; 8] = [
        ItemKind::Strip,
        ItemKind::Driver,
        ItemKind::Cable,
        ItemKind::Controller,
        ItemKind::BusSupply,
        ItemKind::ControlDevice,
        ItemKind::Profile,
        ItemKind::Accessory,
    ];

    /// The word used in files (`pricing.spares`, `pricing.discount`) and in JSON.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            ItemKind::Strip => "strip",
            ItemKind::Driver => "driver",
            ItemKind::Cable => "cable",
            ItemKind::Controller => "controller",
            ItemKind::BusSupply => "bus_supply",
            ItemKind::ControlDevice => "control_device",
            ItemKind::Profile => "profile",
            ItemKind::Accessory => "accessory",
        }
    }
}

/// A price that holds from a quantity on (all units at that price).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PriceStep {
    /// Least quantity; the first step of a ladder has 1.
    pub from: Decimal,
    /// Price of one unit (piece, or metre for cable sold by the metre).
    pub price: Decimal,
}

/// A length in which something is sold whole: a reel of strip, a drum of cable, a profile bar.
#[derive(Debug, Clone, PartialEq)]
pub struct StockLength {
    /// Its length.
    pub length: Length,
    /// Price steps by how many of this length are bought; empty when the catalogue gives no price.
    pub prices: Vec<PriceStep>,
    /// How many can be had; `None` for no limit.
    pub available: Option<usize>,
}

impl StockLength {
    /// The price of a single one; `None` when the catalogue does not say.
    #[must_use]
    pub fn price(&self) -> Option<Decimal> {
        self.prices.first().map(|step| step.price)
    }
}

/// Name, price and delivery of a catalogue item.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// The id by which the project names it.
    pub id: String,
    /// What it is, in words; the id when the catalogue gives none.
    pub description: String,
    /// What kind of item it is.
    pub kind: ItemKind,
    /// Price steps by quantity, rising `from`; empty when there is no price (then it may be in
    /// `StockLength`).
    pub prices: Vec<PriceStep>,
    /// Units in a pack; bought in whole packs. Of what is sold in lengths: lengths in a pack.
    pub pack: usize,
    /// Smallest quantity the supplier sells; of each length, for what is sold in lengths.
    pub smallest_order: usize,
    /// Days from order to delivery.
    pub lead_time_days: Option<u32>,
    /// Work to fit one unit (piece; metre for strip, cable and profile).
    pub labour: Option<Time>,
    /// Last day on which the price holds: the item's, or else its catalogue's.
    pub price_valid_until: Option<Date>,
    /// Who sells it, for the order list.
    pub supplier: Option<String>,
    /// Where it stands in its catalogue.
    pub place: Place,
}

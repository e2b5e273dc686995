//! Outputs wanted packed into drivers at least cost, as a problem of whole numbers.
//!
//! Loads are whole deciwatts. A driver takes loads while their sum is within what is usable of its
//! rating, and their outputs within its outputs.

use super::filling::{Kind, Thing, fill};
use num_traits::ToPrimitive;

/// A driver that can be bought, as many as needed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unit {
    /// What may be loaded on it, in deciwatts: rating times usable share, rounded down.
    pub usable: u64,
    /// Its outputs; `None` when they don't limit.
    pub outputs: Option<usize>,
    /// Its price in the smallest unit of the currency.
    pub price_minor: u64,
}

/// Something that hangs on one driver.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Load {
    /// In deciwatts.
    pub power: u64,
    /// Outputs it takes.
    pub outputs: usize,
}

/// A driver with its loads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loaded {
    /// Index of the unit.
    pub unit: usize,
    /// Indices of the loads, rising.
    pub loads: Vec<usize>,
}

/// All loads on drivers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packing {
    /// The drivers.
    pub drivers: Vec<Loaded>,
    /// What they cost.
    pub price_minor: u64,
    /// Whether no packing is cheaper, nor as cheap with fewer drivers.
    pub optimal: bool,
    /// No packing costs less than this.
    pub bound_minor: u64,
}

/// Packs `loads` into the cheapest `units`, then the fewest. `None` when a load fits no unit.
#[must_use]
pub fn pack(units: &[Unit], loads: &[Load]) -> Option<Packing> {
    let kinds: Vec<Kind> = units
        .iter()
        .map(|unit| Kind {
            room: [unit.usable, outputs(unit.outputs)],
            price: unit.price_minor,
            available: None,
        })
        .collect();
    let limited = units.iter().any(|unit| unit.outputs.is_some());
    let things: Vec<Thing> = loads
        .iter()
        .map(|load| Thing {
            size: [
                load.power,
                if limited {
                    outputs(Some(load.outputs))
                } else {
                    0
                },
            ],
            count: 1,
        })
        .collect();
    let filling = fill(&kinds, &things)?;
    let drivers = filling
        .containers
        .iter()
        .map(|container| Loaded {
            unit: container.kind,
            loads: container.contents.each().map(|(index, _)| index).collect(),
        })
        .collect();
    Some(Packing {
        drivers,
        price_minor: filling.price,
        optimal: filling.optimal,
        bound_minor: filling.bound,
    })
}

/// More outputs than any job has stand for "no limit".
const UNLIMITED: u64 = 1 << 20;

fn outputs(count: Option<usize>) -> u64 {
    count.map_or(UNLIMITED, |count| count.to_u64().unwrap_or(UNLIMITED))
}

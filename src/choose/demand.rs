//! What a section asks of a driver, and whether one can give it.
//!
//! Power and current are counted in whole nanowatts and nanoamperes.

use super::limits;
use super::sized::Section;
use super::suited;
use super::unit::Unit;
use crate::model::cable::Cable;
use crate::norms::limit::Source;
use crate::quantity::{Current, Length, Power};
use num_traits::ToPrimitive;
use std::sync::Arc;
use uom::si::electric_current::nanoampere;
use uom::si::power::nanowatt;

/// What a section asks of a driver output.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    /// Power at the worst mix.
    pub power: Power,
    /// Most current of a channel.
    pub current: Current,
    /// Most current of each channel.
    pub channels: Vec<Current>,
    /// The feed cable that its terminals must take.
    pub cable: Arc<Cable>,
    /// What that cable may carry where it lies; `None` when that is not known.
    pub ampacity: Option<Current>,
    /// The longest cable to one of its feeds.
    pub longest_feed: Length,
}

impl Demand {
    /// What a section asks.
    #[must_use]
    pub fn of(section: &Section, ampacity: Option<Current>) -> Demand {
        Demand {
            power: section.power,
            current: section.most_current(),
            channels: section.channel_currents.clone(),
            cable: Arc::clone(&section.cable),
            ampacity,
            longest_feed: longest_feed(section),
        }
    }
}

/// The longest cable to a feed of a section.
#[must_use]
pub fn longest_feed(section: &Section) -> Length {
    let lengths = section.feeds.iter().map(|feed| feed.cable_length);
    lengths.fold(Length::default(), Length::max)
}

/// A driver with the demands on each of its outputs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loaded {
    /// Index of the unit.
    pub unit: usize,
    /// Indices of the demands, output by output.
    pub outputs: Vec<Vec<usize>>,
}

/// Whether a unit can take a demand by itself.
#[must_use]
pub fn fits(unit: &Unit, demand: &Demand) -> bool {
    gives(unit, demand.power) && carries(unit, demand) && takes(unit, demand)
}

/// Whether a unit gives a power.
#[must_use]
pub fn gives(unit: &Unit, power: Power) -> bool {
    size(power.get::<nanowatt>()) <= room(unit.loadable.get::<nanowatt>())
}

/// Whether one output of a unit carries the current of a demand.
#[must_use]
pub fn carries(unit: &Unit, demand: &Demand) -> bool {
    unit.current.is_none_or(|most| {
        size(demand.current.get::<nanoampere>()) <= room(most.get::<nanoampere>())
    })
}

/// Whether a unit's terminals take a demand's cable, the cable stands all the current that the unit
/// can give, is of a wiring method that may stand behind it and no longer than the unit allows.
/// What is not known of either is not held against it.
#[must_use]
pub fn takes(unit: &Unit, demand: &Demand) -> bool {
    let terminal = limits::terminal(&unit.item, &demand.cable);
    let overload = demand.ampacity.map(|ampacity| {
        limits::cable_overload(&unit.item, unit.pieces, (ampacity, Source::Datasheet))
    });
    let length = suited::feed_length(&unit.item, demand.longest_feed);
    let wiring = suited::wiring(&unit.item, &demand.cable, unit.region);
    terminal
        .into_iter()
        .chain(overload)
        .chain(wiring)
        .chain(length)
        .all(|checked| checked.keeps)
}

/// Room in a dimension that does not limit.
pub(super) const NO_LIMIT: u64 = 1 << 60;

/// A millionth of a watt or ampere, in the units counted: what two thousand sizes can be off
/// together by being rounded, so that sizes that add up to the room exactly have room.
const ROUNDING: f64 = 1_000.0;

/// Room in whole units.
pub(super) fn room(value: f64) -> u64 {
    (value + ROUNDING).floor().to_u64().unwrap_or(NO_LIMIT)
}

/// Size in whole units, the nearest.
pub(super) fn size(value: f64) -> u64 {
    value.round().to_u64().unwrap_or(NO_LIMIT)
}

//! Drivers that could serve a kind of strip, and what may be on at once on each.

use super::cost;
use super::derating::usable;
use super::suited;
use crate::model::driver::{Driver, GearType, Mixing, SafetyClass};
use crate::model::limits::Limits;
use crate::model::project::Project;
use crate::model::run::Run;
use crate::model::site::Point;
use crate::norms::nec_class_2;
use crate::norms::region::Region;
use crate::quantity::{Current, Power, Voltage};
use crate::solve::strip::Lit;
use rust_decimal::Decimal;
use std::sync::Arc;

/// What a driver can have on at once; what it takes to feed it follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sharing {
    /// One channel.
    Single,
    /// Two whites that share full power and are never on together.
    Alternating,
    /// Two whites that share full power, with pulses that may overlap.
    Shared,
    /// Two whites that may both be full on, or of which nothing else is known.
    Full,
}

impl Sharing {
    /// The sharing of a driver with a strip of `channels`.
    #[must_use]
    pub fn of(driver: &Driver, channels: usize) -> Sharing {
        match (channels, driver.output.mixing) {
            (1, _) => Sharing::Single,
            (_, Some(Mixing::Interleaved)) => Sharing::Alternating,
            (_, Some(Mixing::Shared)) => Sharing::Shared,
            (_, Some(Mixing::BothFull) | None) => Sharing::Full,
        }
    }

    /// The states that can occur, the one that strains the strip most first.
    #[must_use]
    pub fn states(self) -> &'static [Lit] {
        match self {
            Sharing::Single => &[Lit::On],
            Sharing::Alternating => &[Lit::Warm, Lit::Cool],
            Sharing::Shared | Sharing::Full => &[Lit::Both, Lit::Warm, Lit::Cool],
        }
    }

    /// Whether the driver gives both whites their full power at once.
    #[must_use]
    pub fn adds_up(self) -> bool {
        self == Sharing::Full
    }
}

/// A driver that could serve a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// What it is.
    pub item: Arc<Driver>,
    /// What may be on at once.
    pub sharing: Sharing,
    /// Outputs for strips of this many channels.
    pub outputs: usize,
    /// Power that may be loaded on it: rated, derated, within the limit.
    pub loadable: Power,
    /// Most current of a channel of an output.
    pub current: Option<Current>,
    /// Price and labour; `None` when there is no price.
    pub cost: Option<Decimal>,
}

impl Unit {
    /// The driver in a place, for strips of `channels`.
    #[must_use]
    pub fn new(
        project: &Project,
        limits: &Limits,
        cupboard: &Point,
        driver: &Arc<Driver>,
        channels: usize,
    ) -> Unit {
        Unit {
            item: Arc::clone(driver),
            sharing: Sharing::of(driver, channels),
            outputs: (driver.output.channels / channels.max(1)).max(1),
            loadable: usable(driver, cupboard.ambient) * limits.driver_load.value,
            current: driver.output.current_per_channel,
            cost: cost::unit(&driver.offer, &project.pricing),
        }
    }
}

/// The drivers that could serve a run: the one that was asked for, or else those of the catalogue
/// that suit it best.
///
/// A driver suits when its voltage is the strip's and it has channels enough. One that is known
/// not to be safe in the region, or not to suit the strip or its scenes, is taken only when no other
/// suits. Tunable white wants
/// gear for colour temperature; without any, two channels with two addresses stand in. A driver
/// that the control bus doesn't reach is taken only when no other suits.
#[must_use]
pub fn units(project: &Project, limits: &Limits, run: &Run, cupboard: &Point) -> Vec<Unit> {
    let channels = run.strip.channels.count();
    let unit = |driver| Unit::new(project, limits, cupboard, driver, channels);
    if let Some(driver) = run.driver.given() {
        return vec![unit(driver)];
    }
    let rank = |driver: &Driver| {
        let matched = suits(driver, run.strip.voltage, channels)?;
        let unfit = suited::known_unfit(project, run, driver);
        Some((!is_safe(driver, project.region), unfit, matched))
    };
    let drivers = &project.catalogue.drivers;
    let Some(best) = drivers.iter().filter_map(|driver| rank(driver)).min() else {
        return Vec::new();
    };
    drivers
        .iter()
        .filter(|driver| rank(driver) == Some(best))
        .map(unit)
        .collect()
}

/// How well a driver is matched to a strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Match {
    /// Gear of the strip's own type.
    Own,
    /// Two single addresses for the two whites.
    StandsIn,
    /// No control bus.
    Switched,
}

/// Whether and how a driver suits strips of a voltage and number of channels.
#[must_use]
pub fn suits(driver: &Driver, voltage: Voltage, channels: usize) -> Option<Match> {
    let volts = (driver.output.voltage - voltage).abs() <= voltage * 1e-6;
    if !volts || driver.output.channels < channels {
        return None;
    }
    match (&driver.bus, channels) {
        (None, _) => Some(Match::Switched),
        (Some(bus), 1) => (bus.gear == GearType::Single).then_some(Match::Own),
        (Some(bus), _) => match bus.gear {
            GearType::ColourTemperature => Some(Match::Own),
            GearType::Single => (bus.addresses >= channels).then_some(Match::StandsIn),
        },
    }
}

/// Whether a driver's marks are those that its region asks for; what the sheet does not say is not
/// held against it.
fn is_safe(driver: &Driver, region: Region) -> bool {
    let Some(marks) = &driver.safety else {
        return true;
    };
    match region {
        Region::Iec | Region::AusNz => marks.contains(&SafetyClass::Selv),
        Region::NorthAmerica => {
            let most = nec_class_2::most_power(driver.output.voltage);
            !marks.contains(&SafetyClass::Class2)
                || most.is_some_and(|most| driver.output.power <= most)
        }
    }
}

//! Drivers that could serve a kind of strip.

use super::cost;
use super::derating::usable;
use super::limits;
use super::sharing::Sharing;
use super::sized::Section;
use super::suited;
use crate::model::driver::{Driver, GearType, SafetyClass};
use crate::model::limits::Limits;
use crate::model::project::Project;
use crate::model::run::Run;
use crate::model::site::Point;
use crate::norms::region::Region;
use crate::quantity::{Current, Power, Voltage};
use rust_decimal::Decimal;
use std::sync::Arc;

/// A driver that could serve a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// What it is.
    pub item: Arc<Driver>,
    /// Units of it: 2 where a single-channel unit for each white stands in for a two-channel
    /// driver, else 1.
    pub pieces: usize,
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
    /// Where the job is, which may ask for a wiring method of the cables behind it.
    pub region: Region,
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
            pieces: 1,
            sharing: Sharing::of(driver, channels),
            outputs: (driver.output.channels / channels.max(1)).max(1),
            loadable: usable(driver, cupboard.ambient) * limits.driver_load.value,
            current: driver.output.current_per_channel,
            cost: cost::unit(&driver.offer, &project.pricing),
            region: project.region,
        }
    }

    /// Two of a single-channel driver for strips of two whites, one for each. What one may be
    /// loaded with limits the current of its channel, the two being of the same voltage. As
    /// `sharing` says, loads are counted as those of the larger white or of both.
    fn pair(
        project: &Project,
        limits: &Limits,
        cupboard: &Point,
        driver: &Arc<Driver>,
        sharing: Sharing,
    ) -> Unit {
        let one = Unit::new(project, limits, cupboard, driver, 1);
        let by_power: Current = one.loadable / driver.output.voltage;
        Unit {
            pieces: 2,
            sharing,
            loadable: one.loadable * if sharing.adds_up() { 2.0 } else { 1.0 },
            current: one
                .current
                .filter(|most| *most < by_power)
                .or(Some(by_power)),
            cost: one.cost.map(|cost| cost * Decimal::TWO),
            ..one
        }
    }

    /// The load of one of its pieces under a section: all of it, or in a pair that of the channel
    /// that takes most.
    #[must_use]
    pub fn load(&self, section: &Section) -> Power {
        if self.pieces == 1 {
            return section.power;
        }
        let channels = 0..section.channel_currents.len();
        channels
            .map(|channel| section.channel_power(channel))
            .fold(Power::default(), Power::max)
    }
}

/// The drivers that could serve a run: the one that was asked for, or else those of the catalogue
/// that suit it best.
///
/// A driver suits when its voltage is the strip's and it has channels enough. One that is known
/// not to be safe in the region, not to work at the voltage of the supply, or not to suit the strip
/// or its scenes, is taken only when no other suits. Tunable white wants
/// gear for colour temperature; without any, two channels with two addresses stand in. A driver
/// that the control bus doesn't reach is taken only when no other suits. With `pairs`, two
/// single-channel units, one for each white, compete with these; see `may_pair`.
#[must_use]
pub fn units(
    project: &Project,
    limits: &Limits,
    run: &Run,
    cupboard: &Point,
    pairs: bool,
) -> Vec<Unit> {
    let channels = run.strip.channels.count();
    let unit = |driver| Unit::new(project, limits, cupboard, driver, channels);
    let pair = |driver, sharing| Unit::pair(project, limits, cupboard, driver, sharing);
    if let Some(driver) = run.driver.given() {
        let two = channels == 2 && is_half(driver, run.strip.voltage);
        return vec![if two {
            pair(driver, Sharing::Full)
        } else {
            unit(driver)
        }];
    }
    let supply = project.supply.voltage;
    let runs = |driver: &Driver| limits::mains_voltage(driver, supply).is_none_or(|it| it.keeps);
    let rank = |driver: &Driver| {
        let matched = suits(driver, run.strip.voltage, channels)?;
        let unfit = suited::known_unfit(project, run, driver);
        let safe = is_safe(driver, project.region) && runs(driver);
        Some((!safe, unfit, matched))
    };
    let drivers = &project.catalogue.drivers;
    let best = drivers.iter().filter_map(|driver| rank(driver)).min();
    let mut units: Vec<Unit> = drivers
        .iter()
        .filter(|driver| best.is_some() && rank(driver) == best)
        .map(unit)
        .collect();
    if pairs && channels == 2 {
        let may = |driver: &&Arc<Driver>| {
            may_pair(driver, run.strip.voltage, project.region) && runs(driver)
        };
        let may_pair: Vec<&Arc<Driver>> = drivers.iter().filter(may).collect();
        let worse = best.is_some_and(|best| best > (false, false, Match::StandsIn));
        if worse && !may_pair.is_empty() {
            units.clear();
        }
        // Both whites on is a state of shared drivers too: such loads go on either.
        let shared = units.iter().any(|unit| unit.sharing == Sharing::Shared);
        let sharing = if shared {
            Sharing::Shared
        } else {
            Sharing::Full
        };
        let by_pairs: Vec<Unit> = may_pair
            .into_iter()
            .map(|driver| pair(driver, sharing))
            .collect();
        units.extend(by_pairs);
    }
    units
}

/// Whether two of a driver may be chosen for one strip of two whites: it dims one channel under one
/// address, is marked safe, and its sheet lets its plus be joined with another's. Not in
/// `north-america`: joined outputs are no longer Class 2 (NEC 725.121, from memory).
fn may_pair(driver: &Driver, voltage: Voltage, region: Region) -> bool {
    region != Region::NorthAmerica
        && is_half(driver, voltage)
        && driver.output.joins_plus == Some(true)
        && is_safe(driver, region)
}

/// Whether a driver dims strips of a voltage on one channel under one address.
fn is_half(driver: &Driver, voltage: Voltage) -> bool {
    driver.output.channels == 1
        && driver.bus.as_ref().is_some_and(|bus| bus.addresses == 1)
        && suits(driver, voltage, 1) == Some(Match::Own)
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
            !marks.contains(&SafetyClass::Class2) || limits::class_2_power(driver).keeps
        }
    }
}

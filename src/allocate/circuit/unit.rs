//! What hangs on mains circuits: drivers, controllers and bus supplies, with the figures that a
//! breaker is judged by.

use super::fill::Load;
use super::inrush::most_alone;
use crate::allocate::allocated::Loop;
use crate::choose::sized::{SizedDriver, Sizing};
use crate::model::project::Project;
use crate::model::site::Point;
use crate::quantity::{Current, Ratio};
use num_traits::ToPrimitive;
use std::sync::Arc;
use uom::ConstZero;
use uom::si::electric_current::{nanoampere, picoampere};

/// A unit on the mains.
#[derive(Debug, Clone)]
pub(super) struct Unit {
    /// Driver number, controller unit or bus supply.
    pub name: String,
    /// Where it stands.
    pub at: Arc<Point>,
    /// Whether it is a driver; else a controller or a bus supply.
    pub driver: bool,
    /// Input current; `None` when the sheet does not say.
    pub current: Option<Current>,
    /// The current it was laid out with.
    pub counted: Current,
    /// Power factor, if known.
    pub power_factor: Option<Ratio>,
    /// Most of it alone on the breaker.
    pub most_alone: Option<u64>,
    /// Protective conductor current; `None` when the sheet does not say.
    pub leakage: Option<Current>,
    /// Rooms it serves.
    pub rooms: Vec<usize>,
}

/// An unknown input current is laid out as rated output power over this share of the mains
/// voltage: efficiency and power factor together (common practice, no source).
pub(super) const POOR: f64 = 0.8;

/// All units: drivers by number, then controllers and bus supplies by loop.
pub(super) fn units(project: &Project, sizing: &Sizing, loops: &[Loop]) -> Vec<Unit> {
    let drivers = sizing
        .drivers
        .iter()
        .map(|driver| of_driver(project, driver));
    let mut units: Vec<Unit> = drivers.collect();
    for one in loops {
        let known = units.iter().any(|unit| unit.name == one.controller);
        if let Some(item) = one.controller_item.as_ref().filter(|_| !known) {
            units.push(of_supply(one.controller.clone(), one, item.mains_current));
        }
        if let Some(item) = &one.supply_item {
            units.push(of_supply(one.supply_name(), one, item.mains_current));
        }
    }
    units
}

fn of_driver(project: &Project, driver: &SizedDriver) -> Unit {
    let mains = &driver.item.mains;
    let assumed: Current = driver.item.output.power / (POOR * project.supply.voltage);
    Unit {
        name: driver.number.clone(),
        at: Arc::clone(&driver.cupboard),
        driver: true,
        current: mains.current,
        counted: mains.current.unwrap_or(assumed),
        power_factor: mains.power_factor,
        most_alone: most_alone(&driver.item, project.circuits.breaker, project.region),
        leakage: mains.earth_leakage,
        rooms: driver.rooms.iter().map(|room| room.index).collect(),
    }
}

fn of_supply(name: String, one: &Loop, current: Option<Current>) -> Unit {
    Unit {
        name,
        at: Arc::clone(&one.at),
        driver: false,
        current,
        counted: current.unwrap_or(Current::ZERO),
        power_factor: None,
        most_alone: None,
        leakage: None,
        rooms: Vec::new(),
    }
}

impl Unit {
    /// One of it as a load.
    pub(super) fn load(&self) -> Load {
        Load {
            current: self
                .counted
                .get::<nanoampere>()
                .round()
                .to_u128()
                .unwrap_or(u128::MAX >> 32),
            most_alone: self.most_alone,
            leakage: self
                .leakage
                .map_or(Some(0), |leakage| {
                    leakage.get::<picoampere>().round().to_u128()
                })
                .unwrap_or(u128::MAX >> 32),
            count: 1,
        }
    }
}

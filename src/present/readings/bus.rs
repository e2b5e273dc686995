//! Loops on which what was read at the supply and at the furthest unit does not agree, or lies
//! outside what a bus may have.

use super::Row;
use crate::allocate::allocated::{Loop, Member};
use crate::model::reading::{Found, GivenOf};
use crate::present::document::site_tests::{bus::furthest, meter};
use crate::present::job::Job;
use crate::quantity::Voltage;
use crate::solve::cable::{conductor_resistance, core_resistance, next_thinner};
use crate::solve::diagnose::bus::{BusCase, BusCause, Stretch, causes, lost};
use uom::si::electric_potential::volt;

/// A loop with what may be wrong.
#[derive(Debug, Clone, PartialEq)]
pub struct BusFinding {
    /// Its name.
    pub name: String,
    /// Volts at the supply.
    pub supply: Option<Voltage>,
    /// Volts at the furthest unit.
    pub far: Option<Voltage>,
    /// The furthest unit.
    pub unit: String,
    /// What should be lost on the way.
    pub expected_lost: Voltage,
    /// Causes, those that are checked soonest first.
    pub causes: Vec<BusCause>,
}

/// Every loop with something wrong.
pub(super) fn findings(job: &Job, rows: &[Row]) -> Vec<BusFinding> {
    let loops = job.allocation.loops.iter();
    loops.filter_map(|on| finding(on, rows)).collect()
}

fn finding(on: &Loop, rows: &[Row]) -> Option<BusFinding> {
    let read = |key: &str| {
        let name = format!("{}/{key}", on.name);
        let row = rows
            .iter()
            .find(|row| matches!(&row.given.of, GivenOf::Test(it) if *it == name))?;
        match row.given.found {
            Found::Number(value) => Some(Voltage::new::<volt>(value)),
            _ => None,
        }
    };
    let far = furthest(on)?;
    let case = BusCase {
        supply: read("volts-supply"),
        far: read("volts-far"),
        way: way(on, far),
        thinner: thinner(on),
        meter: Voltage::new::<volt>(0.0),
    };
    let highest = [case.supply, case.far].into_iter().flatten();
    let highest = highest.fold(Voltage::default(), |most, it| most.max(it.abs()));
    let case = BusCase {
        // Two readings of nearly the same volts on the same meter, each off by its own error.
        meter: highest * meter::VOLTS + Voltage::new::<volt>(0.02),
        ..case
    };
    let causes = causes(&case);
    (!causes.is_empty()).then(|| BusFinding {
        name: on.name.clone(),
        supply: case.supply,
        far: case.far,
        unit: far.device.clone(),
        expected_lost: lost(&case),
        causes,
    })
}

/// The way from the supply to a member, with all members drawing; empty where it is not known.
fn way(on: &Loop, member: &Member) -> Vec<Stretch> {
    let mut way = Vec::new();
    let Some(cable) = &on.cable else { return way };
    let mut here = &member.at.name;
    // The tree has no rings, so its stretches bound the number of steps.
    for _ in 0..on.tree.len() {
        let Some(stretch) = on.tree.iter().find(|it| it.to.name == *here) else {
            break;
        };
        if let Some(core) = core_resistance(cable, stretch.length, meter::cold()) {
            way.push(Stretch {
                resistance: 2.0 * core,
                current: stretch.current,
            });
        }
        here = &stretch.from.name;
    }
    way
}

fn thinner(on: &Loop) -> Option<f64> {
    let cable = on.cable.as_ref()?;
    let cold = |size| conductor_resistance(cable.conductor, size, meter::cold());
    let times = cold(next_thinner(cable.size)?)? / cold(cable.size)?;
    Some(times.value)
}

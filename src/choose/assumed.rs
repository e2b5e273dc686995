//! What sizing takes for granted beyond what strips and reach make it assume.

use super::sized::{SizedDriver, Sizing};
use super::unit::{Match, suits};
use crate::model::assumption::Assumption;
use crate::model::project::Project;
use std::collections::BTreeSet;

/// Of the project as a whole.
#[must_use]
pub fn of_project(project: &Project) -> Vec<Assumption> {
    let mut assumptions = vec![Assumption {
        subject: "project".to_owned(),
        statement: "feed cables of one run are bunched together, those of other runs lie apart"
            .to_owned(),
        missing: "how feed cables are bunched".to_owned(),
        supplied_by: "whoever lays the cables".to_owned(),
    }];
    if project.pricing.labour_rate.is_none() {
        assumptions.push(Assumption {
            subject: "project".to_owned(),
            statement: "work is not counted where arrangements are compared by cost".to_owned(),
            missing: "`labour_rate` in `pricing`".to_owned(),
            supplied_by: "the contractor".to_owned(),
        });
    }
    assumptions
}

/// Of the drivers that were placed.
#[must_use]
pub fn of_drivers(sizing: &Sizing) -> Vec<Assumption> {
    let mut assumptions: Vec<Assumption> = sizing.drivers.iter().filter_map(of_pair).collect();
    let mut told: BTreeSet<(&str, &str)> = BTreeSet::new();
    for run in &sizing.runs {
        let strip = &run.run.strip;
        let channels = strip.channels.count();
        for section in &run.sections {
            let Some(driver) = sizing.driver(&section.driver) else {
                continue;
            };
            let driver = &driver.item;
            let id = &driver.offer.id;
            if !told.insert((&strip.offer.id, id)) {
                continue;
            }
            if suits(driver, strip.voltage, channels) == Some(Match::StandsIn) {
                assumptions.push(Assumption {
                    subject: format!("driver {id}"),
                    statement: "its two addresses stand in for one colour temperature address"
                        .to_owned(),
                    missing: "a driver with `colour: colour temperature` in the catalogue"
                        .to_owned(),
                    supplied_by: "the catalogue".to_owned(),
                });
            }
            if channels > 1 && driver.output.mixing.is_none() {
                assumptions.push(Assumption {
                    subject: format!("driver {id}"),
                    statement: "both whites may be full on at once, and their powers add up"
                        .to_owned(),
                    missing: format!("`mixing` in driver `{id}`"),
                    supplied_by: "the datasheet".to_owned(),
                });
            }
        }
    }
    assumptions
}

/// That two units feed the two whites of the same strips, told of the first of them.
fn of_pair(driver: &SizedDriver) -> Option<Assumption> {
    let half = driver.half.as_ref().filter(|half| half.channel == 0)?;
    let (number, other, id) = (&driver.number, &half.other, &driver.item.offer.id);
    let told = driver.item.output.joins_plus.is_some();
    Some(Assumption {
        subject: format!("drivers {number} and {other}"),
        statement: format!(
            "two single-channel units stand in for one two-channel driver: {number} feeds the warm \
             white, {other} the cool one, each under an address of its own; their plus outputs are \
             joined at the common plus core"
        ),
        missing: if told {
            "the scene levels of each white: the bus sends these units levels, not whites"
                .to_owned()
        } else {
            format!("`joins_plus` in `output` of driver `{id}`")
        },
        supplied_by: if told {
            "commissioning"
        } else {
            "the datasheet"
        }
        .to_owned(),
    })
}

//! What sizing takes for granted beyond what strips and reach make it assume.

use super::sized::Sizing;
use super::unit::{Match, suits};
use crate::model::assumption::Assumption;
use crate::model::project::Project;

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
    let mut assumptions = Vec::new();
    for run in &sizing.runs {
        let strip = &run.run.strip;
        let channels = strip.channels.count();
        let numbers = run.sections.iter().map(|section| &section.driver);
        for number in numbers {
            let driver = sizing
                .drivers
                .iter()
                .find(|driver| driver.number == *number);
            let Some(driver) = driver.map(|driver| &driver.item) else {
                continue;
            };
            let id = &driver.offer.id;
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

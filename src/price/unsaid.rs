//! What project and catalogue leave unsaid, and the price reckons with all the same.

use super::assumed::assumption;
use crate::allocate::allocated::Allocation;
use crate::choose::sized::Sizing;
use crate::model::assumption::Assumption;
use crate::model::cable::Cable;
use crate::model::extra::Profile;
use crate::model::project::Project;
use crate::model::site::Point;
use crate::norms::limit::Source;
use crate::quantity::ratio;
use std::collections::BTreeMap;

/// Everything that is unsaid and bears on this job.
pub(super) fn unsaid(
    project: &Project,
    sizing: &Sizing,
    allocation: &Allocation,
) -> Vec<Assumption> {
    let mut all = Vec::new();
    all.extend(waste(project, sizing, allocation));
    all.extend(slack(project));
    all.extend(limits(project));
    all.extend(cupboards(sizing));
    all.extend(saw_cuts(sizing));
    all.extend(terms(project));
    all
}

fn of_project(statement: &str, missing: &str, by: &str) -> Assumption {
    assumption(
        "project".to_owned(),
        statement.to_owned(),
        missing.to_owned(),
        by,
    )
}

fn waste(project: &Project, sizing: &Sizing, allocation: &Allocation) -> Option<Assumption> {
    let feeds = sizing.cables.iter().map(|feed| &*feed.item);
    let buses = allocation
        .loops
        .iter()
        .filter_map(|one| one.cable.as_deref());
    let mains = allocation.circuits.iter();
    let mains = mains.filter_map(|circuit| circuit.cable.as_deref());
    let silent = |cable: &Cable| cable.detail.waste.is_none();
    let unsaid =
        project.pricing.cable_waste.is_none() && feeds.chain(buses).chain(mains).any(silent);
    unsaid.then(|| {
        of_project(
            "no cable is lost in cutting and at its ends",
            "`cable_waste` in `pricing`, or `waste` of the cables",
            "whoever prices the job",
        )
    })
}

fn slack(project: &Project) -> Option<Assumption> {
    project.wiring.slack.is_none().then(|| {
        of_project(
            "the lengths of cable hold rises, drops and slack",
            "`slack` in `wiring`",
            "whoever took the lengths off",
        )
    })
}

/// Limits that decide how much is bought and that nobody set.
fn limits(project: &Project) -> Vec<Assumption> {
    let limits = &project.limits;
    let usual = |source: &Source| matches!(source, Source::CommonPractice(_));
    let mut found = Vec::new();
    if usual(&limits.light_drop.source) {
        let most = ratio::write(limits.light_drop.value);
        found.push(of_project(
            &format!("the light may fall by {most} along a run, as is usual"),
            "`light_drop` in `limits`",
            "the designer",
        ));
    }
    if usual(&limits.driver_load.source) {
        let most = ratio::write(limits.driver_load.value);
        found.push(of_project(
            &format!("drivers are loaded to {most} of their rating at most, as is usual"),
            "`driver_load` in `limits`",
            "the designer",
        ));
    }
    found
}

/// Cupboards of unknown ambient, in which no driver is derated.
fn cupboards(sizing: &Sizing) -> Vec<Assumption> {
    let mut silent: BTreeMap<usize, &Point> = BTreeMap::new();
    for driver in &sizing.drivers {
        if driver.cupboard.ambient.is_none() {
            silent.insert(driver.cupboard.index, &driver.cupboard);
        }
    }
    let told = silent.into_values().map(|point| {
        let name = &point.name;
        assumption(
            format!("point {name}"),
            "it is no warmer there than the drivers stand at full load".to_owned(),
            format!("`ambient` of point `{name}`"),
            "a thermometer at the place, with the lights on",
        )
    });
    told.collect()
}

/// Profiles whose saw cut is the usual one.
fn saw_cuts(sizing: &Sizing) -> Vec<Assumption> {
    let mut silent: BTreeMap<&str, &Profile> = BTreeMap::new();
    for sized in &sizing.runs {
        if let Some(profile) = sized.run.profile.as_deref().filter(|it| !it.kerf_known) {
            silent.insert(&profile.offer.id, profile);
        }
    }
    let told = silent.into_keys().map(|id| {
        assumption(
            format!("profile {id}"),
            "a saw cut takes 3 mm, as is usual".to_owned(),
            format!("`kerf` of profile `{id}`"),
            "the workshop",
        )
    });
    told.collect()
}

/// Rates that stand in for others. No rate is told: a customer reads this.
fn terms(project: &Project) -> Vec<Assumption> {
    let pricing = &project.pricing;
    if pricing.labour_rate.is_none() {
        return Vec::new();
    }
    let silent = pricing.trades.iter().filter(|trade| trade.rate.is_none());
    let mut found: Vec<Assumption> = silent
        .map(|trade| {
            let name = &trade.name;
            assumption(
                format!("trade {name}"),
                "an hour costs as much as of any other work".to_owned(),
                format!("`rate` of trade `{name}`"),
                "whoever prices the job",
            )
        })
        .collect();
    if let Some(commissioning) = &pricing.commissioning
        && commissioning.rate.is_none()
    {
        found.push(of_project(
            "an hour of commissioning costs as much as of any other work",
            "`commissioning.rate` in `pricing`",
            "whoever prices the job",
        ));
    }
    found
}

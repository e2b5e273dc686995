//! Rules of the house: bounds from the project file on what the program measures anyway.

use super::circuits;
use super::finding::Finding;
use super::loops;
use super::rule::Evidence;
use super::verdict::Verdict;
use crate::allocate::allocated::{Circuit, Loop};
use crate::choose::sized::{SizedDriver, SizedRun};
use crate::model::house_rule::{HouseRule, Measure, MeasuredOf, fits};
use crate::norms::limit::{Limit, Source};
use crate::quantity::Current;
use crate::quantity::figure::Figure;
use crate::quantity::number::real;
use uom::si::electric_current::{ampere, milliampere};
use uom::si::electric_potential::volt;
use uom::si::ratio::percent;

/// Judges every rule of the house on everything that it measures. One that loosens a published
/// limit is judged where that limit is.
pub fn judge(evidence: &Evidence<'_>) -> Vec<Verdict> {
    let rules = &evidence.project.house_rules;
    rules
        .iter()
        .filter(|rule| rule.loosens.is_none())
        .flat_map(|rule| of_rule(evidence, rule))
        .collect()
}

fn of_rule(evidence: &Evidence<'_>, rule: &HouseRule) -> Vec<Verdict> {
    let reason = rule.because.as_deref().unwrap_or("no reason given");
    let source = format!("house rule: {reason}");
    let findings = match rule.measure.of() {
        MeasuredOf::Run => of_runs(evidence, rule),
        MeasuredOf::Driver => of_drivers(evidence, rule),
        MeasuredOf::Loop => of_loops(evidence, rule),
        MeasuredOf::Circuit => of_circuits(evidence, rule),
    };
    super::untold::once_each(findings)
        .into_iter()
        .map(|finding| {
            finding.from_source(&source).at(&rule.place).into_verdict(
                &rule.id,
                rule.severity,
                &source,
            )
        })
        .collect()
}

/// A figure against the rule's bound.
fn held(rule: &HouseRule, subject: String, value: f64) -> Finding {
    let limit = Limit {
        value: rule.value,
        bound: rule.bound,
        source: Source::Project,
    };
    let found = Figure::new(value, rule.measure.unit());
    Finding::measured(subject, found, &limit)
        .working(|| format!("{}: {found}", rule.measure.meaning()))
        .remedy(|| "change what is measured, or this rule".to_owned())
}

fn of_runs(evidence: &Evidence<'_>, rule: &HouseRule) -> Vec<Finding> {
    let picked = |sized: &&SizedRun| {
        rule.only.takes(&sized.run) && fits(&rule.only.cupboard, &sized.cupboard.name)
    };
    let runs = evidence.sizing.runs.iter().filter(picked);
    runs.filter_map(|sized| of_run(rule, sized)).collect()
}

/// `None` where there is nothing to measure: a single colour does not shift.
fn of_run(rule: &HouseRule, sized: &SizedRun) -> Option<Finding> {
    let subject = format!("run {}", sized.run.name);
    let figures = &sized.figures;
    let feeds = || sized.sections.iter().flat_map(|section| &section.feeds);
    let value = match rule.measure {
        Measure::FeedDrop => figures.feed_drop_share.get::<percent>(),
        Measure::LightEvenness => figures.evenness.get::<percent>(),
        Measure::ColourShift => match figures.colour_shift {
            Some(steps) => steps,
            None if sized.run.strip.channels.count() < 2 => return None,
            None => {
                let id = &sized.run.strip.offer.id;
                let missing = format!("`white` and `flux` in strip `{id}` (the datasheet)");
                return Some(Finding::cannot_tell(subject, missing));
            }
        },
        Measure::FeedCurrent => {
            let currents = feeds().map(|feed| feed.current);
            currents
                .fold(Current::default(), Current::max)
                .get::<ampere>()
        }
        Measure::Feeds => real(feeds().count()),
        _ => 100.0 - figures.light_least.get::<percent>(),
    };
    let assumed = sized
        .light_assumed
        .as_ref()
        .filter(|_| rule.measure != Measure::Feeds);
    Some(held(rule, subject, value).resting_on(assumed))
}

fn of_drivers(evidence: &Evidence<'_>, rule: &HouseRule) -> Vec<Finding> {
    let only = &rule.only;
    let in_room = |driver: &SizedDriver| {
        only.room.is_none() || driver.rooms.iter().any(|room| fits(&only.room, &room.name))
    };
    let picked = |driver: &&SizedDriver| {
        in_room(driver)
            && fits(&only.group, &driver.group.name)
            && fits(&only.cupboard, &driver.cupboard.name)
    };
    let drivers = evidence.sizing.drivers.iter().filter(picked);
    drivers
        .map(|driver| {
            let subject = format!("driver {}", driver.number);
            held(rule, subject, driver.load_share.get::<percent>())
        })
        .collect()
}

fn of_loops(evidence: &Evidence<'_>, rule: &HouseRule) -> Vec<Finding> {
    let only = &rule.only;
    let picked = |bus: &&Loop| {
        let mut rooms = bus.members.iter().map(|member| member.room.name.as_str());
        only.room.is_none() || rooms.any(|room| fits(&only.room, room))
    };
    let loops = evidence.allocation.loops.iter().filter(picked);
    loops
        .map(|bus| {
            let subject = format!("loop {}", bus.name);
            let value = match rule.measure {
                Measure::GearCount => real(bus.gear),
                Measure::ControlDeviceCount => real(bus.control_devices),
                Measure::BusDrop => {
                    let warm = evidence.project.loops.temperature;
                    if let Some(missing) = loops::unmeasured(bus, warm) {
                        return Finding::cannot_tell(subject, missing);
                    }
                    bus.drop.get::<volt>()
                }
                _ => bus.current.get::<milliampere>(),
            };
            held(rule, subject, value)
        })
        .collect()
}

fn of_circuits(evidence: &Evidence<'_>, rule: &HouseRule) -> Vec<Finding> {
    let only = &rule.only;
    let picked = |circuit: &&Circuit| {
        let mut places = circuit.places.iter().map(|place| place.name.as_str());
        only.cupboard.is_none() || places.any(|place| fits(&only.cupboard, place))
    };
    let circuits = evidence.allocation.circuits.iter().filter(picked);
    circuits
        .map(|circuit| of_circuit(evidence, rule, circuit))
        .collect()
}

fn of_circuit(evidence: &Evidence<'_>, rule: &HouseRule, circuit: &Circuit) -> Finding {
    let subject = format!("circuit {}", circuit.name);
    match rule.measure {
        Measure::Drivers => held(rule, subject, real(circuit.drivers.len())),
        Measure::Leakage => {
            let finding = held(rule, subject, circuit.leakage.get::<milliampere>());
            circuits::unless_unknown(finding, &circuit.unknown_leakage, "earth_leakage")
        }
        Measure::CircuitDrop => match circuit.drop {
            Some(drop) => {
                let whole = drop + evidence.project.supply.upstream_drop;
                held(rule, subject, whole.get::<percent>())
            }
            None => Finding::cannot_tell(subject, circuits::unmeasured(circuit)),
        },
        _ => {
            let rated = f64::from(circuit.breaker.amperes);
            let finding = held(
                rule,
                subject,
                100.0 * circuit.current.get::<ampere>() / rated,
            );
            circuits::unless_unknown(finding, &circuit.unknown_current, "current")
        }
    }
}

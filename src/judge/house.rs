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
            let finding = finding.from_source(source.clone()).at(&rule.place);
            finding.into_verdict(rule.id.clone(), rule.severity, "")
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::house_rule::Only;
    use crate::model::project::Severity;
    use crate::norms::limit::Bound;
    use crate::quantity::{Ratio, Voltage};
    use std::sync::Arc;

    fn rule(job: &Sample, measure: Measure, only: Only) -> HouseRule {
        HouseRule {
            id: "own".to_owned(),
            measure,
            bound: Bound::AtMost,
            value: 1e9,
            only,
            severity: Severity::Caution,
            because: None,
            loosens: None,
            place: job.project.runs[0].place.clone(),
        }
    }

    /// What a measure comes to on each thing that it is taken of, to a millionth.
    fn found(job: &Sample, measure: Measure, only: Only) -> Vec<f64> {
        of_rule(&job.evidence(), &rule(job, measure, only))
            .into_iter()
            .map(|verdict| verdict.found.expect("it was measured").value)
            .map(|value| (value * 1e6).round() / 1e6)
            .collect()
    }

    fn outcomes(job: &Sample, measure: Measure) -> Vec<&'static str> {
        of_rule(&job.evidence(), &rule(job, measure, Only::default()))
            .iter()
            .map(|verdict| verdict.outcome.name())
            .collect()
    }

    /// The sample with one run, driver, loop and circuit, whose figures are all different.
    fn job() -> Sample {
        let mut job = Sample::new();
        job.project.supply.upstream_drop = Ratio::new::<percent>(0.5);
        job.sizing.runs.truncate(1);
        let run = &mut job.sizing.runs[0];
        run.figures.feed_drop_share = Ratio::new::<percent>(4.0);
        run.figures.light_least = Ratio::new::<percent>(91.0);
        run.figures.evenness = Ratio::new::<percent>(93.0);
        run.figures.colour_shift = Some(1.5);
        let section = &mut run.sections[0];
        section.feeds.truncate(1);
        let one = section.feeds[0].clone();
        section.feeds = [0.75, 1.25, 0.5]
            .map(|amperes| crate::choose::sized::SizedFeed {
                current: Current::new::<ampere>(amperes),
                ..one.clone()
            })
            .to_vec();
        run.sections.truncate(1);
        job.sizing.drivers.truncate(1);
        job.sizing.drivers[0].load_share = Ratio::new::<percent>(62.0);
        job.allocation.loops.truncate(1);
        let bus = &mut job.allocation.loops[0];
        (bus.gear, bus.control_devices) = (5, 6);
        bus.current = Current::new::<milliampere>(21.0);
        bus.drop = Voltage::new::<volt>(0.7);
        job.allocation.circuits.truncate(1);
        let circuit = &mut job.allocation.circuits[0];
        circuit.breaker.amperes = 16;
        circuit.current = Current::new::<ampere>(4.0);
        circuit.leakage = Current::new::<milliampere>(1.2);
        circuit.drop = Some(Ratio::new::<percent>(1.0));
        circuit.drivers = vec!["D-01".to_owned(), "D-02".to_owned()];
        circuit.unknown_current.clear();
        circuit.unknown_leakage.clear();
        job
    }

    // Light lost is what 91 % leaves; 4 A are 25 % of a breaker of 16 A; 1 % and 0.5 % upstream.
    #[test]
    fn every_measure_is_its_own_figure() {
        let expected = [
            (Measure::FeedDrop, 4.0),
            (Measure::LightDrop, 9.0),
            (Measure::LightEvenness, 93.0),
            (Measure::ColourShift, 1.5),
            (Measure::FeedCurrent, 1.25),
            (Measure::Feeds, 3.0),
            (Measure::DriverLoad, 62.0),
            (Measure::GearCount, 5.0),
            (Measure::ControlDeviceCount, 6.0),
            (Measure::LoopCurrent, 21.0),
            (Measure::BusDrop, 0.7),
            (Measure::CircuitLoad, 25.0),
            (Measure::CircuitDrop, 1.5),
            (Measure::Leakage, 1.2),
            (Measure::Drivers, 2.0),
        ];
        assert_eq!(expected.map(|(measure, _)| measure), Measure::ALL);
        let job = job();
        for (measure, value) in expected {
            assert_eq!(
                found(&job, measure, Only::default()),
                [value],
                "{measure:?}"
            );
        }
    }

    #[test]
    fn a_rule_is_about_what_is_in_its_room_its_group_and_its_cupboard() {
        let mut job = job();
        let panel = Arc::clone(&job.project.site.points[0]);
        job.sizing.drivers[0].rooms.push(Arc::clone(&panel));
        job.allocation.loops[0].members[0].room = Arc::clone(&panel);
        let cupboard_a = Arc::clone(&job.sizing.drivers[0].cupboard);
        job.allocation.circuits[0].places = vec![cupboard_a, Arc::clone(&panel)];
        let named = |name: &str| Some(name.to_owned());
        let room = |name: &str| Only {
            room: named(name),
            ..Only::default()
        };
        let cupboard = |name: &str| Only {
            cupboard: named(name),
            ..Only::default()
        };
        let group = |name: &str| Only {
            group: named(name),
            ..Only::default()
        };
        for measure in [Measure::DriverLoad, Measure::GearCount] {
            for (name, count) in [("foyer", 1), (&panel.name, 1), ("stair", 0)] {
                let many = found(&job, measure, room(name)).len();
                assert_eq!(many, count, "{measure:?} in {name}");
            }
        }
        for (measure, name, count) in [
            (Measure::DriverLoad, "cupboard-a", 1),
            (Measure::DriverLoad, "cupboard-b", 0),
            (Measure::Drivers, "cupboard-a", 1),
            (Measure::Drivers, &panel.name, 1),
            (Measure::Drivers, "cupboard-b", 0),
        ] {
            let many = found(&job, measure, cupboard(name)).len();
            assert_eq!(many, count, "{measure:?} in {name}");
        }
        let own = job.sizing.drivers[0].group.name.clone();
        assert_eq!(found(&job, Measure::DriverLoad, group(&own)).len(), 1);
        assert!(found(&job, Measure::DriverLoad, group("other")).is_empty());
        let elsewhere = Only {
            cupboard: named("cupboard-b"),
            ..group(&own)
        };
        assert!(found(&job, Measure::DriverLoad, elsewhere).is_empty());
    }

    #[test]
    fn what_is_not_known_can_not_be_told() {
        let mut job = job();
        job.sizing.runs[0].figures.colour_shift = None;
        job.allocation.loops[0].cable = None;
        let circuit = &mut job.allocation.circuits[0];
        circuit.drop = None;
        circuit.unknown_current = vec!["D-01".to_owned()];
        circuit.unknown_leakage = vec!["D-01".to_owned()];
        for measure in [
            Measure::ColourShift,
            Measure::BusDrop,
            Measure::CircuitDrop,
            Measure::CircuitLoad,
            Measure::Leakage,
        ] {
            assert_eq!(outcomes(&job, measure), ["cannot tell"], "{measure:?}");
        }
        for measure in [Measure::LoopCurrent, Measure::Drivers] {
            assert_eq!(outcomes(&job, measure), ["holds"], "{measure:?}");
        }
    }

    #[test]
    fn a_single_colour_has_no_shift_to_measure() {
        let mut job = Sample::new();
        job.sizing
            .runs
            .retain(|sized| sized.run.strip.channels.count() == 1);
        assert!(!job.sizing.runs.is_empty());
        assert!(outcomes(&job, Measure::ColourShift).is_empty());
    }

    #[test]
    fn one_that_loosens_a_published_limit_is_not_judged_again() {
        let mut job = job();
        let mut own = rule(&job, Measure::FeedDrop, Only::default());
        job.project.house_rules = vec![own.clone()];
        assert_eq!(judge(&job.evidence()).len(), 1);
        own.loosens = Some("feed-voltage-drop");
        job.project.house_rules = vec![own];
        assert!(judge(&job.evidence()).is_empty());
    }
}

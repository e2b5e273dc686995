//! Tests of the control bus.

use super::list::{Expected, Instrument, SiteTest, Stage};
use super::meter;
use crate::allocate::allocated::{Loop, Member};
use crate::norms::{iec_60364_6, iec_62386};
use crate::present::job::Job;
use crate::present::measured::volts;
use crate::quantity::Length;
use crate::quantity::figure::Unit;
use uom::si::electrical_resistance::megaohm;

/// The member with the most voltage lost, the first of equals; it is tested at.
pub(in crate::present) fn furthest(on: &Loop) -> Option<&Member> {
    let mut members = on.members.iter();
    let first = members.next()?;
    Some(members.fold(first, |worst, member| {
        if member.drop > worst.drop {
            member
        } else {
            worst
        }
    }))
}

/// Cable from the supply to where a member stands.
fn way_to(on: &Loop, member: &Member) -> Option<Length> {
    let mut way = Length::default();
    let mut here = &member.at.name;
    // The tree has no rings, so its stretches bound the number of steps.
    for _ in 0..=on.tree.len() {
        if *here == on.at.name {
            return Some(way);
        }
        let stretch = on.tree.iter().find(|stretch| stretch.to.name == *here)?;
        way += stretch.length;
        here = &stretch.from.name;
    }
    None
}

fn test(on: &Loop, stage: Stage, key: &str, what: &str) -> SiteTest {
    SiteTest {
        id: format!("{}/{key}", on.name),
        stage,
        run: None,
        place: on.at.title.clone(),
        subject: on.name.clone(),
        what: what.to_owned(),
        instrument: Instrument::LowOhms,
        expected: Expected::Finding("yes"),
    }
}

pub(super) fn dead(job: &Job) -> Vec<SiteTest> {
    let mut tests = Vec::new();
    for on in &job.allocation.loops {
        tests.push(SiteTest {
            expected: Expected::Finding("none"),
            ..test(
                on,
                Stage::BusDead,
                "ring",
                "continuity from one cable that leaves the supply to another: no ring",
            )
        });
        if let Some(far) = furthest(on) {
            tests.push(SiteTest {
                place: far.at.title.clone(),
                expected: loop_to(on, far),
                ..test(
                    on,
                    Stage::BusDead,
                    "continuity",
                    &format!("both cores, linked at the supply, at {}", far.device),
                )
            });
        }
        tests.push(insulation(job, on));
    }
    tests
}

fn loop_to(on: &Loop, member: &Member) -> Expected {
    match (&on.cable, way_to(on, member)) {
        (Some(cable), Some(length)) => meter::loop_of(cable, length),
        (None, _) => Expected::Unknown("no catalogue of the project has bus cable".to_owned()),
        (_, None) => Expected::Unknown("no route leads from the supply to this unit".to_owned()),
    }
}

fn insulation(job: &Job, on: &Loop) -> SiteTest {
    let test = |what: &str| SiteTest {
        instrument: Instrument::InsulationTester,
        ..test(on, Stage::BusDead, "insulation", what)
    };
    match iec_60364_6::low(job.project.region) {
        Some(asked) => SiteTest {
            expected: Expected::at_least(asked.least.get::<megaohm>(), Unit::Megohm),
            ..test(&format!(
                "both cores together to earth, as mains: {:.0} V d.c.",
                volts(asked.volts)
            ))
        },
        None => SiteTest {
            expected: Expected::Unknown(super::NO_INSULATION_FIGURE.to_owned()),
            ..test("both cores together to earth, as mains")
        },
    }
}

pub(super) fn live(job: &Job) -> Vec<SiteTest> {
    let levels = iec_62386::voltages();
    let idle = volts(levels.idle);
    let read = |value: f64, low, high| {
        let (low, high) = (volts(low), volts(high));
        let (low, high) = (low * (1.0 - meter::VOLTS), high * (1.0 + meter::VOLTS));
        Expected::between(Some(value), low, high, Unit::Volt)
    };
    let mut tests = Vec::new();
    for on in &job.allocation.loops {
        tests.push(SiteTest {
            instrument: Instrument::Voltmeter,
            expected: read(idle, levels.sender_high_least, levels.sender_high_most),
            ..test(
                on,
                Stage::BusLive,
                "volts-supply",
                "core to core, at the supply",
            )
        });
        if let Some(far) = furthest(on) {
            tests.push(SiteTest {
                place: far.at.title.clone(),
                instrument: Instrument::Voltmeter,
                expected: read(
                    idle - volts(far.drop),
                    levels.receiver_high_least,
                    levels.receiver_high_most,
                ),
                ..test(
                    on,
                    Stage::BusLive,
                    "volts-far",
                    &format!("core to core, at the furthest unit, {}", far.device),
                )
            });
        }
    }
    tests
}

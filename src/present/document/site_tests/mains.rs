//! Tests of mains circuits.

use super::list::{Expected, Instrument, SiteTest, Stage};
use super::meter;
use crate::allocate::allocated::Circuit;
use crate::norms::region::Region;
use crate::norms::{iec_60364_6, residual};
use crate::present::document::cell::joined;
use crate::present::job::Job;
use crate::present::measured::{amperes, percent, seconds, volts};
use crate::quantity::Length;
use crate::quantity::figure::Unit;
use crate::solve::expected::CABLE_LENGTH;
use uom::si::electrical_resistance::megaohm;

const NO_PROTECTIVE_SIZE: &str =
    "the catalogue does not give the size of the cable's protective conductor";

pub(super) fn dead(job: &Job) -> Vec<SiteTest> {
    let circuits = job.allocation.circuits.iter();
    circuits.flat_map(|circuit| dead_of(job, circuit)).collect()
}

fn test(circuit: &Circuit, stage: Stage, key: &str, what: String) -> SiteTest {
    let place = match stage {
        Stage::MainsLive => circuit
            .panel
            .iter()
            .map(|panel| panel.title.as_str())
            .collect(),
        _ => joined(circuit.places.iter().map(|place| place.title.as_str())),
    };
    SiteTest {
        id: format!("{}/{key}", circuit.name),
        stage,
        run: None,
        place,
        subject: circuit.name.clone(),
        what,
        instrument: Instrument::LowOhms,
        expected: Expected::Finding("yes"),
    }
}

fn dead_of(job: &Job, circuit: &Circuit) -> Vec<SiteTest> {
    let with = |key: &str, what: &str, instrument, expected| SiteTest {
        instrument,
        expected,
        ..test(circuit, Stage::MainsDead, key, what.to_owned())
    };
    let (protective, line) = conductors(job.project.region);
    vec![
        with(
            "protective-conductor",
            &format!("{protective}, from the panel to the furthest terminal"),
            Instrument::LowOhms,
            Expected::Unknown(NO_PROTECTIVE_SIZE.to_owned()),
        ),
        with(
            "continuity",
            "line with neutral, linked at the furthest terminal",
            Instrument::LowOhms,
            continuity(circuit),
        ),
        insulation(job, circuit, protective),
        with(
            "polarity",
            line,
            Instrument::LowOhms,
            Expected::Finding("yes"),
        ),
    ]
}

/// What the region calls the protective conductor, and how polarity must be found.
fn conductors(region: Region) -> (&'static str, &'static str) {
    match region {
        Region::NorthAmerica => (
            "equipment grounding conductor",
            "polarity: breaker in the ungrounded conductor, none in the grounded one",
        ),
        Region::Iec => (
            "protective conductor",
            "polarity: breaker in the line, none in neutral alone",
        ),
        Region::AusNz => (
            "protective earth",
            "polarity: breaker in the active, none in neutral alone",
        ),
    }
}

fn continuity(circuit: &Circuit) -> Expected {
    match (&circuit.cable, circuit.length) {
        (Some(cable), Some(length)) if length <= Length::default() => {
            match meter::tails_of(cable) {
                Some(most) => Expected::at_most(most, Unit::Ohm),
                None => {
                    Expected::Unknown(format!("no table has the conductor of {}", cable.offer.id))
                }
            }
        }
        (Some(cable), Some(length)) => meter::loop_of(cable, length),
        (None, _) => Expected::Unknown("no catalogue of the project has mains cable".to_owned()),
        (_, None) => Expected::Unknown("no route leads from the panel to this place".to_owned()),
    }
}

fn insulation(job: &Job, circuit: &Circuit, protective: &str) -> SiteTest {
    let test = |what: String| SiteTest {
        instrument: Instrument::InsulationTester,
        ..test(circuit, Stage::MainsDead, "insulation", what)
    };
    match iec_60364_6::low(job.project.region) {
        Some(asked) => SiteTest {
            expected: Expected::at_least(asked.least.get::<megaohm>(), Unit::Megohm),
            ..test(format!(
                "line with neutral, to {protective}, {:.0} V d.c.",
                volts(asked.volts)
            ))
        },
        None => SiteTest {
            expected: Expected::Unknown(super::NO_INSULATION_FIGURE.to_owned()),
            ..test(format!("line with neutral, to {protective}"))
        },
    }
}

pub(super) fn live(job: &Job) -> Vec<SiteTest> {
    let circuits = job.allocation.circuits.iter();
    circuits.flat_map(|circuit| live_of(job, circuit)).collect()
}

fn live_of(job: &Job, circuit: &Circuit) -> Vec<SiteTest> {
    let project = &job.project;
    let with = |key: &str, what: String, instrument, expected| SiteTest {
        instrument,
        expected,
        ..test(circuit, Stage::MainsLive, key, what)
    };
    let nominal = volts(project.supply.voltage);
    let off = percent(iec_60364_6::supply_variation(project.region)) / 100.0;
    let supply = Expected::between(
        Some(nominal),
        nominal * (1.0 - off) * (1.0 - meter::VOLTS),
        nominal * (1.0 + off) * (1.0 + meter::VOLTS),
        Unit::Volt,
    );
    let drop = circuit.drop.map_or_else(
        || Expected::Unknown("its length, cable or current is not known".to_owned()),
        |share| {
            let lost = percent(share) / 100.0 * (1.0 + CABLE_LENGTH);
            let read = 2.0 * meter::MAINS_DIGIT_VOLT / nominal;
            Expected::at_most(100.0 * (lost + read), Unit::Percent)
        },
    );
    let load = if circuit.unknown_current.is_empty() {
        let most = amperes(circuit.current) * (1.0 + meter::CLAMP);
        Expected::at_most(most, Unit::Ampere)
    } else {
        let silent = joined(&circuit.unknown_current);
        Expected::Unknown(format!("mains current of {silent} is not in the catalogue"))
    };
    let far = joined(circuit.places.iter().map(|place| place.title.as_str()));
    let mut tests = Vec::new();
    if let Some(rated) = project.circuits.residual {
        let what = format!(
            "time in which the {} trips at its rated current",
            device(rated)
        );
        let most = Expected::at_most(seconds(residual::slowest_trip()), Unit::Second);
        tests.push(with(
            "residual-trip",
            what,
            Instrument::ResidualTester,
            most,
        ));
    }
    tests.extend([
        with(
            "supply",
            "line to neutral, at the breaker".to_owned(),
            Instrument::MainsVoltmeter,
            supply,
        ),
        with(
            "drop",
            format!("line to neutral, share lost from the panel to {far}"),
            Instrument::MainsVoltmeter,
            drop,
        ),
        with(
            "current",
            "line, at the breaker".to_owned(),
            Instrument::MainsClamp,
            load,
        ),
    ]);
    tests
}

fn device(rated: crate::quantity::Current) -> String {
    format!(
        "{:.0} mA residual-current device",
        crate::present::measured::milliamperes(rated)
    )
}

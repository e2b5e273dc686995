//! Rules of the house: bounds from the project file on what the program measures anyway.

use super::finding::Finding;
use super::rule::Evidence;
use super::verdict::Verdict;
use crate::model::project::{HouseRule, Measure};
use crate::norms::limit::{Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use uom::si::electric_current::{ampere, milliampere};
use uom::si::ratio::percent;

/// Judges every rule of the house on everything that it measures.
pub fn judge(evidence: &Evidence<'_>) -> Vec<Verdict> {
    let rules = &evidence.project.house_rules;
    rules
        .iter()
        .flat_map(|rule| of_rule(evidence, rule))
        .collect()
}

fn of_rule(evidence: &Evidence<'_>, rule: &HouseRule) -> Vec<Verdict> {
    let limit = Limit {
        value: rule.value,
        bound: rule.bound,
        source: Source::Project,
    };
    let reason = rule.because.as_deref().unwrap_or("no reason given");
    let source = format!("house rule: {reason}");
    let verdict = |subject: String, figure: Figure| {
        Finding::measured(subject, figure, &limit)
            .from_source(&source)
            .at(&rule.place)
            .into_verdict(&rule.id, rule.severity, &source)
    };
    measured(evidence, rule.measure)
        .into_iter()
        .map(|(s, f)| verdict(s, f))
        .collect()
}

/// Everything that a measure can be read from, with the figure.
fn measured(evidence: &Evidence<'_>, measure: Measure) -> Vec<(String, Figure)> {
    match measure {
        Measure::FeedDrop | Measure::LightDrop | Measure::LightEvenness | Measure::ColourShift => {
            of_runs(evidence, measure)
        }
        Measure::DriverLoad => of_drivers(evidence),
        Measure::GearCount | Measure::ControlDeviceCount | Measure::LoopCurrent => {
            of_loops(evidence, measure)
        }
        Measure::CircuitLoad => of_circuits(evidence),
    }
}

fn of_runs(evidence: &Evidence<'_>, measure: Measure) -> Vec<(String, Figure)> {
    let figure = |run: &crate::choose::sized::SizedRun| {
        let figures = &run.figures;
        let percents =
            |share: crate::quantity::Ratio| Figure::new(share.get::<percent>(), Unit::Percent);
        match measure {
            Measure::FeedDrop => Some(percents(figures.feed_drop_share)),
            Measure::LightEvenness => Some(percents(figures.evenness)),
            Measure::ColourShift => figures.colour_shift.map(|s| Figure::new(s, Unit::Steps)),
            _ => Some(Figure::new(
                100.0 - figures.light_least.get::<percent>(),
                Unit::Percent,
            )),
        }
    };
    let runs = evidence.sizing.runs.iter();
    runs.filter_map(|run| Some((format!("run {}", run.run.name), figure(run)?)))
        .collect()
}

fn of_drivers(evidence: &Evidence<'_>) -> Vec<(String, Figure)> {
    let drivers = evidence.sizing.drivers.iter();
    let figure = |d: &crate::choose::sized::SizedDriver| {
        Figure::new(d.load_share.get::<percent>(), Unit::Percent)
    };
    drivers
        .map(|driver| (format!("driver {}", driver.number), figure(driver)))
        .collect()
}

fn of_loops(evidence: &Evidence<'_>, measure: Measure) -> Vec<(String, Figure)> {
    let figure = |bus: &crate::allocate::allocated::Loop| match measure {
        Measure::GearCount => Figure::new(real(bus.gear), Unit::Count),
        Measure::ControlDeviceCount => Figure::new(real(bus.control_devices), Unit::Count),
        _ => Figure::new(bus.current.get::<milliampere>(), Unit::Milliampere),
    };
    let loops = evidence.allocation.loops.iter();
    loops
        .map(|bus| (format!("loop {}", bus.name), figure(bus)))
        .collect()
}

fn of_circuits(evidence: &Evidence<'_>) -> Vec<(String, Figure)> {
    let circuits = evidence.allocation.circuits.iter();
    let figure = |circuit: &crate::allocate::allocated::Circuit| {
        let rated = f64::from(circuit.breaker.amperes);
        Figure::new(
            100.0 * circuit.current.get::<ampere>() / rated,
            Unit::Percent,
        )
    };
    circuits
        .map(|circuit| (format!("circuit {}", circuit.name), figure(circuit)))
        .collect()
}

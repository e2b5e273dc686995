//! Strips and other distributors with load along them, by the ladder.

use super::cables::celsius;
use super::row::{Answer, Row};
use feedpoint::norms::limit::{Bound, Limit, Source};
use feedpoint::quantity::resistance_per_length::ohms_per_metre;
use feedpoint::quantity::{Length, PowerPerLength, Ratio, Resistance, Voltage};
use feedpoint::solve::bus::{Bus, BusEdge, BusSource, BusUnit, figures};
use feedpoint::solve::longest::{Arrangement, Cores, Longest, longest_run};
use feedpoint::solve::rails::track;
use feedpoint::solve::strip::{Ladder, LadderChannel, LadderFeed, Lit, State, StringLaw, solve};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::length::{meter, micrometer, millimeter};
use uom::si::linear_power_density::watt_per_meter;
use uom::si::ratio::percent;

pub fn answer(row: &Row) -> Option<Answer> {
    textbook(row)
        .or_else(|| constant_current(row))
        .or_else(|| resistor(row))
        .or_else(|| light_lost(row))
        .or_else(|| two_channels(row))
        .map(Answer::Is)
}

/// Segments per strip: so many that the formulas, which know none, are met.
const SEGMENTS: usize = 1000;

struct Distributor {
    volts: f64,
    metres: f64,
    amperes_per_metre: f64,
    /// One conductor.
    ohm_per_metre: f64,
    law: StringLaw,
    channels: usize,
}

fn steady(volts: f64) -> StringLaw {
    StringLaw::Regulated {
        starts_at: Voltage::new::<volt>(0.1 * volts),
        regulated_from: Voltage::new::<volt>(0.2 * volts),
    }
}

fn no_cable(cut: usize, channels: usize) -> LadderFeed {
    LadderFeed {
        cut,
        plus: Resistance::default(),
        returns: vec![Resistance::default(); channels],
    }
}

impl Distributor {
    fn ladder(&self, segments: usize, feeds: Vec<LadderFeed>) -> Ladder {
        let rail = ohms_per_metre(self.ohm_per_metre);
        let channel = LadderChannel {
            return_rail: rail,
            power: PowerPerLength::new::<watt_per_meter>(self.amperes_per_metre * self.volts),
            flux: None,
            law: self.law,
        };
        Ladder {
            supply: Voltage::new::<volt>(self.volts),
            nominal: Voltage::new::<volt>(self.volts),
            segment: Length::new::<meter>(self.metres / SEGMENTS as f64),
            segments,
            plus_rail: rail,
            channels: vec![channel; self.channels],
            feeds,
        }
    }

    fn fed(&self, cuts: &[usize]) -> State {
        let feeds = cuts
            .iter()
            .map(|cut| no_cable(*cut, self.channels))
            .collect();
        let ladder = self.ladder(SEGMENTS, feeds);
        solve(&ladder, *Lit::states(self.channels).last().unwrap()).unwrap()
    }

    fn drop(&self, cuts: &[usize]) -> f64 {
        self.volts - self.fed(cuts).least_volts()
    }
}

fn distributor(volts: f64, metres: f64, amperes_per_metre: f64, ohm_per_km: f64) -> Distributor {
    Distributor {
        volts,
        metres,
        amperes_per_metre,
        ohm_per_metre: ohm_per_km / 1000.0,
        law: steady(volts),
        channels: 1,
    }
}

/// Mehta and Mehta, Principles of Power System, chapter 13.
fn textbook(row: &Row) -> Option<f64> {
    let both_ends = || distributor(220.0, 1000.0, 0.5, 0.05);
    let one_end = || distributor(220.0, 200.0, 2.0, 0.3);
    let raised = || distributor(270.0, 250.0, 1.6, 0.2);
    match row.id.as_str() {
        "dc-13-14-drop" => Some(both_ends().drop(&[0, SEGMENTS])),
        "dc-13-14-min" => Some(both_ends().fed(&[0, SEGMENTS]).least_volts()),
        "dc-13-11-150" => {
            let volts = &one_end().fed(&[0]).channels[0].volts;
            let at = SEGMENTS * 3 / 4;
            Some(220.0 - 0.5 * (volts[at - 1] + volts[at]))
        }
        "dc-13-11-end" => Some(one_end().drop(&[0])),
        // 270 V at the feed leaves 250 V at the far end: asked the other way round.
        "dc-13-13-end" => Some(raised().drop(&[0]) + 250.0),
        _ => concentrated(row.after("dc-13-1-")?),
    }
}

/// Concentrated loads on one line, by the solver for lines with loads at nodes: 100 A at 500 m,
/// 150 A at 1000 m, 200 A at 1600 m, 50 A at 2000 m, 0.02 Ω/km go and return.
fn concentrated(node: &str) -> Option<f64> {
    let at = ["a", "c", "d", "e", "b"]
        .iter()
        .position(|name| *name == node)?;
    let lengths = [500.0, 500.0, 600.0, 400.0];
    let edges = lengths.iter().enumerate().map(|(a, metres)| BusEdge {
        a,
        b: a + 1,
        length: Length::new::<meter>(*metres),
        resistance: Resistance::new::<ohm>(0.02 / 1000.0 * metres),
    });
    let loads = [100.0, 150.0, 200.0, 50.0];
    let units = loads.iter().enumerate().map(|(before, amperes)| BusUnit {
        node: before + 1,
        draw: uom::si::f64::ElectricCurrent::new::<ampere>(*amperes),
    });
    let line = Bus {
        nodes: 5,
        edges: edges.collect(),
        units: units.collect(),
        sources: vec![BusSource {
            node: 0,
            maximum: uom::si::f64::ElectricCurrent::new::<ampere>(500.0),
        }],
    };
    let drops = figures(&line).unwrap().drops;
    Some(300.0 - drops[at - 1].get::<volt>())
}

/// 24 V, 14.4 W/m, 5 m, both rails 0.12 Ω/m.
fn strip(law: StringLaw) -> Distributor {
    Distributor {
        law,
        ..distributor(24.0, 5.0, 0.6, 60.0)
    }
}

fn constant_current(row: &Row) -> Option<f64> {
    let strip = strip(steady(24.0));
    match row.id.as_str() {
        "strip-end" => Some(strip.drop(&[0])),
        "strip-both" => Some(strip.drop(&[0, SEGMENTS])),
        "strip-mid" => Some(strip.drop(&[SEGMENTS / 2])),
        "strip-20v" => Some(strip.drop(&[0]) / 24.0 * 100.0),
        _ => None,
    }
}

fn light_from(volts: f64) -> StringLaw {
    StringLaw::Resistor {
        starts_at: Voltage::new::<volt>(volts),
    }
}

fn resistor(row: &Row) -> Option<f64> {
    let strip = strip(light_from(18.0));
    match row.id.as_str() {
        "strip-res-end-v" => Some(strip.fed(&[0]).end_volts()),
        "strip-res-end-light" => Some(100.0 * strip.fed(&[0]).darkest()),
        "strip-res-current" => Some(strip.fed(&[0]).source_current.get::<ampere>()),
        "strip-res-both-light" => Some(100.0 * strip.fed(&[0, SEGMENTS]).darkest()),
        "strip-run-10" => {
            let cores = Cores {
                plus: Resistance::default(),
                returns: vec![Resistance::default()],
            };
            let limit = Limit {
                value: Ratio::new::<percent>(10.0),
                bound: Bound::AtMost,
                source: Source::Project,
            };
            let build = |segments, feeds| strip.ladder(segments, feeds);
            match longest_run(build, Arrangement::Start, &cores, &limit) {
                Longest::Segments(segments) => Some(segments as f64 * 5.0 / SEGMENTS as f64),
                _ => None,
            }
        }
        "rail-copper" => {
            let (thickness, width) = (
                Length::new::<micrometer>(70.0),
                Length::new::<millimeter>(3.0),
            );
            Some(track(thickness, width, celsius(20.0)).value)
        }
        _ => None,
    }
}

/// `light-loss-24-18`: light lost by a segment at 24 V whose light starts at 18 V when it has 5 %
/// less voltage.
fn light_lost(row: &Row) -> Option<f64> {
    let (nominal, starts) = row.after("light-loss-")?.split_once('-')?;
    let nominal: f64 = nominal.parse().ok()?;
    let mut one = distributor(nominal, 1.0, 1.0, 0.0);
    one.law = light_from(starts.parse().ok()?);
    let mut ladder = one.ladder(1, vec![no_cable(0, 1)]);
    ladder.supply *= 0.95;
    let state = solve(&ladder, Lit::On)?;
    Some(100.0 * (1.0 - state.darkest()))
}

fn two_channels(row: &Row) -> Option<f64> {
    if row.id != "tw-both-on" {
        return None;
    }
    let mut pair = distributor(24.0, 5.0, 0.4, 50.0);
    pair.channels = 2;
    let mut ladder = pair.ladder(SEGMENTS, vec![no_cable(0, 2)]);
    ladder.plus_rail = ohms_per_metre(0.030);
    let state = solve(&ladder, Lit::Both)?;
    Some(24.0 - state.channels[1].end_volts())
}

//! The ladder against closed forms of a strip without segments: `tests/oracle/strip_closed_form.json`.
//! A ladder of N segments comes within about (kL/N)² of them.

use feedpoint::norms::limit::{Bound, Limit, Source};
use feedpoint::quantity::resistance_per_length::ohms_per_metre;
use feedpoint::quantity::{Length, PowerPerLength, Ratio, Resistance, Voltage};
use feedpoint::solve::longest::{Arrangement, Cores, Longest, longest_run};
use feedpoint::solve::strip::{Ladder, LadderChannel, LadderFeed, Lit, State, StringLaw, solve};
use serde_json::Value;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::length::meter;
use uom::si::linear_power_density::watt_per_meter;
use uom::si::ratio::ratio;

const CASES: &str = include_str!("oracle/strip_closed_form.json");

/// Lengths and places are in whole centimetres, so that every feed stands at a cut.
const PER_CENTIMETRE: usize = 4;

fn centimetres(value: &Value) -> usize {
    (number(value) * 100.0).round() as usize
}

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("a number, not {value}"))
}

/// Half of the cable's resistance in each core.
fn cores(case: &Value) -> Cores {
    let half = Resistance::new::<ohm>(number(&case["cable_ohm"]) / 2.0);
    Cores {
        plus: half,
        returns: vec![half],
    }
}

/// A third of the rails' resistance in the plus rail: only their sum counts.
fn ladder(case: &Value, law: StringLaw, segment: f64, n: usize, feeds: Vec<LadderFeed>) -> Ladder {
    let rails = number(&case["rails_ohm_per_m"]);
    Ladder {
        supply: Voltage::new::<volt>(number(&case["supply_v"])),
        nominal: Voltage::new::<volt>(number(&case["nominal_v"])),
        segment: Length::new::<meter>(segment),
        segments: n,
        plus_rail: ohms_per_metre(rails / 3.0),
        channels: vec![LadderChannel {
            return_rail: ohms_per_metre(rails * 2.0 / 3.0),
            power: PowerPerLength::new::<watt_per_meter>(number(&case["rated_w_per_m"])),
            flux: None,
            law,
        }],
        feeds,
    }
}

fn resistor(case: &Value) -> StringLaw {
    StringLaw::Resistor {
        starts_at: Voltage::new::<volt>(number(&case["v0_v"])),
    }
}

/// Constant current down to `from`.
fn regulated(from: f64) -> StringLaw {
    StringLaw::Regulated {
        starts_at: Voltage::new::<volt>(0.5 * from),
        regulated_from: Voltage::new::<volt>(from),
    }
}

/// The cut at the far end.
fn end(case: &Value) -> usize {
    centimetres(&case["length_m"]) * PER_CENTIMETRE
}

fn fed(case: &Value, law: StringLaw, cuts: &[usize]) -> State {
    let segment = 0.01 / PER_CENTIMETRE as f64;
    let cores = cores(case);
    let feeds = cuts.iter().map(|cut| cores.feed(*cut)).collect();
    solve(&ladder(case, law, segment, end(case), feeds), Lit::On).unwrap()
}

struct Comparison(Vec<String>);

impl Comparison {
    fn near(&mut self, case: &Value, key: &str, found: f64, expected: f64, tolerance: f64) {
        if (found / expected - 1.0).abs() > tolerance || found.is_nan() {
            let id = &case["id"];
            self.0
                .push(format!("{id} {key}: found {found}, expected {expected}"));
        }
    }

    /// Least volts, least light and current of a strip fed at `cuts`. The last load of a ladder
    /// stands half a segment from the end, which is a second-order difference.
    fn strip(&mut self, case: &Value, law: StringLaw, cuts: &[usize]) {
        let found = fed(case, law, cuts);
        let channel = &found.channels[0];
        let expected = &case["expected"];
        let mut near = |key: &str, found: f64| {
            if let Some(expected) = expected[key].as_f64() {
                self.near(case, key, found, expected, 2e-6);
            }
        };
        near("v_min_v", channel.least_volts());
        near("light_min", channel.least_light());
        near("source_a", found.source_current.value);
        near("v_end_v", channel.end_volts());
        near("v_start_v", channel.volts[0]);
    }
}

fn limit(drop: f64) -> Limit<Ratio> {
    Limit {
        value: Ratio::new::<ratio>(drop),
        bound: Bound::AtMost,
        source: Source::Project,
    }
}

/// The longest run in metres, by segments of 2 mm.
fn longest(case: &Value, law: StringLaw, cores: &Cores, drop: f64) -> f64 {
    const SEGMENT: f64 = 0.002;
    let build = |n, feeds| ladder(case, law, SEGMENT, n, feeds);
    match longest_run(build, Arrangement::Start, cores, &limit(drop)) {
        Longest::Segments(n) => n as f64 * SEGMENT,
        other => panic!("{}: {other:?}", case["id"]),
    }
}

#[test]
fn every_closed_form_is_reached() {
    let file: Value = serde_json::from_str(CASES).unwrap();
    let cases = file["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 42);
    let mut seen = Comparison(Vec::new());
    for case in cases {
        let expected = &case["expected"];
        let steady = regulated(1.0);
        match case["kind"].as_str().unwrap() {
            "resistor_one_end" => seen.strip(case, resistor(case), &[0]),
            "resistor_both_ends" => seen.strip(case, resistor(case), &[0, end(case)]),
            "constant_current_one_end" => seen.strip(case, steady, &[0]),
            "constant_current_both_ends" => seen.strip(case, steady, &[0, end(case)]),
            "constant_current_point" => {
                let at = centimetres(&case["feed_at_m"]) * PER_CENTIMETRE;
                seen.strip(case, steady, &[at]);
            }
            // Between the fed pad and the end, so without the cable and at nominal supply.
            "longest_resistor_one_end" => {
                let none = Cores {
                    plus: Resistance::default(),
                    returns: vec![Resistance::default()],
                };
                let mut at_nominal = case.clone();
                at_nominal["supply_v"] = case["nominal_v"].clone();
                let drop = 1.0 - number(&case["min_ratio"]);
                let found = longest(&at_nominal, resistor(case), &none, drop);
                let wanted = number(&expected["longest_m"]);
                seen.near(case, "longest_m", found, wanted, 0.0025 / wanted);
            }
            // Light falls as soon as more than the allowed volts are lost.
            "longest_constant_current_one_end" => {
                let law = regulated(number(&case["supply_v"]) - number(&case["drop_v"]));
                let found = longest(case, law, &cores(case), 0.0);
                let wanted = number(&expected["longest_m"]);
                seen.near(case, "longest_m", found, wanted, 0.0025 / wanted);
            }
            other => panic!("unknown kind {other}"),
        }
    }
    assert!(seen.0.is_empty(), "{}", seen.0.join("\n"));
}

//! The ladder of one strip against an independent solver: 47 strips in `tests/oracle/strip_ladder.json`,
//! whose `how` text states the model (general sparse Newton in Python; a subset re-solved by a
//! circuit simulator).

use feedpoint::quantity::flux_per_length::lumens_per_metre;
use feedpoint::quantity::resistance_per_length::ohms_per_metre;
use feedpoint::quantity::{Length, PowerPerLength, Resistance, Voltage};
use feedpoint::solve::strip::{
    ChannelState, Ladder, LadderChannel, LadderFeed, Lit, State, StringLaw, solve,
};
use serde_json::Value;

use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::length::meter;
use uom::si::linear_power_density::watt_per_meter;

const CASES: &str = include_str!("oracle/strip_ladder.json");

/// Asked of every figure. The cases are printed to 12 digits.
const TOLERANCE: f64 = 1e-9;

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("a number, not {value}"))
}

fn channel(case: &Value) -> LadderChannel {
    let string = &case["string"];
    let volts = |key: &str| Voltage::new::<volt>(number(&string[key]));
    LadderChannel {
        return_rail: ohms_per_metre(number(&case["r_return_ohm_per_m"])),
        power: PowerPerLength::new::<watt_per_meter>(number(&case["rated_w_per_m"])),
        flux: Some(lumens_per_metre(number(&case["rated_lm_per_m"]))),
        law: match string["model"].as_str() {
            Some("resistor") => StringLaw::Resistor {
                starts_at: volts("v0_v"),
            },
            Some("constant_current") => StringLaw::Regulated {
                starts_at: volts("v0_v"),
                regulated_from: volts("vd_v"),
            },
            Some("constant_power") => StringLaw::Converter,
            other => panic!("unknown string model {other:?}"),
        },
    }
}

fn ladder(case: &Value) -> Ladder {
    let strip = &case["strip"];
    let channels = strip["channels"].as_array().unwrap();
    Ladder {
        supply: Voltage::new::<volt>(number(&case["supply_v"])),
        nominal: Voltage::new::<volt>(channels[0]["string"]["nominal_v"].as_f64().unwrap_or(24.0)),
        segment: Length::new::<meter>(number(&strip["segment_m"])),
        segments: usize::try_from(strip["segments"].as_u64().unwrap()).unwrap(),
        plus_rail: ohms_per_metre(number(&strip["r_plus_ohm_per_m"])),
        channels: channels.iter().map(channel).collect(),
        feeds: case["feeds"]
            .as_array()
            .unwrap()
            .iter()
            .map(|feed| LadderFeed {
                cut: usize::try_from(feed["cut_index"].as_u64().unwrap()).unwrap(),
                plus: Resistance::new::<ohm>(number(&feed["core_plus_ohm"])),
                returns: feed["core_return_ohm"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .map(|core| Resistance::new::<ohm>(number(core)))
                    .collect(),
            })
            .collect(),
    }
}

/// Collects what differs, so that all of it is reported at once.
struct Comparison {
    faults: Vec<String>,
    compared: usize,
}

impl Comparison {
    fn near(&mut self, what: &str, found: f64, expected: &Value, scale: f64) {
        let expected = number(expected);
        self.compared += 1;
        let allowed = TOLERANCE * expected.abs().max(scale);
        if (found - expected).abs() > allowed || found.is_nan() {
            self.faults.push(format!(
                "{what}: found {found:.12}, expected {expected:.12}"
            ));
        }
    }
}

fn least(values: &[f64]) -> f64 {
    values.iter().copied().fold(f64::INFINITY, f64::min)
}

fn most(values: &[f64]) -> f64 {
    values.iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

fn compare_channel(seen: &mut Comparison, at: &str, found: &ChannelState, expected: &Value) {
    let mut near = |key: &str, value: f64| {
        seen.near(&format!("{at} {key}"), value, &expected[key], 0.0);
    };
    near("v_min_v", least(&found.volts));
    near("v_max_v", most(&found.volts));
    near("v_end_v", *found.volts.last().unwrap());
    near("i_min_a", least(&found.amperes));
    near("i_max_a", most(&found.amperes));
    near("i_end_a", *found.amperes.last().unwrap());
    near("i_total_a", found.current.value);
    near("light_min", least(&found.light));
    near("light_max", most(&found.light));
    near("light_end", *found.light.last().unwrap());
    if !expected["uniformity_min_over_max"].is_null() {
        near(
            "uniformity_min_over_max",
            least(&found.light) / most(&found.light),
        );
    }
    let dark = found.light.iter().filter(|light| **light <= 0.0).count();
    assert_eq!(
        Some(dark as u64),
        expected["dark_segments"].as_u64(),
        "{at} dark segments"
    );
    for place in expected["profile"].as_array().unwrap() {
        let segment = usize::try_from(place["segment"].as_u64().unwrap()).unwrap();
        seen.near(
            &format!("{at} segment {segment}"),
            found.volts[segment],
            &place["v_v"],
            0.0,
        );
    }
}

fn compare(seen: &mut Comparison, at: &str, case: &Value, found: &State, expected: &Value) {
    let source = number(&expected["source_a"]);
    let watts = number(&expected["source_w"]);
    let figures = [
        ("source_a", found.source_current.value, source),
        ("source_w", found.source_power.value, watts),
        ("strip_w", found.strip_power.value, watts),
        ("cable_loss_w", found.cable_loss.value, watts),
        ("rail_loss_w", found.rail_loss.value, watts),
    ];
    for (key, value, scale) in figures {
        // The reference finds the rails' loss as a small difference of large powers, so it is
        // compared on the scale of those.
        let scale = if key == "rail_loss_w" { scale } else { 0.0 };
        seen.near(&format!("{at} {key}"), value, &expected[key], scale);
    }
    let names = case["strip"]["channels"].as_array().unwrap();
    for (feed, wanted) in found
        .feeds
        .iter()
        .zip(expected["feeds"].as_array().unwrap())
    {
        seen.near(
            &format!("{at} plus"),
            feed.plus.value,
            &wanted["plus_a"],
            0.0,
        );
        for (current, channel) in feed.returns.iter().zip(&found.channels) {
            let name = names[channel.channel]["name"].as_str().unwrap();
            let wanted = &wanted["return_a"][name];
            seen.near(&format!("{at} return {name}"), current.value, wanted, 0.0);
        }
    }
    for channel in &found.channels {
        let name = names[channel.channel]["name"].as_str().unwrap();
        let wanted = &expected["channels"][name];
        compare_channel(seen, &format!("{at} {name}"), channel, wanted);
    }
}

fn name_of(lit: Lit) -> &'static str {
    match lit {
        Lit::On => "on",
        Lit::Warm => "warm_only",
        Lit::Cool => "cool_only",
        Lit::Both => "both_full",
    }
}

#[test]
fn every_strip_agrees_with_the_reference() {
    let file: Value = serde_json::from_str(CASES).unwrap();
    let mut seen = Comparison {
        faults: Vec::new(),
        compared: 0,
    };
    let mut strips = 0;
    for case in file["cases"].as_array().unwrap() {
        strips += 1;
        let ladder = ladder(case);
        for &lit in Lit::states(ladder.channels.len()) {
            let expected = &case["expected"][name_of(lit)];
            let at = format!("{} {}", case["id"].as_str().unwrap(), lit.name());
            match solve(&ladder, lit) {
                None => {
                    if expected["operating_point"] != false {
                        seen.faults.push(format!("{at}: no working point found"));
                    }
                }
                Some(state) if expected["operating_point"] == true => {
                    compare(&mut seen, &at, case, &state, expected);
                }
                Some(_) => seen.faults.push(format!("{at}: it has no working point")),
            }
        }
    }
    assert_eq!(strips, 47);
    assert!(seen.compared > 2000, "compared only {}", seen.compared);
    assert!(
        seen.faults.is_empty(),
        "{} of {} figures differ:\n{}",
        seen.faults.len(),
        seen.compared,
        seen.faults.join("\n")
    );
}

#[test]
fn power_balances_in_every_state() {
    let file: Value = serde_json::from_str(CASES).unwrap();
    for case in file["cases"].as_array().unwrap() {
        let ladder = ladder(case);
        for &lit in Lit::states(ladder.channels.len()) {
            let Some(state) = solve(&ladder, lit) else {
                continue;
            };
            let out = state.strip_power + state.cable_loss + state.rail_loss;
            let off = ((state.source_power - out) / state.source_power)
                .value
                .abs();
            assert!(off < 1e-9, "{} {}: off by {off:e}", case["id"], lit.name());
            let returned: f64 = state
                .feeds
                .iter()
                .flat_map(|feed| feed.returns.iter().map(|current| current.value))
                .sum();
            let off = (returned / state.source_current.value - 1.0).abs();
            assert!(
                off < 1e-9,
                "{} {}: current off by {off:e}",
                case["id"],
                lit.name()
            );
        }
    }
}

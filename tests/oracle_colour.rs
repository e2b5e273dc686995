//! Mixed whites against an independent calculation: `tests/oracle/colour.json` (dense locus by
//! direct summation, minimised numerically; observer data of CIE 15; compared there with Ohno 2013).

use feedpoint::quantity::Temperature;
use feedpoint::solve::colour::{Chromaticity, cool_share_for, mix};
use serde_json::Value;
use uom::si::thermodynamic_temperature::kelvin;

const CASES: &str = include_str!("oracle/colour.json");

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("a number, not {value}"))
}

fn given(white: &Value) -> Chromaticity {
    Chromaticity {
        x: number(&white["x"]),
        y: number(&white["y"]),
    }
}

fn of_kelvin(value: f64) -> Temperature {
    Temperature::new::<kelvin>(value)
}

struct Comparison {
    tolerance: Value,
    faults: Vec<String>,
    compared: usize,
}

impl Comparison {
    fn near(&mut self, id: &str, kind: &str, found: f64, expected: &Value) {
        let expected = number(expected);
        self.compared += 1;
        if (found - expected).abs() > number(&self.tolerance[kind]) || found.is_nan() {
            self.faults.push(format!(
                "{id} {kind}: found {found:.10}, expected {expected:.10}"
            ));
        }
    }

    fn mixed(&mut self, id: &str, mixed: Chromaticity, expected: &Value) {
        if expected.get("x").is_some() {
            let [u, v] = mixed.uv_prime();
            self.near(id, "xy", mixed.x, &expected["x"]);
            self.near(id, "xy", mixed.y, &expected["y"]);
            self.near(id, "xy", u, &expected["u_prime"]);
            self.near(id, "xy", v, &expected["v_prime"]);
        }
        let white = mixed.white().unwrap();
        let found = white.temperature.get::<kelvin>();
        self.near(id, "cct_k", found, &expected["cct_k"]);
        self.near(id, "duv", white.duv, &expected["duv"]);
    }
}

#[test]
fn every_mix_agrees_with_the_reference() {
    let file: Value = serde_json::from_str(CASES).unwrap();
    let mut seen = Comparison {
        tolerance: file["tolerance"].clone(),
        faults: Vec::new(),
        compared: 0,
    };
    let cases = file["cases"].as_array().unwrap();
    for case in cases {
        let id = case["id"].as_str().unwrap();
        let (warm, cool) = (given(&case["warm"]), given(&case["cool"]));
        let expected = &case["expected"];
        match case["kind"].as_str().unwrap() {
            "mix" => {
                let mixed = mix(warm, cool, number(&case["cool_lumen_share"]));
                seen.mixed(id, mixed, expected);
            }
            "table" => {
                for row in expected["rows"].as_array().unwrap() {
                    seen.mixed(id, mix(warm, cool, number(&row["cool_lumen_share"])), row);
                }
            }
            "delta" => {
                let at = |key: &str| mix(warm, cool, number(&case[key]));
                let found = at("share_a").distance(at("share_b"));
                seen.near(id, "xy", found, &expected["delta_uv_prime"]);
            }
            "inverse" => {
                let wanted = of_kelvin(number(&case["target_cct_k"]));
                let share = cool_share_for(warm, cool, wanted).unwrap();
                seen.near(id, "share", share, &expected["cool_lumen_share"]);
                let duv = mix(warm, cool, share).white().unwrap().duv;
                seen.near(id, "duv", duv, &expected["duv"]);
            }
            other => panic!("unknown kind {other}"),
        }
    }
    assert_eq!(cases.len(), 22);
    assert!(seen.compared > 100, "compared only {}", seen.compared);
    assert!(seen.faults.is_empty(), "{}", seen.faults.join("\n"));
}

/// The whites that the cases name by temperature, and those off the locus by a declared distance,
/// are found here as they were there.
#[test]
fn whites_named_by_temperature_are_where_the_reference_has_them() {
    let file: Value = serde_json::from_str(CASES).unwrap();
    for case in file["cases"].as_array().unwrap() {
        for white in [&case["warm"], &case["cool"]] {
            let expected = given(white);
            let temperature = of_kelvin(number(&white["cct_k"]));
            let duv = white["duv_declared"].as_f64().unwrap_or(0.0);
            let found = Chromaticity::off_black_body(temperature, duv);
            assert!(
                (found.x - expected.x).abs() < 1e-9 && (found.y - expected.y).abs() < 1e-9,
                "{}: {found:?}, expected {expected:?}",
                case["id"]
            );
        }
    }
}

#[test]
fn a_white_outside_the_pair_has_no_share() {
    let [warm, cool] = [2700.0, 6500.0].map(|k| Chromaticity::black_body(of_kelvin(k)));
    for wanted in [2000.0, 2690.0, 6600.0, 9000.0] {
        assert_eq!(
            cool_share_for(warm, cool, of_kelvin(wanted)),
            None,
            "{wanted} K"
        );
    }
    assert_eq!(cool_share_for(warm, cool, of_kelvin(2700.0)), Some(0.0));
    assert_eq!(cool_share_for(warm, cool, of_kelvin(6500.0)), Some(1.0));
}

/// The temperature of a black body is its own, on the locus, over the whole range.
#[test]
fn a_black_body_has_its_own_temperature() {
    for mirek in (40..=900).step_by(20) {
        let temperature = of_kelvin(1e6 / f64::from(mirek));
        let white = Chromaticity::black_body(temperature).white().unwrap();
        let off = (white.temperature / temperature).value - 1.0;
        assert!(
            off.abs() < 1e-7 && white.duv.abs() < 1e-9,
            "{mirek} mirek: {white:?}"
        );
    }
}

#[test]
fn a_colour_far_from_the_locus_has_no_temperature() {
    for (x, y) in [(0.64, 0.33), (0.3, 0.6), (0.15, 0.06)] {
        assert_eq!(Chromaticity { x, y }.white(), None);
    }
}

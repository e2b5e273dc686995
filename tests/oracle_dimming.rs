//! Levels, light and mirek against an independent calculation with 40 digits:
//! `tests/oracle/dimming.json` (IEC 62386-102 curves).

use feedpoint::quantity::{Ratio, Temperature};
use feedpoint::solve::dimming::{level, light, light_linear, mirek, of_mirek, step_ratio};
use serde_json::Value;
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::kelvin;

const CASES: &str = include_str!("oracle/dimming.json");

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("a number, not {value}"))
}

fn whole(value: &Value) -> u32 {
    u32::try_from(value.as_u64().unwrap()).unwrap()
}

fn same(found: f64, expected: f64) -> bool {
    (found - expected).abs() <= 1e-9 * expected.abs()
}

/// What is wrong with one case, if anything.
fn fault(case: &Value) -> Option<String> {
    let expected = &case["expected"];
    let light_of = |value: &Value| light(u8::try_from(whole(value)).unwrap());
    let found = match case["kind"].as_str().unwrap() {
        "level_to_percent" => {
            let found = light_of(&case["level"]).map(|light| light.get::<percent>());
            match (found, expected["percent"].as_f64()) {
                (Some(found), Some(expected)) if same(found, expected) => return None,
                (None, None) => return None,
                (found, _) => format!("{found:?}"),
            }
        }
        "linear_level_to_percent" => {
            let level = u8::try_from(whole(&case["level"])).unwrap();
            let found = light_linear(level).unwrap().get::<percent>();
            if same(found, number(&expected["percent"])) {
                return None;
            }
            found.to_string()
        }
        "percent_to_level" => {
            let found = level(Ratio::new::<percent>(number(&case["percent"]))).unwrap();
            let back = light(found).unwrap().get::<percent>();
            let wanted = number(&expected["percent_of_level"]);
            if u32::from(found) == whole(&expected["level"]) && same(back, wanted) {
                return None;
            }
            format!("{found}, {back} %")
        }
        "kelvin_to_mirek" => {
            let wanted = Temperature::new::<kelvin>(number(&case["colour_temp_k"]));
            let found = mirek(wanted).unwrap();
            let back = of_mirek(found).unwrap().get::<kelvin>();
            if found == whole(&expected["mirek"]) && same(back, number(&expected["back_k"])) {
                return None;
            }
            format!("{found}, {back} K")
        }
        "mirek_to_kelvin" => {
            let found = of_mirek(whole(&case["mirek"])).unwrap();
            let back = mirek(found).unwrap();
            let found = found.get::<kelvin>();
            if same(found, number(&expected["colour_temp_k"]))
                && back == whole(&expected["back_mirek"])
            {
                return None;
            }
            format!("{found} K, {back}")
        }
        other => panic!("unknown kind {other}"),
    };
    Some(format!(
        "{}: found {found}, expected {expected}",
        case["id"]
    ))
}

#[test]
fn every_case_agrees_with_the_reference() {
    let file: Value = serde_json::from_str(CASES).unwrap();
    let cases = file["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 184);
    let faults: Vec<String> = cases.iter().filter_map(fault).collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    for case in cases {
        if let Some(step) = case["expected"]["curve_step_percent"].as_f64() {
            assert!(same(100.0 * (step_ratio() - 1.0), step), "{}", case["id"]);
        }
    }
}

#[test]
fn every_level_comes_back_from_its_light() {
    for n in 0..=254 {
        assert_eq!(level(light(n).unwrap()), Some(n));
    }
    assert_eq!(light(255), None);
    for nonsense in [-1.0, 101.0, f64::NAN, f64::INFINITY] {
        assert_eq!(level(Ratio::new::<percent>(nonsense)), None);
    }
}

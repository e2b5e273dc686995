//! Closed forms and mixed whites, each written as a strip case file and read back from the JSON
//! that `feedpoint strip --file` prints. The answers are independent: `tests/oracle/`.

use crate::strip_file::{Comparison, number, printed};
use feedpoint::command::strip::answer::{Answer, Asked};
use feedpoint::command::strip::json;
use feedpoint::load::strip_case::strip_case_from_text;
use feedpoint::quantity::Ratio;
use serde_json::Value;
use uom::si::ratio::ratio;

fn cases(text: &str) -> Vec<Value> {
    let file: Value = serde_json::from_str(text).unwrap();
    file["cases"].as_array().unwrap().clone()
}

fn closed_forms() -> Vec<Value> {
    cases(include_str!("oracle/strip_closed_form.json"))
}

/// A single colour strip of a closed form: a third of the rails' resistance in the plus rail, half
/// of the cable's in each core. Strings of constant current are regulated from `from` volts.
fn strip_file(case: &Value, cut: f64, length: f64, places: &[f64], from: Option<f64>) -> String {
    let rails = number(&case["rails_ohm_per_m"]);
    let core = number(&case["cable_ohm"]) / 2.0;
    let law = match from {
        None => format!(
            "light_source: resistor, light_starts_at: {} V",
            case["v0_v"]
        ),
        Some(from) => format!(
            "light_source: regulated, light_starts_at: {} V, regulated_from: {from} V",
            from / 2.0
        ),
    };
    let feeds = places
        .iter()
        .map(|at| format!("  - {{at: {at} m, core: {{plus: {core} ohm, return: {core} ohm}}}}\n"));
    format!(
        "format: 1\nsupply: {} V\nlength: {length} m\n\
         strip: {{kind: single colour, voltage: {} V, cut: {cut} m, {law},\n        \
         power: {} W/m, rails: {{common: {} ohm/m, return: {} ohm/m}}}}\nfeeds:\n{}",
        case["supply_v"],
        case["nominal_v"],
        case["rated_w_per_m"],
        rails / 3.0,
        rails * 2.0 / 3.0,
        feeds.collect::<String>()
    )
}

/// 2.5 mm segments: every place in the cases is in whole centimetres.
const CUT: f64 = 0.0025;

#[test]
fn every_closed_form_comes_back_from_its_file() {
    let mut seen = Comparison::default();
    for case in closed_forms() {
        let kind = case["kind"].as_str().unwrap();
        if kind.starts_with("longest") {
            continue;
        }
        let length = number(&case["length_m"]);
        let places = match kind {
            "resistor_both_ends" | "constant_current_both_ends" => vec![0.0, length],
            "constant_current_point" => vec![number(&case["feed_at_m"])],
            _ => vec![0.0],
        };
        let from = kind.starts_with("constant").then_some(1.0);
        let printed = printed(&strip_file(&case, CUT, length, &places, from));
        let state = &printed["states"][0];
        let channel = &state["channels"][0];
        let expected = &case["expected"];
        for (key, found, scale) in [
            ("v_min_v", &channel["volts_least_v"], 1.0),
            ("light_min", &channel["light_least_percent"], 100.0),
            ("source_a", &state["source_a"], 1.0),
            ("v_end_v", &channel["volts_end_v"], 1.0),
        ] {
            if let Some(wanted) = expected[key].as_f64() {
                let wanted = scale * wanted;
                seen.near(
                    &format!("{} {key}", case["id"]),
                    found,
                    wanted,
                    2e-6 * wanted,
                );
            }
        }
    }
    seen.finish(70);
}

#[test]
fn every_longest_run_comes_back_from_its_file() {
    const SEGMENT: f64 = 0.002;
    let mut seen = Comparison::default();
    for mut case in closed_forms() {
        let (from, limit) = match case["kind"].as_str().unwrap() {
            // Between the fed pad and the end: without the cable, at nominal supply.
            "longest_resistor_one_end" => {
                case["cable_ohm"] = 0.0.into();
                case["supply_v"] = case["nominal_v"].clone();
                (None, 1.0 - number(&case["min_ratio"]))
            }
            // Light falls as soon as more than the allowed volts are lost.
            "longest_constant_current_one_end" => {
                let from = number(&case["supply_v"]) - number(&case["drop_v"]);
                (Some(from), 0.0)
            }
            _ => continue,
        };
        let text = strip_file(&case, SEGMENT, 1.0, &[0.0], from);
        let asked = Asked {
            case: strip_case_from_text("case.yaml", &text).unwrap(),
            stood_in: Vec::new(),
            limit: Some(Ratio::new::<ratio>(limit)),
            tolerances: feedpoint::command::tolerance::ToleranceFlags::default(),
            only_longest: true,
        };
        let answer = Answer::of(&asked).unwrap_or_else(|fault| panic!("{fault:?}"));
        let printed = json::of(&answer, &[]);
        let longest = &printed["longest"][0];
        assert_eq!(longest["fed"], "start");
        let wanted = number(&case["expected"]["longest_m"]);
        seen.near(
            &case["id"].to_string(),
            &longest["length_m"],
            wanted,
            1.2 * SEGMENT,
        );
    }
    seen.finish(12);
}

/// A strip that loses nothing, whose channels give their light in a share.
fn white_file(case: &Value, cool_share: f64) -> String {
    let light = |share: f64| (1000.0 * share).max(1e-7);
    format!(
        "format: 1\nsupply: 24 V\nlength: 1 m\n\
         strip: {{kind: tunable white, voltage: 24 V, cut: 100 mm, light_source: resistor,\n        \
         light_starts_at: 18 V, power: 10 W/m, white: {{warm: {} K, cool: {} K}},\n        \
         flux: {{warm: {} lm/m, cool: {} lm/m}}, rails: {{common: 0 ohm/m, return: 0 ohm/m}}}}\n\
         feeds: [{{at: 0 m, core: {{plus: 0 ohm, return: 0 ohm}}}}]\n",
        case["warm"]["cct_k"],
        case["cool"]["cct_k"],
        light(1.0 - cool_share),
        light(cool_share)
    )
}

/// Two segments, of which the first gives one share of cool light and the second the other. Only
/// the cool return has resistance. With k = half a segment's resistance × the strings' slope, the
/// second segment's cool light over the first's is 1/(1 + 2k), and the first's over nominal
/// 1/(1 + k·(1 + 1/(1 + 2k))).
fn shifting_file(case: &Value) -> String {
    let odds = |key: &str| {
        let share = number(&case[key]);
        share / (1.0 - share)
    };
    let (a, b) = (odds("share_a"), odds("share_b"));
    let (more, less) = (f64::max(a, b), f64::min(a, b));
    let k = (more / less - 1.0) / 2.0;
    let first = 1.0 / (1.0 + k * (1.0 + less / more));
    // 24 W/m at 24 V and light from 18 V: a slope of 1 A/m over 6 V, 1 m segments.
    format!(
        "format: 1\nsupply: 24 V\nlength: 2 m\n\
         strip: {{kind: tunable white, voltage: 24 V, cut: 1 m, light_source: resistor,\n        \
         light_starts_at: 18 V, power: 24 W/m, white: {{warm: {} K, cool: {} K}},\n        \
         flux: {{warm: 100 lm/m, cool: {} lm/m}},\n        \
         rails: {{common: 0 ohm/m, return: {{warm: 0 ohm/m, cool: {} ohm/m}}}}}}\n\
         feeds: [{{at: 0 m, core: {{plus: 0 ohm, return: 0 ohm}}}}]\n",
        case["warm"]["cct_k"],
        case["cool"]["cct_k"],
        100.0 * more / first,
        12.0 * k
    )
}

#[test]
fn every_mix_comes_back_from_its_file() {
    let mut seen = Comparison::default();
    for case in cases(include_str!("oracle/colour.json")) {
        let expected = &case["expected"];
        let mut mixed = |share: f64, kelvin: f64, duv: &Value| {
            let printed = printed(&white_file(&case, share));
            let mix = &printed["states"][2]["mix"];
            let id = format!("{} {share}", case["id"]);
            let wanted = 100.0 * (1.0 - share);
            seen.near(&id, &mix["warm_share_nominal_percent"], wanted, 1e-7);
            for key in ["white_least_k", "white_most_k", "white_nominal_k"] {
                seen.near(&format!("{id} {key}"), &mix[key], kelvin, 1.0);
            }
            seen.near(
                &format!("{id} duv"),
                &mix["white_nominal_duv"],
                number(duv),
                2e-5,
            );
            seen.near(&format!("{id} shift"), &mix["shift_steps"], 0.0, 1e-9);
        };
        match case["kind"].as_str().unwrap() {
            "mix" => {
                let share = number(&case["cool_lumen_share"]);
                mixed(share, number(&expected["cct_k"]), &expected["duv"]);
            }
            "table" => {
                for row in expected["rows"].as_array().unwrap() {
                    let share = number(&row["cool_lumen_share"]);
                    mixed(share, number(&row["cct_k"]), &row["duv"]);
                }
            }
            "inverse" => {
                let share = number(&expected["cool_lumen_share"]);
                mixed(share, number(&case["target_cct_k"]), &expected["duv"]);
            }
            "delta" => {
                let printed = printed(&shifting_file(&case));
                let mix = &printed["states"][2]["mix"];
                let wanted = number(&expected["delta_uv_prime"]) / 0.0011;
                let id = case["id"].to_string();
                seen.near(&id, &mix["shift_steps"], wanted, 1e-5);
                seen.near(&id, &mix["shift_ends_steps"], wanted, 1e-5);
            }
            other => panic!("unknown kind {other}"),
        }
    }
    seen.finish(250);
}

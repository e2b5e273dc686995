//! The independent answers once more, each case written as a strip case file and read back from
//! the JSON that `feedpoint strip --file` prints.

use crate::strip_file::{Comparison, number, printed};
use serde_json::Value;
use std::fmt::Write;

/// `{warm: …, cool: …}` of two channels, or the one figure of one.
fn each(channels: &[Value], of: impl Fn(&Value) -> String) -> String {
    match channels {
        [one] => of(one),
        [warm, cool] => format!("{{warm: {}, cool: {}}}", of(warm), of(cool)),
        _ => panic!("{} channels", channels.len()),
    }
}

fn ladder_file(case: &Value) -> String {
    let strip = &case["strip"];
    let channels = strip["channels"].as_array().unwrap();
    let string = &channels[0]["string"];
    let model = string["model"].as_str().unwrap();
    let (source, keys): (&str, &[(&str, &str)]) = match model {
        "resistor" => ("resistor", &[("light_starts_at", "v0_v")]),
        "constant_current" => (
            "regulated",
            &[("light_starts_at", "v0_v"), ("regulated_from", "vd_v")],
        ),
        "constant_power" => ("converter", &[]),
        other => panic!("unknown string model {other}"),
    };
    let kind = ["single colour", "tunable white"][channels.len() - 1];
    let mut text = format!(
        "format: 1\nsupply: {} V\nlength: {} m\nstrip:\n  kind: {kind}\n  voltage: {} V\n  \
         cut: {} m\n  light_source: {source}\n",
        case["supply_v"],
        strip["length_m"],
        string["nominal_v"].as_f64().unwrap_or(24.0),
        strip["segment_m"],
    );
    let mut line = |key: &str, value: String| writeln!(text, "  {key}: {value}").unwrap();
    for (key, from) in keys {
        line(
            key,
            each(channels, |channel| {
                format!("{} V", channel["string"][*from])
            }),
        );
    }
    line(
        "power",
        each(channels, |channel| {
            format!("{} W/m", channel["rated_w_per_m"])
        }),
    );
    line(
        "flux",
        each(channels, |channel| {
            format!("{} lm/m", channel["rated_lm_per_m"])
        }),
    );
    let returns = each(channels, |channel| {
        format!("{} ohm/m", channel["r_return_ohm_per_m"])
    });
    let common = number(&strip["r_plus_ohm_per_m"]);
    line(
        "rails",
        format!("{{common: {common} ohm/m, return: {returns}}}"),
    );
    text.push_str("feeds:\n");
    for (place, feed) in case["feeds"].as_array().unwrap().iter().enumerate() {
        let at = number(&feed["at_m"]);
        writeln!(text, "  - at: {at} m").unwrap();
        // Every other feed is given as its cable, the rest as the resistance of its cores.
        let core = if place % 2 == 0 {
            cable(feed)
        } else {
            cores(feed)
        };
        text.push_str(&core);
    }
    text
}

fn cable(feed: &Value) -> String {
    let cable = &feed["cable"];
    let conductor = match cable["conductor_class"].as_str().unwrap() {
        "class5" => "class 5",
        "class1_2" => "class 2",
        other => panic!("unknown class {other}"),
    };
    let mut text = format!(
        "    cable: {{length: {} m, area: {} mm², conductor: {conductor}, temperature: {} °C",
        cable["length_m"], cable["mm2"], cable["conductor_temp_c"]
    );
    if let Some(area) = cable["return_mm2"].as_f64() {
        write!(text, ", return_area: {area} mm²").unwrap();
    }
    text + "}\n"
}

fn cores(feed: &Value) -> String {
    let returns = feed["core_return_ohm"].as_array().unwrap();
    let plus = number(&feed["core_plus_ohm"]);
    let returns = each(returns, |core| format!("{} ohm", number(core)));
    format!("    core: {{plus: {plus} ohm, return: {returns}}}\n")
}

/// The name of a state in the cases and in what is printed.
const STATES: [(&str, &str); 4] = [
    ("on", "on"),
    ("warm_only", "warm"),
    ("cool_only", "cool"),
    ("both_full", "both"),
];

fn compare_state(seen: &mut Comparison, id: &str, found: &Value, expected: &Value) {
    let watts = number(&expected["source_w"]);
    for key in ["source_a", "source_w", "strip_w", "cable_loss_w"] {
        let wanted = number(&expected[key]);
        seen.near(
            &format!("{id} {key}"),
            &found[key],
            wanted,
            1e-9 * wanted.abs(),
        );
    }
    // The reference finds this as a small difference of large powers.
    let wanted = number(&expected["rail_loss_w"]);
    seen.near(
        &format!("{id} rails"),
        &found["rail_loss_w"],
        wanted,
        1e-9 * watts,
    );
    let feeds = expected["feeds"].as_array().unwrap();
    for (found, wanted) in found["feeds"].as_array().unwrap().iter().zip(feeds) {
        let plus = number(&wanted["plus_a"]);
        seen.near(
            &format!("{id} plus"),
            &found["plus_a"],
            plus,
            1e-9 * plus.abs(),
        );
        for (name, current) in wanted["return_a"].as_object().unwrap() {
            let current = number(current);
            let back = &found["return_a"][ours(name)];
            seen.near(&format!("{id} return"), back, current, 1e-9 * current.abs());
        }
    }
    for (name, wanted) in expected["channels"].as_object().unwrap() {
        let mut channels = found["channels"].as_array().unwrap().iter();
        let found = channels
            .find(|channel| channel["channel"] == ours(name))
            .unwrap();
        compare_channel(seen, id, found, wanted);
    }
    if let Some(wanted) = expected["mix"].as_object() {
        for (key, theirs) in [
            ("warm_share_least_percent", "first_channel_share_min"),
            ("warm_share_most_percent", "first_channel_share_max"),
            ("warm_share_nominal_percent", "first_channel_share_nominal"),
        ] {
            let wanted = 100.0 * number(&wanted[theirs]);
            seen.near(
                &format!("{id} {key}"),
                &found["mix"][key],
                wanted,
                1e-9 * wanted,
            );
        }
    }
}

/// The cases call the only channel by several names.
fn ours(name: &str) -> &str {
    if ["warm", "cool"].contains(&name) {
        name
    } else {
        "white"
    }
}

fn compare_channel(seen: &mut Comparison, id: &str, found: &Value, expected: &Value) {
    let pairs = [
        ("volts_least_v", "v_min_v", 1.0),
        ("volts_most_v", "v_max_v", 1.0),
        ("volts_end_v", "v_end_v", 1.0),
        ("current_a", "i_total_a", 1.0),
        ("current_end_a", "i_end_a", 1.0),
        ("light_least_percent", "light_min", 100.0),
        ("light_most_percent", "light_max", 100.0),
        ("light_end_percent", "light_end", 100.0),
        ("evenness_percent", "uniformity_min_over_max", 100.0),
    ];
    for (key, theirs, scale) in pairs {
        match expected[theirs].as_f64() {
            Some(wanted) => {
                let wanted = scale * wanted;
                seen.near(
                    &format!("{id} {key}"),
                    &found[key],
                    wanted,
                    1e-9 * wanted.abs(),
                );
            }
            None => assert!(found[key].is_null(), "{id} {key}: {}", found[key]),
        }
    }
    assert_eq!(found["dark_segments"], expected["dark_segments"], "{id}");
}

#[test]
fn every_ladder_comes_back_from_its_file() {
    let file: Value = serde_json::from_str(include_str!("oracle/strip_ladder.json")).unwrap();
    let mut seen = Comparison::default();
    for case in file["cases"].as_array().unwrap() {
        let found = printed(&ladder_file(case));
        assert_eq!(found["segments"], case["strip"]["segments"]);
        let mut works = true;
        for state in found["states"].as_array().unwrap() {
            let lit = state["lit"].as_str().unwrap();
            let (theirs, _) = STATES.iter().find(|(_, ours)| *ours == lit).unwrap();
            let expected = &case["expected"][*theirs];
            assert_eq!(
                state["works"], expected["operating_point"],
                "{}",
                case["id"]
            );
            if expected["operating_point"] == true {
                let id = format!("{} {lit}", case["id"]);
                compare_state(&mut seen, &id, state, expected);
            } else {
                works = false;
            }
        }
        assert_eq!(found["works"], works, "{}", case["id"]);
    }
    seen.finish(1900);
}

//! `feedpoint strip` as a person uses it: flags in, tables, JSON or CSV out.

use clap::Parser;
use feedpoint::command::{self, Cli, Failure, Output};
use feedpoint::present::terminal::Look;
use serde_json::Value;

fn look() -> Look {
    Look {
        width: 80,
        colour: false,
        ascii: false,
    }
}

/// What the command prints, or why it fails.
fn strip(flags: &[&str]) -> Result<String, Failure> {
    let line = ["feedpoint", "strip"].iter().chain(flags);
    let cli = Cli::try_parse_from(line).unwrap_or_else(|error| panic!("{error}"));
    let (mut results, mut messages) = (Vec::new(), Vec::new());
    let mut out = Output::new(&mut results, &mut messages, look(), false);
    let outcome = command::run(&cli, &mut out)?;
    assert_eq!(outcome, command::Outcome::NothingBroken);
    Ok(String::from_utf8(results).unwrap())
}

fn failing(flags: &[&str]) -> String {
    strip(flags).unwrap_err().messages.join("\n")
}

fn json(flags: &[&str]) -> Value {
    let flags: Vec<&str> = flags.iter().copied().chain(["--format", "json"]).collect();
    serde_json::from_str(&strip(&flags).unwrap()).unwrap()
}

/// 24 V, 14.4 W/m, 0.12 Ω/m, light from 18 V: 4.264 m at 10 % by acosh(1/0.9)/√(R·g), of whole
/// segments of 50 mm.
const KNOWN: [&str; 6] = [
    "--power",
    "14.4W/m",
    "--rails",
    "0.12ohm/m",
    "--light-starts-at",
    "18V",
];

fn known(more: &[&'static str]) -> Vec<&'static str> {
    KNOWN.iter().chain(more).copied().collect()
}

#[test]
fn the_longest_run_needs_no_length() {
    let found = json(&known(&["--longest"]));
    assert_eq!(found["longest"][0]["length_m"], 4.25);
    assert_eq!(found["longest"][0]["segments"], 85);
    // Fed at both ends or in the middle the strip is two of half its length.
    assert_eq!(found["longest"][1]["length_m"], 8.5);
    assert_eq!(found["longest"][2]["length_m"], 8.5);
}

#[test]
fn the_table_says_what_was_asked_and_what_was_assumed() {
    let text = strip(&known(&["--length", "5 m"])).unwrap();
    // The far end of 5 m fed at one end: 86.67 % by 1/cosh(L·√(R·g)).
    assert!(
        text.contains("loses 13.3 % of its light (limit 10.0 %): broken."),
        "{text}"
    );
    assert!(text.contains("86.7"), "{text}");
    assert!(
        text.contains("because no flag says it: voltage 24 V, cut 50 mm"),
        "{text}"
    );
    assert!(
        text.contains("Cautions\n- This is a calculation aid"),
        "{text}"
    );
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn nothing_is_passed_that_rests_on_a_guess() {
    let text = strip(&["--length", "3 m", "--power", "4.8 W/m"]).unwrap();
    assert!(text.contains("Cannot tell"), "{text}");
    assert!(
        !text.contains("holds") && !text.contains("broken"),
        "{text}"
    );
    assert!(text.contains("rails of 0.25 Ω/m each"), "{text}");
    let found = json(&["--length", "3 m", "--power", "4.8 W/m"]);
    assert!(found["tried"][0]["keeps_limit"].is_null());
    assert_eq!(found["known"], false);
    let longest = strip(&["--longest", "--power", "4.8 W/m"]).unwrap();
    assert!(longest.contains("Cannot tell"), "{longest}");
    let count = |found: &Value| found["assumptions"].as_array().unwrap().len();
    assert!(count(&found) > count(&json(&known(&["--length", "3 m"]))));
}

#[test]
fn a_strip_without_a_working_point_is_an_answer() {
    let flags = [
        "--length",
        "60 m",
        "--power",
        "20 W/m",
        "--light-source",
        "converter",
        "--rails",
        "0.1 ohm/m",
    ];
    let found = json(&flags);
    assert_eq!(found["works"], false);
    assert_eq!(found["states"][0]["works"], false);
    let text = strip(&flags).unwrap();
    assert!(text.contains("No working point"), "{text}");
}

#[test]
fn thicker_cable_never_loses_more() {
    let found = json(&known(&["--length", "4 m", "--cable-length", "12 m"]));
    let rows = found["by_cable"].as_array().unwrap();
    assert_eq!(rows.len(), 7);
    let drop = |row: &Value| row["light_drop_percent"]["start"].as_f64().unwrap();
    assert!(rows.windows(2).all(|two| drop(&two[1]) < drop(&two[0])));
}

#[test]
fn a_tunable_white_strip_shows_how_its_white_shifts() {
    let flags = [
        "--length",
        "8 m",
        "--kind",
        "tunable white",
        "--power",
        "9.6 W/m, 9.6 W/m",
        "--flux",
        "850 lm/m, 950 lm/m",
        "--white",
        "2700 K, 6500 K",
        "--light-starts-at",
        "16.5 V, 17.5 V",
        "--rail-common",
        "0.03 ohm/m",
        "--rail-return",
        "0.05 ohm/m",
        "--feed",
        "at 0 m, 4 m",
    ];
    let found = json(&flags);
    let mix = &found["states"][2]["mix"];
    assert!(mix["shift_steps"].as_f64().unwrap() > 0.1, "{mix}");
    assert!(mix["white_least_k"].as_f64() < mix["white_most_k"].as_f64());
    assert_eq!(found["states"][2]["feeds"][1]["at_m"], 4.0);
    let text = strip(&flags).unwrap();
    assert!(
        text.contains("With both channels on the white runs from"),
        "{text}"
    );
}

#[test]
fn csv_has_a_heading_and_rows_for_each_table() {
    let text = strip(&known(&["--length", "5 m", "--format", "csv"])).unwrap();
    assert!(text.starts_with("lit,channel,light_end_percent,"), "{text}");
    assert!(text.contains("\nfed,feeds,light_drop_percent,"), "{text}");
    assert!(text.contains("\nfed,longest_m,segments"), "{text}");
}

#[test]
fn what_is_missing_or_wrong_is_said() {
    let cases: [(&[&str], &str); 9] = [
        (
            &["--power", "9.6 W/m"],
            "error: `--length` is missing: give a case with `--file`, or the strip by flags, as in \
             `--length \"12 m\"`",
        ),
        (
            &["--length", "3 m"],
            "error: `--power` is missing: give a case with `--file`, or the strip by flags, as in \
             `--power \"14.4 W/m\"`",
        ),
        (
            &["--length", "3 m", "--power", "9.6"],
            "error: --power: `9.6` has no unit: a power per length is written in W/m or W/ft, as in \
             `14.4 W/m`",
        ),
        (
            &[
                "--length",
                "3 m",
                "--power",
                "9.6 W/m",
                "--rails",
                "0.1 ohm/m",
                "--rail-common",
                "0.1 ohm/m",
            ],
            "error: give the rails either as `--rails` (plus and return together) or as \
             `--rail-common` and `--rail-return`",
        ),
        (
            &["--length", "3 m", "--power", "9.6 W/m", "--feed", "top"],
            "error: --feed: `top` is not a way of feeding: it is start, end, both ends, middle, or \
             places as in `at 0 m, 6 m`",
        ),
        (
            &[
                "--length",
                "3 m",
                "--power",
                "9.6 W/m",
                "--feed",
                "at 1.03 m",
            ],
            "error: a feed at 1.03 m is not at a cut mark: the nearest are at 1 m and 1.05 m",
        ),
        (
            &["--length", "3 m", "--power", "9.6 W/m", "--feed", "at 4 m"],
            "error: a feed at 4 m is beyond the strip's end at 3 m",
        ),
        (
            &["--length", "30 mm", "--power", "9.6 W/m"],
            "error: 0.03 m is shorter than one segment of 0.05 m",
        ),
        (
            &[
                "--length",
                "3 m",
                "--power",
                "9.6 W/m",
                "--light-starts-at",
                "24 V",
            ],
            "error: strip `strip`: light must start below its voltage (24.00 V), not at 24.00 V",
        ),
    ];
    for (flags, message) in cases {
        assert_eq!(failing(flags), message, "{flags:?}");
    }
    let both = failing(&["--file", "case.yaml", "--length", "3 m"]);
    assert_eq!(
        both,
        "error: `--length` and `--file` can't both be given: the file says it"
    );
}

const CASE: &str = "\
format: 1
supply: 24 V                     # driver output
length: 12 m
strip: {kind: tunable white, voltage: 24 V, cut: 50 mm, light_source: resistor,
        light_starts_at: {warm: 16.5 V, cool: 17 V},
        power: {warm: 9.6 W/m, cool: 9.6 W/m}, flux: {warm: 850 lm/m, cool: 950 lm/m},
        rails: {common: 0.030 ohm/m, return: {warm: 0.050 ohm/m, cool: 0.050 ohm/m}}}
feeds:
  - {at: 0 m, cable: {length: 6 m, area: 1.5 mm², conductor: class 5, temperature: 40 °C,
                      return_area: 1 mm²}}
  - {at: 12 m, core: {plus: 0.09 ohm, return: {warm: 0.09 ohm, cool: 0 ohm}}}
";

fn in_file(text: &str, flags: &[&str]) -> Result<String, Failure> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("case.yaml");
    std::fs::write(&path, text).unwrap();
    let mut line = vec!["--file", path.to_str().unwrap()];
    line.extend(flags);
    strip(&line)
}

#[test]
fn a_case_file_is_answered_whole() {
    let text = in_file(CASE, &["--format", "json"]).unwrap();
    let found: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(found["format"], 1);
    assert_eq!(found["works"], true);
    assert_eq!(found["segments"], 240);
    assert_eq!(found["assumptions"], serde_json::json!([]));
    let lit: Vec<&Value> = found["states"]
        .as_array()
        .unwrap()
        .iter()
        .map(|s| &s["lit"])
        .collect();
    assert_eq!(lit, ["warm", "cool", "both"]);
    let both = &found["states"][2];
    let number = |value: &Value| value.as_f64().unwrap();
    let parts = ["strip_w", "cable_loss_w", "rail_loss_w"].map(|key| number(&both[key]));
    let whole: f64 = parts.iter().sum();
    assert!((number(&both["source_w"]) - whole).abs() < 1e-9 * whole);
    // The core without resistance takes more of the cool current than its neighbour of warm.
    let returns = &both["feeds"][1]["return_a"];
    assert!(number(&returns["cool"]) > number(&returns["warm"]));
    assert!(both["mix"]["white_least_k"].is_null() && !both["mix"].is_null());
    assert!(found["states"][0]["mix"].is_null());
    let table = in_file(CASE, &[]).unwrap();
    assert!(
        table.starts_with("Strip of 12.00 m (240 segments), fed at 0 m, 12 m"),
        "{table}"
    );
}

#[test]
fn a_fault_in_a_case_file_is_shown_in_its_line() {
    let text = CASE
        .replace("cut: 50 mm", "cutt: 50 mm")
        .replace("length: 12 m", "length: 12");
    let shown = in_file(&text, &[]).unwrap_err().messages.join("\n");
    for part in [
        "`12` has no unit",
        "no key `cutt` (did you mean `cut`?)",
        "case.yaml:3:9",
    ] {
        assert!(shown.contains(part), "{part} in:\n{shown}");
    }
}

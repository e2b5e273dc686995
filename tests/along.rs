//! `feedpoint along` on the demo, and drawings of runs of every length.

use clap::Parser;
use feedpoint::command::{self, Cli, Failure, Outcome, Output};
use feedpoint::pipeline;
use feedpoint::present::drawing::sheet::Sheet;
use feedpoint::present::drawing::{layout, run::drawing};
use feedpoint::present::job::Job;
use feedpoint::present::terminal::Look;
use feedpoint::present::{report, svg};
use serde_json::Value;
use std::path::{Path, PathBuf};

const COVE: &str = "hall-cove-north";
const HOSTILE: &str = "../<&\"'../x";

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples/millrace-library.yaml")
}

fn look(ascii: bool) -> Look {
    Look {
        width: 80,
        colour: false,
        ascii,
    }
}

fn along_in(project: &Path, flags: &[&str], look: Look) -> Result<(String, Outcome), Failure> {
    let project = project.to_str().unwrap();
    let line = ["feedpoint", "along", project]
        .into_iter()
        .chain(flags.iter().copied());
    let cli = Cli::try_parse_from(line).unwrap_or_else(|error| panic!("{error}"));
    let (mut results, mut messages) = (Vec::new(), Vec::new());
    let mut out = Output::new(&mut results, &mut messages, look, false);
    let outcome = command::run(&cli, &mut out)?;
    Ok((String::from_utf8(results).unwrap(), outcome))
}

fn along(flags: &[&str]) -> String {
    let (text, outcome) = along_in(&demo(), flags, look(false)).unwrap();
    assert_eq!(outcome, Outcome::NothingBroken);
    text
}

fn json(flags: &[&str]) -> (Value, Outcome) {
    let flags: Vec<&str> = flags.iter().copied().chain(["--format", "json"]).collect();
    let (text, outcome) = along_in(&demo(), &flags, look(false)).unwrap();
    (serde_json::from_str(&text).unwrap(), outcome)
}

fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}

/// The demo with some of its text replaced, beside its catalogue.
fn changed(changes: &[(&str, &str)]) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let mut text = std::fs::read_to_string(demo()).unwrap();
    for (from, to) in changes {
        assert!(text.contains(from), "the demo has no {from:?}");
        text = text.replace(from, to);
    }
    let path = folder.path().join("project.yaml");
    std::fs::write(&path, text).unwrap();
    let trade = demo().with_file_name("trade.yaml");
    std::fs::copy(trade, folder.path().join("trade.yaml")).unwrap();
    (folder, path)
}

/// The demo with the cove fed at its start alone, its strip's cool rail of twice the resistance.
fn with_unequal_rails() -> (tempfile::TempDir, PathBuf) {
    let from = "length: 18.4 m\n    group: hall-cove\n    cupboard: cupboard-a\n    to_start: 6 m";
    let (folder, path) = changed(&[(from, &format!("{from}\n    feed: start"))]);
    let trade = folder.path().join("trade.yaml");
    let text = std::fs::read_to_string(&trade).unwrap();
    let rails = "rails: {common: 0.030 ohm/m, return: 0.050 ohm/m}";
    let unequal = "rails: {common: 0.030 ohm/m, return: {warm: 0.050 ohm/m, cool: 0.100 ohm/m}}";
    assert!(text.contains(rails));
    std::fs::write(&trade, text.replacen(rails, unequal, 1)).unwrap();
    (folder, path)
}

fn job(path: &Path) -> Job {
    let job = pipeline::job(path.to_str().unwrap(), false);
    job.unwrap_or_else(|faults| panic!("{faults:?}")).0
}

fn sheet_of(job: &Job, run: &str) -> Sheet {
    let sized = job.sizing.runs.iter().find(|sized| sized.run.name == run);
    layout::sheet(&drawing(job, sized.expect("the run")))
}

fn golden(name: &str, found: &str) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = root.join("tests/golden/along").join(name);
    if std::env::var_os("FEEDPOINT_ACCEPT").is_some() {
        std::fs::write(&path, found).unwrap();
    }
    let expected = std::fs::read_to_string(&path).unwrap();
    assert_eq!(found, expected, "{}", path.display());
}

#[test]
fn the_cove_at_eighty_columns() {
    let text = along(&[COVE]);
    assert!(text.lines().all(|line| line.chars().count() <= 80));
    golden("cove.txt", &text);
}

#[test]
fn the_cove_in_ascii() {
    let (text, _) = along_in(&demo(), &[COVE], look(true)).unwrap();
    assert!(text.is_ascii());
    golden("cove-ascii.txt", &text);
}

#[test]
fn another_feed_is_shown_beside_the_present_one() {
    let (found, outcome) = json(&[COVE, "--feed", "both ends"]);
    // 18.4 m of 19 W/m cannot keep 10 % from two feeds.
    assert_eq!(outcome, Outcome::Broken);
    let (old, new) = (&found["run"], &found["tried"]);
    assert_eq!(new["reasons"]["arrangement"], "both ends");
    let light = |run: &Value| number(&run["light_least_percent"]);
    assert!(light(new) < 90.0 && light(old) >= 90.0);
    let cost = |run: &Value| {
        let text = run["reasons"]["cost"].as_str().expect("a cost");
        text.parse::<rust_decimal::Decimal>().unwrap()
    };
    let difference = found["cost_difference"].as_str().unwrap();
    assert_eq!(difference, (cost(new) - cost(old)).to_string());
    // The lists are of what is tried.
    assert_eq!(found["places"].as_array().unwrap().len(), 3);
    let (same, outcome) = json(&[COVE, "--feed", "auto"]);
    assert_eq!(outcome, Outcome::NothingBroken);
    let difference = same["cost_difference"].as_str().unwrap();
    assert!(
        difference
            .parse::<rust_decimal::Decimal>()
            .unwrap()
            .is_zero()
    );
    assert_eq!(light(&same["tried"]), light(&same["run"]));
}

#[test]
fn a_feed_that_no_cable_reaches_is_not_passed() {
    let (found, outcome) = json(&["foyer-perimeter", "--feed", "middle"]);
    assert_eq!(outcome, Outcome::Broken);
    assert_eq!(found["unreached_m"], serde_json::json!([19.0]));
}

#[test]
fn a_tighter_limit_never_costs_less() {
    let (found, _) = json(&[COVE, "--limits", "5%,10%,15%,20%"]);
    let rows = found["limits"].as_array().unwrap();
    assert_eq!(rows.len(), 4);
    let costs: Vec<rust_decimal::Decimal> = rows
        .iter()
        .map(|row| row["cost"].as_str().unwrap().parse().unwrap())
        .collect();
    assert!(costs.windows(2).all(|pair| pair[0] >= pair[1]), "{costs:?}");
    for row in rows {
        assert!(number(&row["light_drop_percent"]) <= number(&row["limit_percent"]));
    }
    // At the project's own limit it is the run as it is sized.
    assert_eq!(
        rows[1]["arrangement"],
        found["run"]["reasons"]["arrangement"]
    );
    assert_eq!(rows[1]["cost"], found["run"]["reasons"]["cost"]);
}

/// Chromaticity of the black body: Kim et al., US patent 7024034 (2006), from memory.
fn black_body(kelvin: f64) -> [f64; 2] {
    let t = kelvin;
    if t < 4000.0 {
        let x =
            -0.266_123_9e9 / t.powi(3) - 0.234_358_9e6 / t.powi(2) + 0.877_695_6e3 / t + 0.179_910;
        let y =
            -0.954_947_6 * x.powi(3) - 1.374_185_93 * x.powi(2) + 2.091_370_15 * x - 0.167_488_67;
        [x, y]
    } else {
        let x =
            -3.025_846_9e9 / t.powi(3) + 2.107_037_9e6 / t.powi(2) + 0.222_634_7e3 / t + 0.240_390;
        let y =
            3.081_758_0 * x.powi(3) - 5.873_386_70 * x.powi(2) + 3.751_129_97 * x - 0.370_014_83;
        [x, y]
    }
}

/// Colour temperature: McCamy, Color Research and Application 17 (1992), from memory.
fn mccamy([x, y]: [f64; 2]) -> f64 {
    let n = (x - 0.3320) / (0.1858 - y);
    449.0 * n.powi(3) + 3525.0 * n.powi(2) + 6823.3 * n + 5520.33
}

/// Whites of 2700 K at 850 lm/m and 6500 K at 950 lm/m, added in CIE XYZ at what light each channel
/// has left: the white along the run, by published approximations.
#[test]
fn white_shifts_along_unequal_rails() {
    let (_folder, path) = with_unequal_rails();
    let flags = [COVE, "--format", "json"];
    let (text, _) = along_in(&path, &flags, look(false)).unwrap();
    let found: Value = serde_json::from_str(&text).unwrap();
    let list =
        |value: &Value| -> Vec<f64> { value.as_array().unwrap().iter().map(number).collect() };
    let light = |channel: usize| list(&found["channels"][channel]["light_percent"]);
    let (warm, cool) = (light(0), light(1));
    let (white, duv) = (list(&found["white_k"]), list(&found["duv"]));
    let (whites, both) = ([2700.0, 6500.0].map(black_body), [850.0, 950.0]);
    for place in [0, 100, 200, 300, 367] {
        let lights = [both[0] * warm[place], both[1] * cool[place]];
        let sum = |of: fn([f64; 2]) -> f64| -> f64 {
            whites
                .iter()
                .zip(lights)
                .map(|(xy, light)| of(*xy) * light)
                .sum()
        };
        let x = sum(|[x, y]| x / y);
        let z = sum(|[x, y]| (1.0 - x - y) / y);
        let all = x + z + lights[0] + lights[1];
        let expected = mccamy([x / all, (lights[0] + lights[1]) / all]);
        assert!(
            (white[place] / expected - 1.0).abs() < 0.015,
            "{place}: {} K, expected {expected:.0} K",
            white[place]
        );
        // The chord lies below the locus: every mix is on the pink side.
        assert!(
            (-0.01..0.0).contains(&duv[place]),
            "{place}: {}",
            duv[place]
        );
    }
    assert!(white.is_sorted_by(|a, b| a >= b), "warmer towards the end");
    assert!(
        white[0] - white[367] > 50.0,
        "{} K to {} K",
        white[0],
        white[367]
    );
    assert!(number(&found["run"]["colour_shift_steps"]) > 1.0);
}

/// Joints were once drawn where pieces lie on their reels: a run of 1 m had one at 18.40 m.
#[test]
fn joints_lie_inside_their_sections() {
    let job = job(&demo());
    for run in &job.sizing.runs {
        for (index, section) in run.sections.iter().enumerate() {
            let found = job.joints(&run.run.name, index + 1);
            assert_eq!(found.len(), section.joints, "{}", run.run.name);
            let end = section.start + section.length;
            assert!(found.is_sorted_by(|a, b| a < b), "{}", run.run.name);
            assert!(
                found.iter().all(|at| *at > section.start && *at < end),
                "{}: {found:?}",
                run.run.name
            );
        }
    }
}

#[test]
fn a_scene_gives_level_and_white() {
    let (found, _) = json(&[COVE, "--scene", "evening"]);
    let scene = &found["scene"];
    // IEC 62386-102: 1 + (253/3)·(log10(50) + 1) = 228.6, level 229.
    assert_eq!(scene["level"], 229);
    assert_eq!(number(&scene["white_asked_k"]), 2900.0);
    // Both channels lose the same light here, so the white asked for is the white all along.
    let (least, most) = (
        number(&scene["white_least_k"]),
        number(&scene["white_most_k"]),
    );
    assert!((least - 2900.0).abs() < 0.5 && (most - 2900.0).abs() < 0.5);
    assert!(number(&scene["colour_shift_steps"]) < 0.01);
    // Each segment gives half of what it gives at full.
    let full = found["channels"][0]["light_percent"].as_array().unwrap();
    let dimmed = scene["light_along_percent"].as_array().unwrap();
    assert_eq!(full.len(), dimmed.len());
    for (full, dimmed) in full.iter().zip(dimmed) {
        assert!((number(dimmed) - 0.5 * number(full)).abs() < 1e-6);
    }
    let whites = scene["white_along_k"].as_array().unwrap();
    assert_eq!(whites.len(), full.len());
    assert!(
        whites
            .iter()
            .all(|white| (number(white) - 2900.0).abs() < 0.5)
    );
    let (silent, _) = json(&["archive-wall", "--scene", "evening"]);
    assert_eq!(silent["scene"]["sets"], false);
}

#[test]
fn what_is_drawn_is_what_was_sized() {
    let (found, _) = json(&[COVE]);
    let light = |channel: &Value| {
        let values = channel["light_percent"].as_array().unwrap();
        values.iter().map(number).fold(f64::INFINITY, f64::min)
    };
    let channels = found["channels"].as_array().unwrap();
    let darkest = channels.iter().map(light).fold(f64::INFINITY, f64::min);
    assert!((darkest - number(&found["run"]["light_least_percent"])).abs() < 1e-6);
    assert_eq!(found["at_m"].as_array().unwrap().len(), 368);
    let nominal = number(&found["tolerance"]["nominal_percent"]);
    assert!((darkest - nominal).abs() < 1e-6);
    assert!(number(&found["tolerance"]["together_percent"]) < nominal);
}

#[test]
fn unknown_names_are_refused_with_the_nearest() {
    let failing = |flags: &[&str]| {
        along_in(&demo(), flags, look(false))
            .unwrap_err()
            .messages
            .join("\n")
    };
    assert!(failing(&["hall-cove-nort"]).contains("did you mean `hall-cove-north`?"));
    assert!(failing(&[COVE, "--scene", "evning"]).contains("did you mean `evening`?"));
    assert!(failing(&[COVE, "--feed", "both end"]).contains("did you mean `both ends`?"));
    assert!(failing(&[COVE, "--feed", "at [0 m, 60 m]"]).contains("beyond the run's end"));
    assert!(failing(&[COVE, "--limits", "5"]).contains("has no unit"));
    assert!(failing(&[COVE, "--light-starts-range", "18V..16V"]).contains("lower voltage"));
    assert!(failing(&[COVE, "--light-starts-range", "16V..24V"]).contains("below 24.00 V"));
    assert!(failing(&[COVE, "--power-tolerance", "100%"]).contains("less than 100 %"));
    assert!(!failing(&["x\u{1b}[2J"]).contains('\u{1b}'));
}

#[test]
fn a_run_that_breaks_a_limit_says_so() {
    let from = "length: 18.4 m\n    group: hall-cove\n    cupboard: cupboard-a\n    to_start: 6 m";
    let to = format!("{from}\n    feed: start");
    let (_folder, path) = changed(&[(from, &to)]);
    let (text, outcome) = along_in(&path, &[COVE], look(false)).unwrap();
    assert_eq!(outcome, Outcome::Broken);
    assert!(text.contains("strip-light-drop broken"), "{text}");
}

/// The demo's runs, one of 1 m, one of 60 m with many feeds, and one with a name that means harm.
fn many() -> (tempfile::TempDir, PathBuf) {
    let hostile = HOSTILE.replace('\'', "''");
    changed(&[
        (
            "length: 3.4 m, group: foyer-desk",
            "length: 1 m, group: foyer-desk",
        ),
        ("length: 38.0 m", "length: 60 m\n    feed: every 2.7 m"),
        (
            "reach_along: no\n    profile",
            "reach_along: yes\n    profile",
        ),
        ("run: stair-landing", &format!("run: '{hostile}'")),
    ])
}

fn overlapping(sheet: &Sheet) -> Vec<(String, String)> {
    let labels: Vec<_> = sheet.labels().collect();
    let mut found = Vec::new();
    for (index, one) in labels.iter().enumerate() {
        for other in labels.iter().skip(index + 1) {
            if one.bounds().overlaps(&other.bounds()) {
                found.push((one.text.clone(), other.text.clone()));
            }
        }
    }
    found
}

#[test]
fn no_label_lies_on_another_and_none_leaves_the_sheet() {
    let (_folder, path) = many();
    let job = job(&path);
    let lengths: Vec<f64> = job.sizing.runs.iter().map(|run| run.length.value).collect();
    for wanted in [1.0, 18.4, 60.0] {
        assert!(
            lengths.iter().any(|length| (length - wanted).abs() < 0.11),
            "{lengths:?}"
        );
    }
    for sized in &job.sizing.runs {
        let sheet = sheet_of(&job, &sized.run.name);
        assert!(sheet.labels().count() > 20, "{}", sized.run.name);
        assert_eq!(overlapping(&sheet), [], "{}", sized.run.name);
        for label in sheet.labels() {
            let room = label.bounds();
            let inside = room.left >= 0.0
                && room.top >= 0.0
                && room.left + room.width <= sheet.width
                && room.top + room.height <= sheet.height;
            assert!(inside, "{}: {:?}", sized.run.name, label);
        }
    }
}

#[test]
fn labels_that_do_overlap_are_found() {
    let mut sheet = sheet_of(&job(&demo()), COVE);
    sheet.text((100.0, 58.0), 12.0, "on the title block");
    assert_eq!(overlapping(&sheet).len(), 1);
}

#[test]
fn drawings_are_well_formed_and_the_same_twice() {
    let (_folder, path) = many();
    let (first, second) = (job(&path), job(&path));
    for sized in &first.sizing.runs {
        let name = &sized.run.name;
        let text = svg::write(&sheet_of(&first, name));
        assert_eq!(text, svg::write(&sheet_of(&second, name)));
        let parsed = roxmltree::Document::parse(&text).unwrap_or_else(|error| panic!("{error}"));
        let texts: Vec<&str> = parsed
            .descendants()
            .filter(|node| node.has_tag_name("text"))
            .filter_map(|node| node.text())
            .collect();
        assert_eq!(texts[0], name, "the name stands as it is");
        assert!(texts.contains(&"Cautions"));
    }
}

#[test]
fn no_drawing_leaves_its_folder() {
    let (folder, path) = many();
    let job = job(&path);
    let files = report::files(&job, &[]).unwrap();
    let drawn: Vec<&str> = files
        .iter()
        .map(|file| file.name.as_str())
        .filter(|name| name.ends_with(".svg"))
        .collect();
    let runs = drawn.iter().filter(|name| name.starts_with("run-"));
    assert_eq!(runs.count(), job.sizing.runs.len());
    for name in drawn {
        let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.');
        let kinds = ["run-", "loop-", "cupboard-", "cutting-", "overview-"];
        assert!(
            kinds.iter().any(|kind| name.starts_with(kind)) && name.chars().all(plain),
            "{name}"
        );
        assert!(!name.contains(".."), "{name}");
    }
    let out = folder.path().join("one.svg");
    let flags = [HOSTILE, "--svg", out.to_str().unwrap()];
    along_in(&path, &flags, look(false)).unwrap();
    let written = std::fs::read_to_string(&out).unwrap();
    assert_eq!(written, svg::write(&sheet_of(&job, HOSTILE)));
    let missing = folder.path().join("trade.yaml/x.svg");
    let flags = [COVE, "--svg", missing.to_str().unwrap()];
    assert!(along_in(&path, &flags, look(false)).is_err());
}

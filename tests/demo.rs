//! The demo, tried as a new user would: what holds, what breaks when it is spoilt, and that a
//! printed remedy works when it is followed.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// A folder with the demo's catalogue and its project, changed.
struct Demo {
    folder: TempDir,
}

impl Demo {
    fn new(change: impl Fn(String) -> String) -> Demo {
        let folder = tempfile::tempdir().expect("a folder");
        let from = root().join("catalogue-examples");
        std::fs::copy(from.join("trade.yaml"), folder.path().join("trade.yaml")).expect("a copy");
        let project =
            std::fs::read_to_string(from.join("millrace-library.yaml")).expect("the demo");
        std::fs::write(folder.path().join("project.yaml"), change(project)).expect("a project");
        Demo { folder }
    }

    /// The demo with a piece of its text replaced.
    fn with(old: &str, new: &str) -> Demo {
        Demo::new(|text| {
            assert!(text.contains(old), "`{old}` is not in the demo");
            text.replace(old, new)
        })
    }

    fn run(&self, arguments: &[&str]) -> Output {
        feedpoint(self.folder.path(), arguments)
    }
}

fn feedpoint(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args(arguments)
        .current_dir(folder)
        .env("COLUMNS", "160")
        .output()
        .expect("the program runs")
}

fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("text")
}

fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("text")
}

fn broken(output: &Output) -> Vec<serde_json::Value> {
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("one JSON object");
    let verdicts = json["verdicts"].as_array().expect("verdicts").clone();
    verdicts
        .into_iter()
        .filter(|verdict| verdict["verdict"] == "broken")
        .collect()
}

/// One archive table lamp is 4.8 m; three times that, fed at its start alone, can't be even.
const TABLE: &str = "strip: work-24-14, length: 4.8 m, group: archive, cupboard: cupboard-b, to_start: 7 m, to_end: 12 m";

#[test]
fn the_demo_holds() {
    let demo = Demo::new(|text| text);
    let output = demo.run(&["check", "project.yaml"]);
    assert_eq!(output.status.code(), Some(0), "{}", stdout(&output));
    assert!(
        stdout(&output).starts_with("0 broken"),
        "{}",
        stdout(&output)
    );
}

#[test]
fn three_times_the_length_fed_at_the_start_breaks_and_the_remedy_works() {
    let long = TABLE
        .replace("4.8 m", "14.4 m")
        .replace("to_end: 12 m", "to_end: 22 m");
    let spoilt = format!("{long}, feed: start");
    let output = Demo::with(TABLE, &spoilt).run(&["check", "project.yaml", "--format", "json"]);
    assert_eq!(output.status.code(), Some(1));
    let verdicts = broken(&output);
    let light = verdicts
        .iter()
        .find(|v| v["rule"] == "strip-light-drop" && v["subject"] == "run archive-table-1")
        .expect("the light drop of that run is broken");
    let found = light["found"].as_f64().expect("the light lost");
    assert!(found > 30.0, "{found} % lost");
    assert_eq!(light["limit"].as_f64(), Some(10.0));
    let remedy = light["remedy"].as_str().expect("a remedy");
    assert!(remedy.starts_with("set `feed: auto`"), "{remedy}");
    assert!(remedy.contains("(limit 10.0 %)"), "{remedy}");

    let cured = Demo::with(TABLE, &format!("{long}, feed: auto"));
    let output = cured.run(&["check", "project.yaml"]);
    assert_eq!(output.status.code(), Some(0), "{}", stdout(&output));
}

#[test]
fn a_run_without_reach_is_told_to_let_cable_run_beside_it() {
    let shelf = "length: 3.6 m, group: stacks-low, cupboard: cupboard-b, to_start: 5 m";
    let spoilt = shelf.replace("3.6 m", "10.8 m") + ", feed: start";
    let output = Demo::with(shelf, &spoilt).run(&["check", "project.yaml", "--format", "json"]);
    assert_eq!(output.status.code(), Some(1));
    let verdicts = broken(&output);
    let light = verdicts
        .iter()
        .find(|v| v["rule"] == "strip-light-drop")
        .expect("broken");
    let remedy = light["remedy"].as_str().expect("a remedy");
    assert!(
        remedy.contains("`reach_along: yes` and `feed: auto`"),
        "{remedy}"
    );
    let cured = shelf.replace("3.6 m", "10.8 m") + ", reach_along: yes, feed: auto";
    let output = Demo::with(shelf, &cured).run(&["check", "project.yaml"]);
    assert_eq!(output.status.code(), Some(0), "{}", stdout(&output));
}

#[test]
fn a_scene_beyond_its_strip_names_the_nearest_white() {
    let output = Demo::with(
        "{light: 50 %, white: 2900 K}",
        "{light: 50 %, white: 2200 K}",
    )
    .run(&["check", "project.yaml", "--format", "json"]);
    assert_eq!(output.status.code(), Some(1));
    let verdicts = broken(&output);
    let white = verdicts
        .iter()
        .find(|v| v["rule"] == "white-range")
        .expect("white-range is broken");
    assert!(
        white["remedy"]
            .as_str()
            .is_some_and(|text| text.contains("2700 K")),
        "{white}"
    );
}

#[test]
fn a_missing_price_is_a_fault_and_not_a_zero() {
    let demo = Demo::new(|text| text);
    let path = demo.folder.path().join("trade.yaml");
    let text = std::fs::read_to_string(&path).expect("the catalogue");
    let without = text
        .replace("price: 694.00", "")
        .replace("price: 268.00", "");
    std::fs::write(&path, without).expect("a catalogue");
    let output = demo.run(&["check", "project.yaml"]);
    assert_eq!(output.status.code(), Some(1), "{}", stdout(&output));
    assert!(
        stdout(&output).contains("price-missing"),
        "{}",
        stdout(&output)
    );
    let quote = stdout(&demo.run(&["quote", "project.yaml"]));
    assert!(quote.contains("1 line without a price"), "{quote}");
}

/// What can't be used: one clear message that says what would be right, status 2, nothing written.
#[test]
fn unusable_input_is_refused_and_nothing_is_written() {
    let cases: [(&str, &str, &str); 3] = [
        (
            "length: 18.4 m\n    group: hall-cove\n    cupboard: cupboard-a\n    to_start: 6 m",
            "length: -18.4 m\n    group: hall-cove\n    cupboard: cupboard-a\n    to_start: 6 m",
            "project.yaml:46:13",
        ),
        (
            "catalogues: [trade.yaml]",
            "catalogues: [nowhere.yaml]",
            "nowhere.yaml",
        ),
        ("region: iec", "region: [iec", "project.yaml"),
    ];
    for (old, new, place) in cases {
        let demo = Demo::with(old, new);
        let output = demo.run(&["report", "project.yaml", "--out", "out"]);
        assert_eq!(output.status.code(), Some(2), "{new}");
        assert!(
            stderr(&output).contains(place),
            "{new}: {}",
            stderr(&output)
        );
        assert!(stdout(&output).is_empty(), "{new}: {}", stdout(&output));
        assert!(!demo.folder.path().join("out").exists(), "{new}");
    }
}

#[test]
fn a_cable_three_metres_thick_is_refused() {
    let demo = Demo::new(|text| text);
    let path = demo.folder.path().join("trade.yaml");
    let text = std::fs::read_to_string(&path).expect("the catalogue");
    std::fs::write(&path, text.replacen("size: 1.5 mm²", "size: 3 m²", 1)).expect("a catalogue");
    let output = demo.run(&["check", "project.yaml"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        stderr(&output).contains("trade.yaml:"),
        "{}",
        stderr(&output)
    );
    assert!(stderr(&output).contains("mm²"), "{}", stderr(&output));
}

#[test]
fn files_that_are_no_project_are_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("empty.yaml"), "").expect("a file");
    std::fs::create_dir(folder.path().join("folder.yaml")).expect("a folder");
    for name in ["empty.yaml", "folder.yaml", "missing.yaml"] {
        let output = feedpoint(folder.path(), &["check", name]);
        assert_eq!(output.status.code(), Some(2), "{name}");
        assert!(
            stderr(&output).contains(name),
            "{name}: {}",
            stderr(&output)
        );
        assert!(stdout(&output).is_empty());
    }
}

#[test]
fn an_output_folder_that_is_a_file_is_refused() {
    let demo = Demo::new(|text| text);
    std::fs::write(demo.folder.path().join("out"), "mine").expect("a file");
    let output = demo.run(&["report", "project.yaml", "--out", "out"]);
    assert_eq!(output.status.code(), Some(2), "{}", stdout(&output));
    let kept = std::fs::read_to_string(demo.folder.path().join("out")).expect("still there");
    assert_eq!(kept, "mine");
}

#[test]
fn every_driver_is_on_one_loop_and_one_circuit() {
    let demo = Demo::new(|text| text);
    let json = |arguments: &[&str]| -> serde_json::Value {
        serde_json::from_slice(&demo.run(arguments).stdout).expect("one JSON object")
    };
    let size = json(&["size", "project.yaml", "--format", "json"]);
    let loops = json(&["loops", "project.yaml", "--format", "json"]);
    let list = |value: &serde_json::Value| value.as_array().expect("a list").clone();
    for driver in list(&size["drivers"]) {
        let name = driver["driver"].clone();
        let on_loops = list(&loops["loops"])
            .iter()
            .flat_map(|bus| list(&bus["members"]))
            .filter(|member| member["device"] == name)
            .count();
        let on_circuits = list(&loops["circuits"])
            .iter()
            .filter(|circuit| list(&circuit["drivers"]).contains(&name))
            .count();
        assert_eq!((on_loops, on_circuits), (1, 1), "{name}");
    }
}

#[test]
fn a_project_without_a_list_of_groups_has_those_its_runs_name() {
    let demo = Demo::new(|text| {
        let (head, rest) = text.split_once("\ngroups:\n").expect("groups");
        let (_, tail) = rest.split_once("\nscenes:\n").expect("scenes");
        format!("{head}\n\nscenes:\n{tail}")
    });
    let output = demo.run(&["check", "project.yaml"]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
}

//! Two projects against each other: whether the differences that are printed are those that there
//! are, and add up.

use rust_decimal::Decimal;
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples")
}

fn run(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args(arguments)
        .current_dir(folder)
        .env("COLUMNS", "100")
        .env("LC_ALL", "C.UTF-8")
        .output()
        .expect("the program runs")
}

/// A folder with the demo as `old.yaml` and a changed one as `new.yaml`.
fn folder(changes: &[(&str, &str)]) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let demo = std::fs::read_to_string(examples().join("millrace-library.yaml")).expect("the demo");
    let mut new = demo.clone();
    for (from, to) in changes {
        assert!(new.contains(from), "{from}");
        new = new.replace(from, to);
    }
    std::fs::copy(
        examples().join("trade.yaml"),
        folder.path().join("trade.yaml"),
    )
    .expect("a copy");
    std::fs::write(folder.path().join("old.yaml"), demo).expect("written");
    std::fs::write(folder.path().join("new.yaml"), new).expect("written");
    folder
}

fn json(output: &Output) -> Value {
    let error = String::from_utf8_lossy(&output.stderr);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("no JSON: {error}"))
}

fn compared(changes: &[(&str, &str)]) -> Value {
    let folder = folder(changes);
    json(&run(
        folder.path(),
        &["compare", "old.yaml", "new.yaml", "--format", "json"],
    ))
}

fn amount(value: &Value) -> Decimal {
    let text = value
        .as_str()
        .unwrap_or_else(|| panic!("{value} is no amount"));
    text.parse().expect("a decimal")
}

fn quote(folder: &Path, project: &str) -> Value {
    json(&run(folder, &["quote", project, "--format", "json"]))
}

const SHORTER: (&str, &str) = ("length: 38.0 m", "length: 36.0 m");
const LOOSER: (&str, &str) = ("light_drop: 10 %", "light_drop: 20 %");
const DEARER: (&str, &str) = ("labour_rate: 42.00", "labour_rate: 44.00");

#[test]
fn the_same_project_has_no_difference() {
    let found = compared(&[]);
    assert_eq!(found["lines"], Value::Array(Vec::new()));
    assert_eq!(found["places"], Value::Array(Vec::new()));
    assert_eq!(found["difference"]["net"], "0.00");
    for untouched in found["untouched"].as_array().expect("a list") {
        assert_eq!(untouched["alike"], untouched["of"], "{untouched}");
    }
}

#[test]
fn differences_of_lines_come_to_the_difference_of_the_two_quotations() {
    for changes in [&[SHORTER][..], &[LOOSER], &[DEARER], &[SHORTER, LOOSER]] {
        let folder = folder(changes);
        let found = json(&run(
            folder.path(),
            &["compare", "old.yaml", "new.yaml", "--format", "json"],
        ));
        let lines = found["lines"].as_array().expect("lines");
        assert!(!lines.is_empty());
        let sum: Decimal = lines.iter().map(|line| amount(&line["difference"])).sum();
        let net = |project| amount(&quote(folder.path(), project)["totals"]["net"]);
        assert_eq!(sum, net("new.yaml") - net("old.yaml"), "{changes:?}");
        let parts = &found["difference"];
        let by_kind = ["added", "omitted", "changed"].map(|kind| amount(&parts[kind]));
        assert_eq!(by_kind.iter().sum::<Decimal>(), amount(&parts["net"]));
    }
}

#[test]
fn backwards_every_difference_has_the_other_sign() {
    let folder = folder(&[SHORTER, LOOSER]);
    let of = |old, new| {
        let found = json(&run(
            folder.path(),
            &["compare", old, new, "--format", "json"],
        ));
        let lines = found["lines"].as_array().expect("lines").clone();
        let mut sums: Vec<(String, Decimal)> = lines
            .iter()
            .map(|line| (line["description"].to_string(), amount(&line["difference"])))
            .collect();
        sums.sort();
        sums
    };
    let back: Vec<_> = of("new.yaml", "old.yaml")
        .into_iter()
        .map(|(line, sum)| (line, -sum))
        .collect();
    assert_eq!(of("old.yaml", "new.yaml"), back);
}

#[test]
fn a_rate_that_changed_touches_labour_alone() {
    let found = compared(&[DEARER]);
    for line in found["lines"].as_array().expect("lines") {
        assert_eq!(line["section"], "labour", "{line}");
        assert_eq!(line["reason"], "another rate", "{line}");
    }
    assert_eq!(found["places"], Value::Array(Vec::new()));
}

#[test]
fn it_says_which_files_and_in_plain_words_what_changed() {
    let folder = folder(&[("  - {run: foyer-desk, ", "  # {run: foyer-desk, ")]);
    let output = run(folder.path(), &["compare", "old.yaml", "new.yaml"]);
    let text = String::from_utf8_lossy(&output.stdout);
    let words: Vec<&str> = text.split_whitespace().collect();
    let words = words.join(" ");
    for said in ["20 Nov 2026, in old.yaml.", "20 Nov 2026, in new.yaml."] {
        assert!(words.contains(said), "{said}: {text}");
    }
    let arguments = ["compare", "old.yaml", "new.yaml", "--format", "json"];
    let found = json(&run(folder.path(), &arguments));
    let lines = found["lines"].as_array().expect("lines");
    let reason = |start: &str| {
        let has = |line: &&Value| {
            line["description"]
                .as_str()
                .is_some_and(|it| it.starts_with(start))
        };
        lines.iter().find(has).expect(start)["reason"].clone()
    };
    assert_eq!(
        reason("tunable white strip 24 V, 10 W/m, warm and cool, reel"),
        "1 reel less: foyer-desk"
    );
    assert_eq!(
        reason("aluminium profile 9 mm deep with opal lid, bar of 3 m"),
        "2 bars less: foyer-desk"
    );
    assert_eq!(reason("fit soldered tail three-core"), "0.2 h less");
}

/// A run is taken out; the driver that fed it is gone, the drivers after it are the same under
/// other numbers, and not one of them is said to be new.
#[test]
fn a_new_number_is_not_another_driver() {
    let found = compared(&[("  - {run: foyer-desk, ", "  # {run: foyer-desk, ")]);
    let places = found["places"].as_array().expect("places");
    let of = |kind: &str, change: &str| {
        let all = places.iter();
        all.filter(|it| it["kind"] == kind && it["change"] == change)
            .count()
    };
    assert_eq!(of("run", "removed"), 1);
    assert_eq!(of("driver", "removed"), 1);
    assert_eq!(of("driver", "added"), 0);
    assert!(of("driver", "renumbered") > 5);
    for it in places.iter().filter(|it| it["kind"] == "driver") {
        assert_ne!(it["what"], "item", "{it}");
    }
}

#[test]
fn amounts_of_two_currencies_are_not_subtracted() {
    let folder = folder(&[("catalogues: [trade.yaml]", "catalogues: [other.yaml]")]);
    let trade = std::fs::read_to_string(examples().join("trade.yaml")).expect("a catalogue");
    let other = trade.replace("currency: EUR", "currency: GBP");
    std::fs::write(folder.path().join("other.yaml"), other).expect("written");
    let output = run(folder.path(), &["compare", "old.yaml", "new.yaml"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("EUR") && said.contains("GBP"), "{said}");
}

#[test]
fn a_comparison_is_written_whole_and_agrees_with_its_schema() {
    let folder = folder(&[SHORTER]);
    let arguments = ["compare", "old.yaml", "new.yaml", "--out", "change"];
    let output = run(folder.path(), &arguments);
    assert_eq!(output.status.code(), Some(0));
    let pdf = std::fs::read(folder.path().join("change/comparison.pdf")).expect("a PDF");
    assert!(pdf.starts_with(b"%PDF-"));
    let text = std::fs::read(folder.path().join("change/comparison.json")).expect("JSON");
    let object: Value = serde_json::from_slice(&text).expect("one object");
    let schema = run(folder.path(), &["schema", "comparison"]);
    let schema: Value = serde_json::from_slice(&schema.stdout).expect("a schema");
    let validator = jsonschema::draft202012::new(&schema).expect("a schema after draft 2020-12");
    assert!(validator.is_valid(&object));
    for name in ["difference", "figures", "price-changes", "place-changes"] {
        let path = folder.path().join(format!("change/{name}.csv"));
        let mut rows = csv::Reader::from_path(path).expect(name);
        assert!(rows.records().all(|row| row.is_ok()), "{name}");
    }
}

/// The folder with `old.yaml` issued, as `issued-B.yaml`.
fn issued(changes: &[(&str, &str)]) -> TempDir {
    let folder = folder(changes);
    let output = run(folder.path(), &["issue", "old.yaml"]);
    assert_eq!(output.status.code(), Some(0));
    folder
}

#[test]
fn a_record_against_its_project_lists_what_is_not_as_it_was_issued() {
    let removed = "  - {run: stair-landing, room: stair, strip: stair-24-5, length: 2.4 m, group: stair, cupboard: cupboard-b, to_start: 10 m, accessible: yes}\n";
    let folder = issued(&[(removed, "")]);
    let same = ["compare", "issued-B.yaml", "old.yaml", "--format", "json"];
    let same = json(&run(folder.path(), &same));
    assert_eq!(same["changes"]["list"].as_array().map(Vec::len), Some(0));
    assert_eq!(same["changes"]["net_was"], same["changes"]["net_now"]);
    let output = json(&run(
        folder.path(),
        &["compare", "issued-B.yaml", "new.yaml", "--format", "json"],
    ));
    let changes = &output["changes"];
    assert_eq!(changes["since"], "B");
    assert_eq!(changes["moved"], 0);
    assert_eq!(changes["added"], 0);
    let list = changes["list"].as_array().expect("a list");
    assert_eq!(list[0]["subject"], "stair-landing");
    assert!(amount(&changes["net_now"]) < amount(&changes["net_was"]));
    // Each line of the price that is not as it was says what about it.
    let prices = changes["prices"].as_array().expect("lines");
    assert!(!prices.is_empty());
    let reason = |item: &str| {
        let line = prices.iter().find(|line| line["item"] == item);
        line.expect(item)["reason"].clone()
    };
    assert_eq!(reason("tail-2"), "1 less");
    assert!(prices.iter().all(|line| line["reason"] != ""), "{prices:?}");
    let words = run(folder.path(), &["compare", "issued-B.yaml", "new.yaml"]);
    let words = String::from_utf8_lossy(&words.stdout).into_owned();
    assert!(words.contains("Since revision B"), "{words}");
    assert!(!words.contains("sss"), "{words}");
}

#[test]
fn a_record_is_refused_where_it_can_tell_nothing() {
    let folder = issued(&[("title: Millrace Library", "title: Weir House")]);
    let refused = |arguments: &[&str]| {
        let output = run(folder.path(), arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(output.stdout.is_empty());
        String::from_utf8_lossy(&output.stderr).into_owned()
    };
    let told = refused(&["compare", "old.yaml", "issued-B.yaml"]);
    assert!(told.contains("NEW is a project file"), "{told}");
    let record = folder.path().join("issued-B.yaml");
    let text = std::fs::read_to_string(&record).expect("the record");
    std::fs::write(&record, text.replacen("D-03", "D-33", 1)).expect("written");
    let told = refused(&["compare", "issued-B.yaml", "old.yaml"]);
    assert!(told.starts_with("error[record-changed]"), "{told}");
}

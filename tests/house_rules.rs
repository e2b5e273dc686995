//! Do house rules and `explain` do on the command line what they say: pick, bound, loosen by name,
//! and work a rule's figure?

use std::path::Path;
use std::process::{Command, Output};
use tempfile::TempDir;

const DEMO: &str = "catalogue-examples/millrace-library.yaml";

fn run(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_feedpoint"));
    command
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env_remove("COLUMNS")
        .args(arguments);
    command.output().expect("the program runs")
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).expect("UTF-8")
}

fn words(bytes: &[u8]) -> String {
    text(bytes).split_whitespace().collect::<Vec<_>>().join(" ")
}

fn demo() -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(DEMO)).expect("the demo")
}

/// A folder with the demo, in which `old` is replaced.
fn demo_with(old: &str, new: &str) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let trade = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples/trade.yaml");
    std::fs::copy(trade, folder.path().join("trade.yaml")).expect("a copy");
    let project = demo();
    assert!(project.contains(old), "{old}");
    std::fs::write(
        folder.path().join("project.yaml"),
        project.replace(old, new),
    )
    .expect("written");
    folder
}

fn project_in(folder: &TempDir) -> String {
    folder.path().join("project.yaml").display().to_string()
}

/// A house rule in place of the demo's own.
fn demo_with_house_rule(rule: &str) -> TempDir {
    let project = std::fs::read_to_string(DEMO).expect("the demo");
    let own = project
        .lines()
        .find(|line| line.contains("rule: house-feed-drop"));
    demo_with(own.expect("the demo's house rule"), &format!("  - {rule}"))
}

fn check_json(folder: &TempDir) -> serde_json::Value {
    let printed = run(&["check", &project_in(folder), "--format", "json"]);
    serde_json::from_slice(&printed.stdout).expect("JSON")
}

#[test]
fn a_house_rule_is_about_what_it_picks() {
    let rule = "{rule: few-feeds, measure: feeds, at_most: 4, only: {room: reading-hall}, because: the ceiling}";
    let printed = check_json(&demo_with_house_rule(rule));
    let verdicts = printed["verdicts"].as_array().expect("verdicts");
    let of_rule: Vec<_> = verdicts
        .iter()
        .filter(|v| v["rule"] == "few-feeds")
        .collect();
    assert_eq!(of_rule.len(), 5);
    let broken: Vec<_> = of_rule
        .iter()
        .filter(|v| v["verdict"] == "broken")
        .collect();
    assert_eq!(broken.len(), 1);
    assert_eq!(broken[0]["subject"], "run hall-cove-south");
    assert_eq!(broken[0]["severity"], "caution");
    assert_eq!(broken[0]["source"], "house rule: the ceiling");
    assert!(broken[0]["place"]["line"].is_u64());
}

#[test]
fn a_published_limit_is_loosened_by_name_and_with_a_reason_alone() {
    let silent = demo_with(
        "limits: {light_drop: 10 %,",
        "limits: {feed_drop: 6 %, light_drop: 10 %,",
    );
    let refused = run(&["check", &project_in(&silent)]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(text(&refused.stderr).contains("looser-than-published"));
    for (rule, code) in [
        (
            "{rule: slack, measure: feed_drop, at_most: 6 %, loosens: feed-voltage-drop}",
            "no-reason",
        ),
        (
            "{rule: slack, measure: feed_drop, at_most: 4 %, loosens: feed-voltage-drop, because: x}",
            "not-looser",
        ),
        (
            "{rule: slack, measure: gear, at_most: 70, loosens: bus-gear-count, because: x}",
            "not-to-loosen",
        ),
        (
            "{rule: slack, measure: gear, at_most: 60, only: {group: hall-cove}}",
            "wrong-filter",
        ),
        (
            "{rule: slack, measure: feeds, at_most: 6, only: {room: attic}}",
            "unknown-id",
        ),
    ] {
        let refused = run(&["check", &project_in(&demo_with_house_rule(rule))]);
        assert_eq!(refused.status.code(), Some(2), "{rule}");
        assert!(
            text(&refused.stderr).contains(code),
            "{rule}: {}",
            text(&refused.stderr)
        );
    }
}

#[test]
fn every_document_says_that_a_published_limit_is_loosened() {
    let rule = "{rule: slack, measure: feed_drop, at_most: 6 %, loosens: feed-voltage-drop, because: the strip stands it}";
    let folder = demo_with_house_rule(rule);
    let printed = check_json(&folder);
    let said = "feed-voltage-drop: 6.0 % in place of 5.0 %";
    let cautions = printed["cautions"].as_array().expect("cautions");
    assert!(
        cautions
            .iter()
            .any(|one| one.as_str().is_some_and(|one| one.contains(said)))
    );
    let verdicts = printed["verdicts"].as_array().expect("verdicts");
    let judged = verdicts
        .iter()
        .find(|v| v["rule"] == "feed-voltage-drop")
        .expect("judged");
    assert_eq!(judged["limit"], 6.0);
    assert!(
        judged["source"]
            .as_str()
            .expect("a source")
            .contains("the strip stands it")
    );
}

#[test]
fn a_rule_is_explained_with_its_figure_worked() {
    let demo = run(&["explain", "driver-load-share"]);
    assert_eq!(demo.status.code(), Some(0));
    assert!(
        text(&demo.stdout).contains("Worked"),
        "{}",
        text(&demo.stdout)
    );
    let elsewhere = run(&["explain", "driver-class2"]);
    assert!(words(&elsewhere.stdout).contains("in the annex in north-america"));
    let own = run(&["explain", "end-gap", "--on", DEMO]);
    assert!(words(&own.stdout).contains(&format!("in {DEMO}: run ")));
    let measures = run(&["explain", "--measures"]);
    assert!(words(&measures.stdout).contains("may loosen feed-voltage-drop"));
}

#[test]
fn rules_are_a_document_that_is_made_when_asked_for() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().display().to_string();
    let made = run(&["report", DEMO, "--only", "rules", "--out", &out]);
    assert_eq!(made.status.code(), Some(0), "{}", text(&made.stderr));
    let entries = std::fs::read_dir(folder.path()).expect("a folder");
    let mut names: Vec<_> = entries
        .map(|entry| entry.expect("an entry").file_name())
        .collect();
    names.sort();
    let expected = [
        "report.sha256",
        "rules-nearest.csv",
        "rules.csv",
        "rules.html",
        "rules.pdf",
        "rules.xlsx",
    ];
    assert_eq!(names, expected);
    let csv = std::fs::read_to_string(folder.path().join("rules.csv")).expect("a table");
    for rule in feedpoint::judge::RULES {
        assert!(csv.contains(&format!("\n{},", rule.id)), "{}", rule.id);
    }
}

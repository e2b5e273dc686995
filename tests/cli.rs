//! Does the program behave on a command line as such programs should: exit status, pipes, formats,
//! widths, and files written whole or not at all?

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use tempfile::TempDir;

const DEMO: &str = "catalogue-examples/millrace-library.yaml";

fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_feedpoint"));
    command
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env_remove("COLUMNS")
        .env("LC_ALL", "C.UTF-8");
    command
}

fn run(arguments: &[&str]) -> Output {
    program()
        .args(arguments)
        .output()
        .expect("the program runs")
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).expect("UTF-8")
}

/// A folder with the demo, in which `old` is replaced.
fn demo_with(old: &str, new: &str) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples");
    std::fs::copy(from.join("trade.yaml"), folder.path().join("trade.yaml")).expect("a copy");
    let project = std::fs::read_to_string(from.join("millrace-library.yaml")).expect("the demo");
    assert!(project.contains(old), "{old}");
    let project = project.replace(old, new);
    std::fs::write(folder.path().join("project.yaml"), project).expect("a project");
    folder
}

fn project_in(folder: &TempDir) -> String {
    folder.path().join("project.yaml").display().to_string()
}

fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    std::fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry"))
        .filter(|entry| entry.path().is_file())
        .map(|entry| {
            let name = entry.file_name().to_string_lossy().into_owned();
            (name, std::fs::read(entry.path()).expect("a file"))
        })
        .collect()
}

#[test]
fn exit_status_is_0_kept_1_broken_2_unusable() {
    assert_eq!(run(&["check", DEMO]).status.code(), Some(0));
    let broken = demo_with("upstream_drop: 0.5 %", "upstream_drop: 5 %");
    let output = run(&["check", &project_in(&broken)]);
    assert_eq!(output.status.code(), Some(1), "{}", text(&output.stdout));
    for command in ["size", "loops", "quote"] {
        let output = run(&[command, &project_in(&broken)]);
        assert_eq!(output.status.code(), Some(1), "{command}");
    }
    let unusable = demo_with("format: 1", "format: 99");
    for command in ["check", "size", "loops", "quote", "report"] {
        let output = run(&[command, &project_in(&unusable)]);
        assert_eq!(output.status.code(), Some(2), "{command}");
        assert!(output.stdout.is_empty(), "results of what can't be used");
        assert!(!output.stderr.is_empty());
    }
    assert_eq!(run(&["no-such-command"]).status.code(), Some(2));
    assert_eq!(run(&["check"]).status.code(), Some(2));
    assert_eq!(run(&["check", "no-such-file.yaml"]).status.code(), Some(2));
}

#[test]
fn what_cannot_be_told_breaks_only_when_asked_to() {
    let folder = demo_with("revision: B", "revision: C");
    let catalogue = folder.path().join("trade.yaml");
    let trade = std::fs::read_to_string(&catalogue).expect("a catalogue");
    let without = strip_key(&trade, "earth_leakage");
    std::fs::write(&catalogue, without).expect("a catalogue");
    let project = project_in(&folder);
    let output = run(&["check", &project]);
    let said = text(&output.stdout);
    assert!(
        said.starts_with("0 broken, ") && !said.contains(", 0 cannot tell"),
        "{said}"
    );
    assert_eq!(output.status.code(), Some(0), "{said}");
    assert_eq!(run(&["check", &project, "--strict"]).status.code(), Some(1));
}

/// The catalogue without one key of its inline mappings.
fn strip_key(text: &str, key: &str) -> String {
    let start = format!(", {key}: ");
    let mut rest = text;
    let mut kept = String::new();
    while let Some(at) = rest.find(&start) {
        kept.push_str(&rest[..at]);
        let after = &rest[at + start.len()..];
        let end = after.find([',', '}']).expect("the value's end");
        rest = &after[end..];
    }
    assert!(!kept.is_empty(), "no {key} in the catalogue");
    kept + rest
}

#[test]
fn a_project_is_read_from_standard_input() {
    let mut child = program()
        .args(["check", "-"])
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program runs");
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join(DEMO);
    let mut input = child.stdin.take().expect("its input");
    input
        .write_all(&std::fs::read(demo).expect("the demo"))
        .expect("room in the pipe");
    drop(input);
    let output = child.wait_with_output().expect("an end");
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(output.stdout, run(&["check", DEMO]).stdout);
}

#[test]
fn a_reader_that_goes_away_is_no_fault() {
    let mut child = program()
        .args(["size", DEMO, "--format", "json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("an end");
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert_eq!(text(&output.stderr), "");
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told() {
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full");
    let mut command = program();
    command
        .args(["size", DEMO])
        .stdout(full.expect("/dev/full"));
    let output = command
        .stderr(Stdio::piped())
        .output()
        .expect("the program runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).starts_with("error: can't write to standard output"));
}

#[test]
fn json_is_one_object_of_format_1_that_agrees_with_the_schema() {
    let schema = run(&["schema", "output"]);
    let schema: serde_json::Value = serde_json::from_slice(&schema.stdout).expect("JSON");
    let along = "hall-cove-north --limits 5%,10% --feed start --scene evening";
    for (command, definition, more) in [
        ("size", "Size", ""),
        ("loops", "Loops", ""),
        ("quote", "Quote", ""),
        ("check", "Check", ""),
        ("along", "Along", along),
    ] {
        let mut flags = vec![command, DEMO, "--format", "json"];
        flags.extend(more.split_whitespace());
        let output = run(&flags);
        let object: serde_json::Value = serde_json::from_slice(&output.stdout).expect(command);
        assert_eq!(object["format"], 1, "{command}");
        let mut part = serde_json::json!({"$ref": format!("#/$defs/{definition}")});
        part["$defs"] = schema["$defs"].clone();
        let validator = jsonschema::validator_for(&part).expect("a usable schema");
        let faults: Vec<_> = validator
            .iter_errors(&object)
            .map(|it| it.to_string())
            .collect();
        assert!(faults.is_empty(), "{command}: {faults:?}");
    }
    let order = run(&["quote", DEMO, "--buy", "--format", "json"]);
    let order: serde_json::Value = serde_json::from_slice(&order.stdout).expect("JSON");
    assert!(
        order["lines"][0].get("price").is_none(),
        "an order list shows no selling price"
    );
}

#[test]
fn csv_names_each_table_before_it() {
    let output = run(&["loops", DEMO, "--format", "csv"]);
    let said = text(&output.stdout);
    let mut tables = 0;
    for block in said.split("\n\n") {
        let (name, table) = block.split_once('\n').expect("a name and a table");
        assert!(name.starts_with("# "), "{name}");
        let mut reader = csv::Reader::from_reader(table.as_bytes());
        let width = reader.headers().expect("headings").len();
        for row in reader.records() {
            assert_eq!(row.expect("a row").len(), width, "{name}");
        }
        tables += 1;
    }
    assert!(tables >= 5);
}

#[test]
fn tables_take_the_width_there_is_and_never_an_escape_in_a_pipe() {
    let at = |columns: &str| {
        let mut command = program();
        command.args(["size", DEMO]).env("COLUMNS", columns);
        command.output().expect("the program runs").stdout
    };
    let (narrow, wide) = (at("80"), at("160"));
    let widest = |bytes: &[u8]| text(bytes).lines().map(|it| it.chars().count()).max();
    assert!(widest(&narrow) <= Some(80), "{:?}", widest(&narrow));
    assert!(widest(&wide) > Some(120) && widest(&wide) <= Some(160));
    assert_eq!(run(&["size", DEMO]).stdout, narrow, "80 columns when piped");
    assert!(!text(&wide).contains('\u{1b}'));
    let mut plain = program();
    plain.args(["size", DEMO]).env("LC_ALL", "C");
    assert!(plain.output().expect("the program runs").stdout.is_ascii());
}

#[test]
fn a_report_is_the_same_each_time_and_says_what_it_wrote() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("made").join("here");
    let path = out.display().to_string();
    let first = run(&["report", DEMO, "--out", &path]);
    assert_eq!(first.status.code(), Some(0), "{}", text(&first.stderr));
    let written = contents(&out);
    let said: Vec<&str> = text(&first.stdout).lines().collect();
    let (counts, paths) = said.split_last().expect("lines");
    assert!(counts.starts_with("0 broken"), "{counts}");
    // What it comes to, for people: not among the results.
    let told = text(&first.stderr);
    for answer in [
        "27 runs, 15 drivers, 3 control loops",
        "Total 29\u{a0}746.24 EUR with VAT",
    ] {
        assert!(told.contains(answer), "{told}");
    }
    assert!(told.trim_end().ends_with("report.pdf."), "{told}");
    let said: Vec<PathBuf> = paths.iter().map(PathBuf::from).collect();
    // The note of what was written is not a document.
    assert_eq!(said.len() + 1, written.len());
    assert!(written.contains_key("report.sha256"));
    for path in said {
        assert_eq!(path.parent(), Some(out.as_path()));
        assert!(written.contains_key(&*path.file_name().expect("a name").to_string_lossy()));
    }
    run(&["report", DEMO, "--out", &path]);
    assert!(contents(&out) == written, "the second report differs");
}

#[test]
fn a_report_that_cannot_be_whole_changes_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().display().to_string();
    std::fs::write(folder.path().join("run-schedule.csv"), "as it was").expect("a file");
    // Where a file should go, a folder stands.
    std::fs::create_dir(folder.path().join("totals.csv")).expect("a folder");
    let output = run(&["report", DEMO, "--out", &path]);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        text(&output.stderr).contains("totals.csv"),
        "{}",
        text(&output.stderr)
    );
    assert!(output.stdout.is_empty());
    let left = contents(folder.path());
    assert_eq!(left.len(), 1, "{:?}", left.keys());
    assert_eq!(left["run-schedule.csv"], b"as it was");
}

#[test]
fn a_report_of_one_document_is_that_document() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().display().to_string();
    let output = run(&[
        "report",
        DEMO,
        "--out",
        &path,
        "--only",
        "circuit-schedule,run-schedule",
    ]);
    assert_eq!(output.status.code(), Some(0));
    let names: Vec<String> = contents(folder.path()).into_keys().collect();
    let expected = [
        "circuit-contents.csv",
        "circuit-schedule.csv",
        "circuit-schedule.html",
        "circuit-schedule.pdf",
        "circuit-schedule.xlsx",
        "feeds.csv",
        "reasons.csv",
        "report.sha256",
        "room-totals.csv",
        "run-schedule.csv",
        "run-schedule.html",
        "run-schedule.pdf",
        "run-schedule.xlsx",
        "states.csv",
    ];
    assert_eq!(names, expected);
    let unknown = run(&["report", DEMO, "--out", &path, "--only", "no-such"]);
    assert_eq!(unknown.status.code(), Some(2));
    assert!(
        text(&unknown.stderr).contains("cutting-list"),
        "the names there are"
    );
}

#[test]
fn every_rule_is_explained_and_a_near_name_is_offered() {
    let list = run(&["explain"]);
    let rules = feedpoint::judge::RULES;
    for rule in rules {
        assert!(text(&list.stdout).contains(rule.id), "{}", rule.id);
        let output = run(&["explain", rule.id]);
        let said = text(&output.stdout)
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ");
        for part in [rule.statement, rule.formula, rule.remedy] {
            assert!(said.contains(part), "{}: {part}", rule.id);
        }
    }
    let output = run(&["explain", "strip-light-drip"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).contains("did you mean `strip-light-drop`?"));
}

#[test]
fn quiet_keeps_faults_and_drops_the_rest() {
    let unusable = demo_with("format: 1", "format: 99");
    let output = run(&["--quiet", "check", &project_in(&unusable)]);
    assert_eq!(output.status.code(), Some(2));
    assert!(!output.stderr.is_empty());
    assert!(run(&["check", DEMO, "--quiet"]).stderr.is_empty());
}

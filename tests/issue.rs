//! Does what was issued stay put: on the next run, after an addition, after a removal; and is a
//! record that was changed by hand told apart?

mod moved;

use std::path::Path;
use std::process::{Command, Output};
use tempfile::TempDir;

/// A folder with the demo as `project.yaml`, changed as asked.
fn demo(change: impl Fn(String) -> String) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples");
    std::fs::copy(from.join("trade.yaml"), folder.path().join("trade.yaml")).expect("a copy");
    let project = std::fs::read_to_string(from.join("millrace-library.yaml")).expect("the demo");
    write(&folder, "project.yaml", &change(project));
    folder
}

fn write(folder: &TempDir, name: &str, text: &str) {
    std::fs::write(folder.path().join(name), text).expect("a file");
}

fn read(folder: &TempDir, name: &str) -> String {
    std::fs::read_to_string(folder.path().join(name)).expect("a file")
}

fn edit(folder: &TempDir, name: &str, old: &str, new: &str) {
    let text = read(folder, name);
    assert!(text.contains(old), "`{old}` is not in {name}");
    write(folder, name, &text.replacen(old, new, 1));
}

fn run(folder: &TempDir, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .current_dir(folder.path())
        .env_remove("COLUMNS")
        .env("LC_ALL", "C.UTF-8")
        .args(arguments)
        .output()
        .expect("the program runs")
}

fn issue(folder: &TempDir, flags: &[&str]) -> Output {
    let mut arguments = vec!["issue", "project.yaml", "--format", "json"];
    arguments.extend(flags);
    run(folder, &arguments)
}

fn error(output: &Output) -> String {
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    assert!(output.stdout.is_empty());
    String::from_utf8(output.stderr.clone()).expect("UTF-8")
}

/// The changes that `issue` prints.
fn changes(output: &Output) -> serde_json::Value {
    assert!(output.status.code() < Some(2), "{output:?}");
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    answer["changes"].clone()
}

/// Each change as `moved address D-01`.
fn listed(changes: &serde_json::Value) -> Vec<String> {
    let list = changes["list"].as_array().expect("a list");
    let word = |change: &serde_json::Value, key: &str| change[key].as_str().unwrap().to_owned();
    list.iter()
        .map(|change| {
            let (how, kind) = (word(change, "change"), word(change, "kind"));
            assert!(!word(change, "reason").is_empty());
            format!("{how} {kind} {}", word(change, "subject"))
        })
        .collect()
}

const NEXT: (&str, &str) = ("revision: B", "revision: C");

#[test]
fn what_was_issued_is_found_again_as_it_was() {
    let folder = demo(|text| text);
    let before = run(&folder, &["report", "project.yaml", "--out", "before"]);
    assert_eq!(before.status.code(), Some(0), "{before:?}");
    assert_eq!(issue(&folder, &[]).status.code(), Some(0));
    let after = run(&folder, &["report", "project.yaml", "--out", "after"]);
    assert_eq!(after.status.code(), Some(0));
    for file in [
        "driver-schedule",
        "loop-members",
        "circuit-contents",
        "run-schedule",
    ] {
        let name = format!("{file}.csv");
        assert_eq!(
            read(&folder, &format!("before/{name}")),
            read(&folder, &format!("after/{name}")),
            "{name}"
        );
    }
    // Issued again, it says the same; a comment in the project changes nothing.
    let record = read(&folder, "issued-B.yaml");
    edit(
        &folder,
        "project.yaml",
        "format: 1",
        "# checked on site\nformat: 1",
    );
    let again = issue(&folder, &[]);
    assert!(String::from_utf8_lossy(&again.stderr).contains("was issued as it is"));
    assert_eq!(listed(&changes(&again)), Vec::<String>::new());
    assert_eq!(read(&folder, "issued-B.yaml"), record);
}

#[test]
fn a_run_more_moves_nothing_and_is_said_to_be_added() {
    let folder = demo(|text| text);
    issue(&folder, &[]);
    let more = "  - {run: stacks-11, room: stacks, strip: shelf-24-7, length: 2.7 m, group: \
                stacks-high, cupboard: cupboard-b, to_start: 12 m, accessible: yes}\n\ndevices:\n";
    edit(&folder, "project.yaml", "devices:\n", more);
    edit(&folder, "project.yaml", NEXT.0, NEXT.1);
    let output = issue(&folder, &[]);
    let changes = changes(&output);
    assert_eq!(changes["moved"], 0);
    assert_eq!(changes["removed"], 0);
    assert_eq!(
        listed(&changes),
        [
            "added run stacks-11",
            "added driver output stacks-11",
            "added feed cable F-040"
        ]
    );
    let price = |key: &str| changes[key].as_str().unwrap().parse::<f64>().unwrap();
    assert!(price("net_now") > price("net_was"));
    assert!(folder.path().join("issued-C.yaml").exists());
    // The next run starts from the newest record.
    let check = run(&folder, &["check", "project.yaml"]);
    let said = String::from_utf8(check.stderr).unwrap();
    assert!(said.contains("starts from revision C"), "{said}");
}

/// The demo without a room and all that is in it.
fn without_foyer(text: &str) -> String {
    let mut kept = String::new();
    let mut skipping = false;
    for line in text.lines() {
        let block = line.starts_with("  - ") || !line.starts_with("    ");
        if block {
            skipping = line.starts_with("  - run: foyer");
        }
        let flow = [
            "  - {run: foyer",
            "  - {device: foyer",
            "  - {group: foyer",
            "      foyer-",
        ];
        if !skipping && !flow.iter().any(|start| line.starts_with(start)) {
            kept.push_str(line);
            kept.push('\n');
        }
    }
    kept
}

#[test]
fn a_room_less_frees_its_addresses_and_moves_nothing() {
    let folder = demo(|text| text);
    issue(&folder, &[]);
    let text = without_foyer(&read(&folder, "project.yaml"));
    write(&folder, "project.yaml", &text.replace(NEXT.0, NEXT.1));
    let changes = changes(&issue(&folder, &[]));
    assert_eq!(changes["moved"], 0, "{:#}", changes["list"]);
    assert_eq!(changes["added"], 0);
    let removed = listed(&changes);
    assert!(removed.contains(&"removed address foyer-sensor-1".to_owned()));
    assert!(removed.contains(&"removed driver D-05".to_owned()));
    // What comes next takes an address that was freed, and a driver number that was not.
    let bench = "  - {run: hall-bench, room: reading-hall, strip: shelf-24-7, length: 2 m, group: \
                 hall-bench, cupboard: cupboard-a, to_start: 12 m, accessible: yes}\n\ndevices:\n";
    edit(&folder, "project.yaml", "devices:\n", bench);
    edit(
        &folder,
        "project.yaml",
        "groups:\n",
        "groups:\n  - {group: hall-bench}\n",
    );
    edit(&folder, "project.yaml", "revision: C", "revision: D");
    let added = listed(&self::changes(&issue(&folder, &[])));
    assert!(added.contains(&"added driver D-16".to_owned()), "{added:?}");
}

#[test]
fn the_room_of_the_last_loop_goes_without_a_new_controller() {
    let folder = demo(|text| text);
    issue(&folder, &[]);
    let kept: String = read(&folder, "project.yaml")
        .lines()
        .filter(|line| {
            let gone = [
                "  - {run: stacks",
                "  - {device: stacks",
                "  - {group: stacks",
                "      stacks-",
            ];
            !gone.iter().any(|start| line.starts_with(start))
        })
        .flat_map(|line| [line, "\n"])
        .collect();
    write(&folder, "project.yaml", &kept);
    let changes = changes(&issue(&folder, &["--replace"]));
    assert_eq!(changes["moved"], 0, "{:#}", changes["list"]);
    assert_eq!(changes["added"], 0);
}

#[test]
fn afresh_says_what_holding_costs() {
    let folder = demo(|text| text);
    issue(&folder, &[]);
    let output = run(&folder, &["loops", "project.yaml", "--afresh"]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(
        said.contains("chosen afresh, not from revision B"),
        "{said}"
    );
    assert!(
        said.contains("the same as with what was issued held"),
        "{said}"
    );
}

#[test]
fn a_revision_is_not_issued_twice_with_other_contents_unless_asked() {
    let folder = demo(|text| text);
    issue(&folder, &[]);
    let record = read(&folder, "issued-B.yaml");
    edit(&folder, "project.yaml", "count: 12}", "count: 11}");
    let said = error(&issue(&folder, &[]));
    assert!(said.contains("was issued with other contents"), "{said}");
    assert_eq!(read(&folder, "issued-B.yaml"), record);
    assert_eq!(issue(&folder, &["--replace"]).status.code(), Some(0));
    let replaced = read(&folder, "issued-B.yaml");
    assert_ne!(replaced, record);
    assert!(replaced.contains("\n  number: 1\n"));
}

#[test]
fn a_record_that_was_changed_stops_every_command_and_shows_the_line() {
    let folder = demo(|text| text);
    issue(&folder, &[]);
    let whole = read(&folder, "issued-B.yaml");
    edit(
        &folder,
        "issued-B.yaml",
        "{device: D-09, addresses: [4]}",
        "{device: D-09, addresses: [14]}",
    );
    let at = 1 + whole
        .lines()
        .position(|line| line.contains("device: D-09,"))
        .unwrap();
    for command in ["check", "size", "loops", "quote", "report", "issue"] {
        let said = error(&run(&folder, &[command, "project.yaml"]));
        assert!(said.contains(&format!("issued-B.yaml:{at}:")), "{said}");
        assert!(said.contains("not as it was issued"), "{said}");
        assert!(said.contains("addresses: [14]"), "{said}");
    }
    // Cut short, emptied, no YAML, made by a newer program: each is said, none is passed over.
    let half: String = whole
        .lines()
        .take(60)
        .flat_map(|line| [line, "\n"])
        .collect();
    for (text, wanted) in [
        (half, "guard is not as it was issued"),
        (String::new(), "guard is not as it was issued"),
        (
            whole.replace("drivers:\n", "drivers: [\n"),
            "not as it was issued",
        ),
        (
            whole.replace("format: 1", "format: 2"),
            "newer than this program",
        ),
    ] {
        write(&folder, "issued-B.yaml", &text);
        let said = error(&run(&folder, &["check", "project.yaml"]));
        assert!(said.contains(wanted), "{said}");
        assert!(said.contains("issued-B.yaml"), "{said}");
        assert_eq!(read(&folder, "issued-B.yaml"), text, "left as it is");
    }
    write(&folder, "issued-B.yaml", &whole.replace('\n', "\r\n"));
    let check = run(&folder, &["check", "project.yaml"]);
    assert_eq!(check.status.code(), Some(0), "line ends don't count");
}

#[test]
fn only_a_project_with_a_usable_revision_and_no_faults_is_issued() {
    let folder = demo(|text| text.replace("  revision: B\n", ""));
    assert!(error(&issue(&folder, &[])).contains("no revision to issue"));
    let folder = demo(|text| text.replace("revision: B", "revision: ../B"));
    assert!(error(&issue(&folder, &[])).contains("can't name a file"));
    let folder = demo(|text| text.replace("upstream_drop: 0.5 %", "upstream_drop: 5 %"));
    assert!(error(&issue(&folder, &[])).contains("severity fault"));
    assert!(!folder.path().join("issued-B.yaml").exists());
    let output = issue(&folder, &["--with-faults"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(read(&folder, "issued-B.yaml").contains("\n  faults: "));
}

#[test]
fn two_records_that_are_both_the_newest_are_not_chosen_between() {
    let folder = demo(|text| text);
    issue(&folder, &[]);
    write(&folder, "issued-B2.yaml", &read(&folder, "issued-B.yaml"));
    let said = error(&run(&folder, &["check", "project.yaml"]));
    assert!(said.contains("are both issue 1 of this project"), "{said}");
}

#[test]
fn the_record_of_another_project_is_left_aside_with_a_word() {
    let folder = demo(|text| text);
    issue(&folder, &[]);
    edit(
        &folder,
        "project.yaml",
        "reference: ML-014",
        "reference: ML-015",
    );
    let check = run(&folder, &["check", "project.yaml"]);
    assert_eq!(check.status.code(), Some(0));
    let said = String::from_utf8(check.stderr).unwrap();
    assert!(said.contains("is left aside"), "{said}");
    assert!(error(&issue(&folder, &[])).contains("keep each project in a folder of its own"));
}

//! What people are told about a file that can't be used, to the letter.
//!
//! Each file in `tests/data/bad` has the whole of its messages in `tests/golden/messages`: those
//! that begin with `catalogue-` are read as catalogues, those with `case-` as strip cases, those with
//! `readings-` as site readings, the others as projects. To write the
//! golden files anew, set `WRITE_GOLDEN` and read the difference before it is committed.

use feedpoint::load;
use feedpoint::model::reading::{Answer, Asked, AskedRun, Readable};
use feedpoint::quantity::Length;
use feedpoint::quantity::figure::Unit;
use std::collections::BTreeSet;
use std::path::Path;

const BAD: &str = "tests/data/bad";
const GOLDEN: &str = "tests/golden/messages";

/// The names, without their endings, of a folder's files with this ending.
fn names(folder: &str, ending: &str) -> BTreeSet<String> {
    let entries = std::fs::read_dir(folder).expect("readable folder");
    let names: BTreeSet<_> = entries
        .map(|entry| entry.expect("readable entry").file_name())
        .filter_map(|name| Some(name.to_str()?.strip_suffix(ending)?.to_owned()))
        .collect();
    assert!(names.len() > 20, "only {} files in {folder}", names.len());
    names
}

/// What a readings file can answer here.
fn readable() -> Readable {
    let asked = |test: &str, answer| Asked {
        test: test.to_owned(),
        answer,
    };
    let number = |unit, most| Answer::Number { unit, most };
    Readable {
        reference: Some("ML-014".to_owned()),
        revision: Some("B".to_owned()),
        tests: vec![
            asked("C1/polarity", Answer::YesOrNo),
            asked("C1/insulation", number(Unit::Megohm, None)),
            asked("L1/ring", Answer::NoneOrSome),
            asked("cove/1/1/continuity", number(Unit::Ohm, Some(0.3))),
            asked("cove/1/1/volts-warm", number(Unit::Volt, Some(24.3))),
            asked("cove/1/1/current-warm", number(Unit::Ampere, Some(2.0))),
        ],
        runs: [("cove", 2), ("shelf", 1)]
            .map(|(run, channels)| AskedRun {
                run: run.to_owned(),
                length: Length::new::<uom::si::length::meter>(18.4),
                channels,
                most: 24.0,
            })
            .into(),
    }
}

/// All that is said about a file.
fn told(name: &str) -> String {
    let path = format!("{BAD}/{name}.yaml");
    let told = match name.split_once('-') {
        Some(("catalogue", _)) => load::catalogue(&path).map(|_| ()),
        Some(("readings", _)) => load::readings::readings(&path, &readable()).map(|_| ()),
        Some(("case", _)) => load::strip_case::strip_case(&path).map(|_| ()),
        _ => load::project(&path).map(|_| ()),
    };
    let messages = told.expect_err(&path);
    format!("{messages}\n")
}

#[test]
fn every_bad_file_is_told_of_to_the_letter() {
    let mut different = Vec::new();
    for name in names(BAD, ".yaml") {
        let told = told(&name);
        let path = Path::new(GOLDEN).join(format!("{name}.txt"));
        if std::env::var_os("WRITE_GOLDEN").is_some() {
            std::fs::write(&path, &told).expect("written");
        }
        let expected = std::fs::read_to_string(&path).unwrap_or_default();
        if told != expected {
            different.push(format!("{name}: expected\n{expected}\ntold\n{told}"));
        }
    }
    assert!(different.is_empty(), "{}", different.join("\n"));
}

#[test]
fn every_golden_file_has_its_input() {
    assert_eq!(names(BAD, ".yaml"), names(GOLDEN, ".txt"));
}

/// Lines such as `error[code]: message`, from every golden file.
fn headlines() -> Vec<(String, String, String)> {
    let mut found = Vec::new();
    for name in names(GOLDEN, ".txt") {
        let text = std::fs::read_to_string(format!("{GOLDEN}/{name}.txt")).expect("readable");
        for line in text.lines() {
            let Some((code, message)) = line
                .strip_prefix("error[")
                .and_then(|rest| rest.split_once("]: "))
            else {
                continue;
            };
            found.push((name.clone(), code.to_owned(), message.to_owned()));
        }
    }
    assert!(found.len() > 100, "only {} messages found", found.len());
    found
}

#[test]
fn messages_begin_in_lower_case_and_end_without_a_full_stop() {
    let wrong: Vec<_> = headlines()
        .into_iter()
        .filter(|(_, _, message)| message.starts_with(char::is_uppercase) || message.ends_with('.'))
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn messages_hold_nothing_a_terminal_acts_on_and_no_path_of_this_machine() {
    let root = env!("CARGO_MANIFEST_DIR");
    for name in names(GOLDEN, ".txt") {
        let text = std::fs::read_to_string(format!("{GOLDEN}/{name}.txt")).expect("readable");
        let acts = text.chars().find(|c| c.is_control() && *c != '\n');
        assert_eq!(acts, None, "{name}");
        assert!(!text.contains(root), "{name}");
    }
}

/// The codes that the source can give, found where messages are made.
fn codes_in_source() -> BTreeSet<String> {
    let makers = [
        "complain(",
        "fault(",
        "Diagnostic::error(",
        "Unread::new(",
        "code: ",
    ];
    let mut codes = BTreeSet::new();
    let folders = ["src/load", "src/load/issued", "src/load/readings"].into_iter();
    let entries = folders.flat_map(|folder| std::fs::read_dir(folder).expect("readable folder"));
    let paths = entries.map(|entry| entry.expect("entry").path());
    for path in paths.filter(|path| path.is_file()) {
        let text = std::fs::read_to_string(path).expect("readable file");
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        for maker in makers {
            for rest in code.split(maker).skip(1) {
                let rest = rest.trim_start();
                let quoted = rest.strip_prefix('"').and_then(|rest| rest.split_once('"'));
                codes.extend(quoted.map(|(code, _)| code.to_owned()));
            }
        }
    }
    assert!(codes.len() > 40, "only {} codes found", codes.len());
    codes
}

/// Codes that no file in a repository can earn.
const ELSEWHERE: [&str; 8] = [
    // A file that may not be read: that depends on who reads.
    "unreadable",
    // A fault of the program's own, not of a file.
    "unread",
    // Of issued records, which stand beside a project: `tests/issue.rs` earns them.
    "other-record",
    "record-changed",
    "two-records",
    // Of the test sheet's data file, which is no YAML, and a warning: `tests/readings.rs`.
    "bad-sheet",
    "no-column",
    "other-project",
];

#[test]
fn every_code_is_earned_by_some_bad_file() {
    let told: BTreeSet<_> = headlines().into_iter().map(|(_, code, _)| code).collect();
    let missing: Vec<_> = codes_in_source()
        .into_iter()
        .filter(|code| !told.contains(code) && !ELSEWHERE.contains(&code.as_str()))
        .collect();
    assert!(missing.is_empty(), "no bad file earns {missing:?}");
}

//! `reports/` is what the program writes for the demo, byte for byte.

use clap::Parser;
use feedpoint::command::{self, Cli, Output};
use feedpoint::present::terminal::Look;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        let name = path
            .file_name()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        if path.is_dir() {
            for (inner, bytes) in contents(&path) {
                found.insert(format!("{name}/{inner}"), bytes);
            }
        } else {
            found.insert(name, std::fs::read(&path).expect("readable"));
        }
    }
    found
}

#[test]
fn the_committed_reports_are_what_the_program_writes() {
    let out = tempfile::tempdir().expect("a folder");
    let status = Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args([
            "report",
            "catalogue-examples/millrace-library.yaml",
            "--quiet",
            "--out",
        ])
        .arg(out.path())
        .current_dir(root())
        .output()
        .expect("the program runs");
    let code = status.status.code();
    assert!(
        matches!(code, Some(0 | 1)),
        "{}",
        String::from_utf8_lossy(&status.stderr)
    );
    let written = contents(out.path());
    let committed = contents(&root().join("reports"));
    assert!(written.len() > 5, "only {} files written", written.len());
    let names = |files: &BTreeMap<String, Vec<u8>>| files.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(&written), names(&committed), "files in reports/");
    let stale: Vec<&String> = written
        .iter()
        .filter(|(name, bytes)| committed.get(*name) != Some(bytes))
        .map(|(name, _)| name)
        .collect();
    assert!(stale.is_empty(), "out of date in reports/: {stale:?}");
}

/// What `report` says beside its results, of two documents.
fn messages_of(flags: &[&str], watched: bool) -> String {
    let out = tempfile::tempdir().expect("a folder");
    let to = out.path().to_str().expect("a path");
    let project = root().join("catalogue-examples/millrace-library.yaml");
    let project = project.to_str().expect("a path");
    let line = ["feedpoint", "report", project, "--out", to];
    let only = ["--only", "handover,labels"];
    let line = line.iter().chain(&only).chain(flags);
    let cli = Cli::try_parse_from(line).unwrap_or_else(|error| panic!("{error}"));
    let look = Look {
        width: 80,
        colour: false,
        ascii: false,
    };
    let (mut results, mut messages) = (Vec::new(), Vec::new());
    let mut out = Output::new(&mut results, &mut messages, look, cli.quiet).watched(watched);
    command::run(&cli, &mut out).unwrap_or_else(|failure| panic!("{:?}", failure.messages));
    assert!(!String::from_utf8_lossy(&results).contains("writing"));
    String::from_utf8(messages).expect("text")
}

#[test]
fn who_watches_is_told_what_is_being_written_and_how_much_is_left() {
    let told = messages_of(&[], true);
    let steps: Vec<&str> = told.split('\r').map(str::trim_end).collect();
    let bars: Vec<&str> = steps
        .iter()
        .filter_map(|it| it.strip_prefix("writing "))
        .collect();
    assert_eq!(bars.len(), 8, "{bars:?}");
    let far = |bar: &&str| bar.split(':').next().unwrap_or_default().to_owned();
    assert_eq!(far(&bars[0]), "##.................. 1 of 8");
    assert_eq!(far(&bars[4]), "############........ 5 of 8");
    assert_eq!(far(&bars[7]), "#################### 8 of 8");
    let mut written: Vec<&str> = bars.iter().filter_map(|it| it.split(": ").nth(1)).collect();
    written.sort_unstable();
    let expected = [
        "Handover page",
        "Label list",
        "handover.html, Handover page",
        "handover.pdf, Handover page",
        "handover.xlsx",
        "labels.html, Label list",
        "labels.pdf, Label list",
        "labels.xlsx",
    ];
    assert_eq!(written, expected);
    assert!(told.ends_with('\r') && !told.contains('\n'), "{told:?}");
}

#[test]
fn who_reads_a_pipe_or_asked_for_quiet_is_told_nothing() {
    assert_eq!(messages_of(&[], false), "");
    assert_eq!(messages_of(&["--quiet"], true), "");
}

//! Is a report written whole or not at all, and is what people changed by hand safe from it?

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

/// A small project in a scratch folder, and the report of it.
struct Site {
    scratch: TempDir,
}

impl Site {
    fn new() -> Site {
        let site = Site {
            scratch: tempfile::tempdir().expect("a folder"),
        };
        let made = site.feedpoint(&["init", "job"]);
        assert!(made.status.success(), "{}", said(&made));
        site
    }

    fn feedpoint(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_feedpoint"))
            .args(arguments)
            .current_dir(self.scratch.path())
            .output()
            .expect("the program runs")
    }

    fn report(&self, more: &[&str]) -> Output {
        let mut arguments = vec!["report", "job/project.yaml", "--out", "site"];
        arguments.extend(more);
        self.feedpoint(&arguments)
    }

    fn path(&self, name: &str) -> PathBuf {
        self.scratch.path().join("site").join(name)
    }

    fn contents(&self) -> BTreeMap<String, Vec<u8>> {
        files(&self.scratch.path().join("site"))
    }
}

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = std::fs::read_dir(folder).expect("a folder");
    let entries = entries.map(|entry| entry.expect("an entry").path());
    entries
        .filter(|path| path.is_file())
        .map(|path| {
            let name = path.file_name().expect("a name").to_string_lossy();
            (name.into_owned(), std::fs::read(&path).expect("readable"))
        })
        .collect()
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
fn a_second_report_is_the_same_and_leaves_nothing_else_behind() {
    let site = Site::new();
    let first = site.report(&[]);
    assert_eq!(first.status.code(), Some(0), "{}", said(&first));
    let before = site.contents();
    for name in [
        "report.pdf",
        "report.xlsx",
        "report.html",
        "costs.xlsx",
        "costs.html",
        "report.json",
        "report.sha256",
    ] {
        assert!(before.contains_key(name), "{name}");
    }
    assert!(before.keys().all(|name| !name.starts_with('.')));
    let second = site.report(&[]);
    assert_eq!(second.status.code(), Some(0), "{}", said(&second));
    assert!(site.contents() == before, "a second report differs");
    // What it prints is what it wrote, but for the note of what was written.
    let printed = String::from_utf8_lossy(&second.stdout).into_owned();
    let listed: BTreeSet<String> = printed
        .lines()
        .filter_map(|line| line.strip_prefix("site/"))
        .map(str::to_owned)
        .collect();
    let written = before.keys().filter(|name| *name != "report.sha256");
    assert_eq!(listed, written.cloned().collect());
}

#[test]
fn the_note_of_what_was_written_agrees_with_a_general_tool() {
    let site = Site::new();
    site.report(&[]);
    let asked = Command::new("sha256sum")
        .args(["--check", "--strict", "--quiet", "report.sha256"])
        .current_dir(site.scratch.path().join("site"))
        .output();
    match asked {
        Ok(output) => assert!(output.status.success(), "{}", said(&output)),
        // Nothing to compare with on this machine; the digests have a test of their own.
        Err(error) => assert_eq!(error.kind(), std::io::ErrorKind::NotFound),
    }
    let noted = site.contents()["report.sha256"].clone();
    let lines = String::from_utf8(noted).expect("text");
    let lines = lines.lines().filter(|line| !line.starts_with('#')).count();
    assert_eq!(lines, site.contents().len() - 1);
}

#[test]
fn what_was_changed_by_hand_is_not_overwritten_unless_asked() {
    let site = Site::new();
    site.report(&[]);
    std::fs::write(site.path("feeds.csv"), "my own notes").expect("written");
    let before = site.contents();
    let refused = site.report(&[]);
    assert_eq!(refused.status.code(), Some(2));
    let message = said(&refused);
    for part in [
        "site/feeds.csv",
        "changed by hand",
        "no document was changed",
        "--force",
    ] {
        assert!(message.contains(part), "{part}: {message}");
    }
    assert!(site.contents() == before, "something was changed");
    let forced = site.report(&["--force"]);
    assert_eq!(forced.status.code(), Some(0), "{}", said(&forced));
    assert_ne!(site.contents()["feeds.csv"], b"my own notes");
    assert_eq!(site.report(&[]).status.code(), Some(0));
}

#[test]
fn a_file_that_was_there_before_is_not_overwritten_either() {
    let site = Site::new();
    std::fs::create_dir(site.scratch.path().join("site")).expect("a folder");
    std::fs::write(site.path("report.pdf"), "someone else's").expect("written");
    let refused = site.report(&[]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(said(&refused).contains("site/report.pdf"));
    assert_eq!(site.contents().len(), 1);
}

#[test]
fn stale_files_go_unless_they_were_changed_by_hand() {
    let site = Site::new();
    site.report(&[]);
    let drawings: Vec<String> = site
        .contents()
        .into_keys()
        .filter(|name| name.starts_with("run-") && name.ends_with(".svg"))
        .collect();
    let [first, second, ..] = drawings.as_slice() else {
        panic!("fewer than two runs: {drawings:?}");
    };
    std::fs::write(site.path(second), "marked up on site").expect("written");
    // Every run gets another name, so no drawing of before is drawn again.
    let project = site.scratch.path().join("job/project.yaml");
    let text = std::fs::read_to_string(&project).expect("a project");
    std::fs::write(&project, text.replace("run: ", "run: new-")).expect("written");
    let again = site.report(&[]);
    let message = said(&again);
    assert!(matches!(again.status.code(), Some(0)), "{message}");
    assert!(
        message.contains(&format!("removed site/{first}")),
        "{message}"
    );
    assert!(
        message.contains(&format!("kept site/{second}")),
        "{message}"
    );
    let left = site.contents();
    assert!(!left.contains_key(first));
    assert_eq!(left[second], b"marked up on site");
}

#[test]
fn some_documents_alone_leave_the_others() {
    let site = Site::new();
    site.report(&[]);
    let before = site.contents();
    let only = site.report(&["--only", "loop-schedule,feet"]);
    assert_eq!(only.status.code(), Some(2), "no document is called feet");
    let only = site.report(&["--only", "loop-schedule"]);
    assert_eq!(only.status.code(), Some(0), "{}", said(&only));
    let after = site.contents();
    for (name, bytes) in before.iter().filter(|(name, _)| *name != "report.sha256") {
        assert!(after.get(name) == Some(bytes), "{name} was touched");
    }
    let new: Vec<&String> = after
        .keys()
        .filter(|name| !before.contains_key(*name))
        .collect();
    assert_eq!(
        new,
        [
            "loop-schedule.html",
            "loop-schedule.pdf",
            "loop-schedule.xlsx"
        ]
    );
    // All files are still known as ours.
    assert_eq!(site.report(&[]).status.code(), Some(0));
    assert!(
        site.contents() == before,
        "the whole report is not as before"
    );
}

#[test]
fn a_damaged_note_is_said_and_nothing_is_changed() {
    let site = Site::new();
    site.report(&[]);
    let digest = "0".repeat(64);
    std::fs::write(
        site.path("report.sha256"),
        format!("{digest}  ../job/project.yaml\n"),
    )
    .expect("written");
    let before = site.contents();
    let refused = site.report(&[]);
    assert_eq!(refused.status.code(), Some(2));
    let message = said(&refused);
    assert!(message.contains("report.sha256, line 1"), "{message}");
    assert!(site.contents() == before);
    assert_eq!(site.report(&["--force"]).status.code(), Some(0));
    assert!(site.scratch.path().join("job/project.yaml").exists());
}

#[test]
fn a_file_that_cannot_take_its_place_stops_all_others() {
    let site = Site::new();
    std::fs::create_dir_all(site.path("report.json")).expect("a folder in the way");
    let refused = site.report(&[]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(
        said(&refused).contains("site/report.json"),
        "{}",
        said(&refused)
    );
    assert!(site.contents().is_empty(), "something was written");
    let entries = std::fs::read_dir(site.scratch.path().join("site")).expect("a folder");
    assert_eq!(entries.count(), 1, "something was left behind");
}

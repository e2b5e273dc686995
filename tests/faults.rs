//! A disk that is full, and a program that is killed: what was there is still there, or a note says
//! that it is not. A clock that is far off and a foreign locale change nothing. Names that look like
//! paths, ways that go round and runs without end do no harm.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

fn feedpoint(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_feedpoint"));
    command.current_dir(folder).stdout(Stdio::null());
    command
}

fn demo(folder: &Path) {
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples");
    for file in ["trade.yaml", "millrace-library.yaml"] {
        std::fs::copy(from.join(file), folder.join(file)).expect("a copy");
    }
    let text = std::fs::read_to_string(folder.join("millrace-library.yaml")).expect("the demo");
    let next = text.replace("revision: B", "revision: C");
    assert_ne!(next, text);
    std::fs::write(folder.join("next.yaml"), next).expect("a file");
}

/// Everything in a folder that is not hidden.
fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = std::fs::read_dir(folder).expect("a folder");
    let entries = entries.map(|entry| entry.expect("a file"));
    let named = entries.map(|entry| (entry.file_name().to_string_lossy().into_owned(), entry));
    named
        .filter(|(name, _)| !name.starts_with('.'))
        .map(|(name, entry)| (name, std::fs::read(entry.path()).expect("contents")))
        .collect()
}

fn report(folder: &Path, project: &str, into: &str) -> Command {
    let mut command = feedpoint(folder);
    command
        .args(["report", project, "--out", into, "--quiet"])
        .stderr(Stdio::null());
    command
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_said_and_not_taken_for_success() {
    let scratch = tempfile::tempdir().expect("a folder");
    demo(scratch.path());
    for command in ["check", "quote", "explain"] {
        let full = std::fs::OpenOptions::new().write(true).open("/dev/full");
        let mut feedpoint = feedpoint(scratch.path());
        feedpoint.arg(command).stdout(full.expect("a full device"));
        if command != "explain" {
            feedpoint.arg("millrace-library.yaml");
        }
        let told = feedpoint.output().expect("the program runs");
        let error = String::from_utf8_lossy(&told.stderr);
        assert_eq!(told.status.code(), Some(2), "{command}: {error}");
        assert!(error.contains("can't write to standard output"), "{error}");
    }
}

/// Killed after every few milliseconds of a report over another one: all files are as they were, or
/// as they will be, or a note lies among them; the next report sets everything right, and leaves
/// nothing hidden behind.
#[test]
#[ignore = "slow: kills dozens of reports"]
fn a_killed_report_leaves_no_mixture_unsaid() {
    let scratch = tempfile::tempdir().expect("a folder");
    let folder = scratch.path();
    demo(folder);
    let began = std::time::Instant::now();
    let done = |status: std::io::Result<std::process::ExitStatus>| {
        assert_eq!(status.expect("the program runs").code(), Some(0));
    };
    done(report(folder, "next.yaml", "new").status());
    let whole = began.elapsed();
    done(report(folder, "millrace-library.yaml", "old").status());
    let (old, new) = (contents(&folder.join("old")), contents(&folder.join("new")));
    assert_ne!(old, new);
    let out = folder.join("out");
    let mut seen = BTreeMap::new();
    for part in 0..60_u32 {
        done(report(folder, "millrace-library.yaml", "out").status());
        assert_eq!(contents(&out), old);
        let mut running = report(folder, "next.yaml", "out").spawn().expect("it runs");
        let wait = whole.mul_f64(0.5 + f64::from(part) / 60.0);
        std::thread::sleep(wait.max(Duration::from_millis(1)));
        let _ = running.kill();
        running.wait().expect("it ends");
        let left = contents(&out);
        let state = if left == old {
            "old"
        } else if left == new {
            "new"
        } else {
            assert!(left.contains_key("feedpoint-unfinished.txt"), "at {part}");
            "between"
        };
        *seen.entry(state).or_insert(0) += 1;
        done(report(folder, "next.yaml", "out").status());
        assert_eq!(contents(&out), new, "after {state}, at {part}");
        let entries = std::fs::read_dir(&out).expect("a folder").count();
        assert_eq!(entries, new.len(), "something hidden is left");
    }
    println!("{seen:?}");
    assert!(seen.len() >= 2, "{seen:?}: all kills came at one time");
}

/// One run of a shelf strip with a cut mark every centimetre, on ways that go round.
fn round(length: &str, name: &str) -> String {
    format!(
        "format: 1\nproject: {{title: Round, date: 2026-11-20}}\nregion: iec\ncatalogues: [fine.yaml]\n\
         pricing: {{labour_rate: 42.00}}\n\
         points:\n  - {{point: panel, kind: panel}}\n  - {{point: cupboard, kind: cupboard}}\n  \
         - {{point: stacks, kind: room}}\n\
         routes:\n  - {{from: panel, to: cupboard, length: 4 m}}\n  - {{from: cupboard, to: stacks, \
         length: 4 m}}\n  - {{from: stacks, to: panel, length: 3 m}}\n  - {{from: stacks, to: \
         cupboard, length: 9 m}}\n\
         runs:\n  - {{run: '{name}', room: stacks, cupboard: cupboard, strip: shelf-24-7, length: \
         {length}, to_start: 5 m}}\n"
    )
}

fn fine(folder: &Path) {
    let trade = include_str!("../catalogue-examples/trade.yaml");
    let at = trade.find("strip: shelf-24-7").expect("the strip");
    let (before, after) = trade.split_at(at);
    let catalogue = format!("{before}{}", after.replacen("cut: 50 mm", "cut: 10 mm", 1));
    std::fs::write(folder.join("fine.yaml"), catalogue).expect("a catalogue");
}

#[test]
fn a_million_segments_are_refused_with_their_place() {
    let folder = tempfile::tempdir().expect("a folder");
    fine(folder.path());
    std::fs::write(folder.path().join("long.yaml"), round("10 km", "long")).expect("a file");
    let output = feedpoint(folder.path())
        .args(["check", "long.yaml"])
        .output()
        .expect("it runs");
    assert_eq!(output.status.code(), Some(2));
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(told.contains("1000000 segments"), "{told}");
    assert!(told.contains("at most 100000"), "{told}");
    assert!(told.contains("long.yaml:16:"), "{told}");
}

#[test]
fn ways_that_go_round_are_taken_the_short_way() {
    let folder = tempfile::tempdir().expect("a folder");
    fine(folder.path());
    std::fs::write(folder.path().join("round.yaml"), round("3 m", "short")).expect("a file");
    let mut told = report(folder.path(), "round.yaml", "told");
    told.args(["--only", "circuit-schedule"]);
    assert_eq!(told.status().expect("it runs").code(), Some(0));
    let table = std::fs::read_to_string(folder.path().join("told/circuit-schedule.csv"));
    let table = table.expect("a circuit schedule");
    let mut lines = table
        .lines()
        .map(|line| line.split(',').collect::<Vec<_>>());
    let head = lines.next().expect("headings");
    let length = head
        .iter()
        .position(|it| *it == "length_m")
        .expect("lengths");
    // From the panel to the cupboard it is 4 m straight, 7 m and 12 m by the room.
    assert!(
        lines.any(|row| row[length].parse() == Ok(4.0_f64)),
        "{table}"
    );
    assert!(
        !table.contains(",7.00,") && !table.contains(",12.00,"),
        "{table}"
    );
}

#[test]
fn names_that_look_like_paths_stay_in_the_report_s_folder() {
    for name in [
        "../../out",
        "/etc/out",
        "..",
        "a/b/../../../out",
        "C:\\out",
        "~/out",
        "con",
    ] {
        let folder = tempfile::tempdir().expect("a folder");
        let inside = folder.path().join("deep/er");
        std::fs::create_dir_all(&inside).expect("folders");
        fine(&inside);
        std::fs::write(inside.join("round.yaml"), round("3 m", name)).expect("a file");
        let before = contents(&inside).into_keys().collect::<Vec<_>>();
        let status = report(&inside, "round.yaml", "told")
            .status()
            .expect("it runs");
        assert_eq!(status.code(), Some(0), "{name}");
        let deep = std::fs::read_dir(folder.path()).expect("a folder").count();
        assert_eq!(deep, 1, "{name}");
        let entries = std::fs::read_dir(&inside).expect("a folder");
        let mut after: Vec<String> = entries
            .map(|entry| {
                entry
                    .expect("an entry")
                    .file_name()
                    .to_string_lossy()
                    .into_owned()
            })
            .filter(|name| name != "told")
            .collect();
        after.sort();
        assert_eq!(after, before, "{name}");
        for name in contents(&inside.join("told")).keys() {
            assert!(!name.contains(['/', '\\']) && name != "..", "{name}");
        }
    }
}

/// Neither the clock nor the place of the machine is in an answer. Where the C library honours it,
/// the time zone moves the date by a day.
#[test]
fn clock_and_locale_change_no_byte() {
    let folder = tempfile::tempdir().expect("a folder");
    demo(folder.path());
    let told = |name: &str, places: &[(&str, &str)]| {
        let mut command = report(folder.path(), "millrace-library.yaml", name);
        let status = command.envs(places.iter().copied()).status();
        assert_eq!(status.expect("it runs").code(), Some(0), "{places:?}");
        contents(&folder.path().join(name))
    };
    let here = told("here", &[("LC_ALL", "C.UTF-8"), ("TZ", "UTC")]);
    for places in [
        [("LC_ALL", "de_DE.UTF-8"), ("TZ", "Pacific/Kiritimati")],
        [("LC_ALL", "ar_EG.UTF-8"), ("TZ", "Etc/GMT+12")],
        [("LC_ALL", "C"), ("SOURCE_DATE_EPOCH", "0")],
    ] {
        assert_eq!(told("there", &places), here, "{places:?}");
        std::fs::remove_dir_all(folder.path().join("there")).expect("gone");
    }
}

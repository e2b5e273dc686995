//! Does `feedpoint init --from-catalogue` write a project that sizes cleanly with a catalogue's own
//! items, and say what the catalogue lacks where it can't?

use feedpoint::judge::Counts;
use feedpoint::pipeline;
use std::path::Path;
use std::process::{Command, Output};

const CATALOGUES: [(&str, &str); 6] = [
    ("catalogue-examples/trade.yaml", "iec"),
    ("catalogue-examples/trade-aus-nz.yaml", "aus-nz"),
    (
        "catalogue-examples/trade-north-america.yaml",
        "north-america",
    ),
    ("src/command/init/iec/catalogue.yaml", "iec"),
    ("src/command/init/aus-nz/catalogue.yaml", "aus-nz"),
    (
        "src/command/init/north-america/catalogue.yaml",
        "north-america",
    ),
];

fn init(folder: &Path, catalogue: &str, more: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args([
            "init",
            &folder.to_string_lossy(),
            "--from-catalogue",
            catalogue,
        ])
        .args(more)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env("LC_ALL", "C.UTF-8")
        .output()
        .expect("the program runs")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

#[test]
fn every_example_catalogue_gets_a_project_with_nothing_broken() {
    for (catalogue, region) in CATALOGUES {
        let scratch = tempfile::tempdir().expect("a folder");
        let folder = scratch.path().join("job");
        let output = init(&folder, catalogue, &["--region", region]);
        let told = text(&output.stderr);
        assert_eq!(output.status.code(), Some(0), "{catalogue}: {told}");
        let names: Vec<_> = std::fs::read_dir(&folder).expect("there").collect();
        assert_eq!(names.len(), 1, "a project alone");
        let project = folder.join("project.yaml");
        let (job, _) = pipeline::job(&project.to_string_lossy(), false)
            .unwrap_or_else(|faults| panic!("{catalogue}: {faults}"));
        let counts = Counts::of(&job.verdicts);
        let open: Vec<_> = job
            .verdicts
            .iter()
            .filter(|one| one.outcome.is_open())
            .collect();
        assert_eq!(counts.broken(), 0, "{catalogue}: {open:#?}");
        assert!(told.contains("0 broken"), "{told}");
        assert_eq!(job.project.region.name(), region);
        assert_eq!(job.sizing.runs.len(), 3);
    }
}

/// The three starters' items have other ids than those in the text that is written.
#[test]
fn the_catalogues_own_items_are_used_and_named_from_the_folder() {
    let scratch = tempfile::tempdir().expect("a folder");
    let goods = std::fs::read_to_string("src/command/init/iec/catalogue.yaml").expect("there");
    let goods = goods
        .replace("pair-24-12", "24 V pair: 12")
        .replace("strip: 24 V pair: 12", "strip: \"24 V pair: 12\"")
        .replace("white-24-6", "7-single")
        .replace("slim-12", "wide")
        .replace("presence-sensor", "eye")
        .replace(
            "price_valid_until: 2027-06-30",
            "price_valid_until: 2026-10-31",
        );
    std::fs::write(scratch.path().join("goods.yaml"), goods).expect("written");
    let catalogue = scratch.path().join("goods.yaml").display().to_string();
    let output = init(scratch.path(), &catalogue, &[]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let project = std::fs::read_to_string(scratch.path().join("project.yaml")).expect("there");
    for used in [
        "\"24 V pair: 12\"",
        "\"7-single\"",
        "profile: wide",
        "item: eye",
        "[goods.yaml]",
    ] {
        assert!(project.contains(used), "{used} in\n{project}");
    }
    assert!(
        project.contains("date: 2026-10-31"),
        "a day on which its prices hold"
    );
    let again = init(scratch.path(), &catalogue, &[]);
    assert_eq!(again.status.code(), Some(2), "never overwrites");
    let kept = std::fs::read_to_string(scratch.path().join("project.yaml")).expect("there");
    assert_eq!(kept, project);
}

#[test]
fn what_a_catalogue_lacks_is_told_and_nothing_is_written() {
    let scratch = tempfile::tempdir().expect("a folder");
    let goods = std::fs::read_to_string("src/command/init/iec/catalogue.yaml").expect("there");
    let (strips, _) = goods
        .split_once("\ndrivers:\n")
        .expect("drivers after strips");
    std::fs::write(scratch.path().join("strips.yaml"), strips).expect("written");
    let catalogue = scratch.path().join("strips.yaml").display().to_string();
    let folder = scratch.path().join("job");
    let output = init(&folder, &catalogue, &[]);
    let told = text(&output.stderr);
    assert_eq!(output.status.code(), Some(2));
    assert!(told.contains("lacks a driver of 24 V"), "{told}");
    assert!(
        told.contains("nothing was written") && !folder.exists(),
        "{told}"
    );
    let output = init(&folder, "catalogue-examples/millrace-library.yaml", &[]);
    assert_eq!(output.status.code(), Some(2), "no catalogue");
}

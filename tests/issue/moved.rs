//! What was issued and can't stay: what takes its place, and is it said why?

use crate::counter::{Counter, run as shelf};

use super::{NEXT, changes, demo, edit, issue, listed, read, run, write};

/// The controller that was issued serves four loops and has three. Fifty more sensors want two more
/// loops: the first goes on its free port, the second on a controller of its own.
#[test]
fn a_loop_that_is_added_goes_on_a_free_port_before_a_new_controller_is_bought() {
    let folder = demo(|text| text);
    issue(&folder, &[]);
    let sensors = "device: hall-sensor, item: ceiling-sensor, room: reading-hall, count: ";
    let (was, now) = (format!("{sensors}12"), format!("{sensors}62"));
    edit(&folder, "project.yaml", &was, &now);
    edit(&folder, "project.yaml", NEXT.0, NEXT.1);
    let output = run(&folder, &["loops", "project.yaml", "--format", "json"]);
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let ports: Vec<String> = answer["loops"]
        .as_array()
        .expect("loops")
        .iter()
        .map(|one| {
            format!("{} {} {}", one["loop"], one["controller"], one["port"]).replace('"', "")
        })
        .collect();
    let expected = [
        "L1 CTL-1 1",
        "L2 CTL-1 2",
        "L3 CTL-1 3",
        "L4 CTL-1 4",
        "L5 CTL-2 1",
    ];
    assert_eq!(ports, expected);
}

#[test]
fn a_driver_that_would_be_overloaded_is_changed_under_its_number() {
    let folder = demo(|text| text);
    issue(&folder, &[]);
    // 4.8 W/m on both rails: 66 W become 86 W, and the driver of 96 W may be given 81.6 W.
    for rail in ["lower", "upper"] {
        let old = format!("run: stair-rail-{rail}, room: stair, strip: stair-24-5, length: 6.2 m");
        edit(
            &folder,
            "project.yaml",
            &old,
            &old.replace("6.2 m", "8.2 m"),
        );
    }
    edit(&folder, "project.yaml", NEXT.0, NEXT.1);
    let changes = changes(&issue(&folder, &[]));
    let moved = listed(&changes);
    assert!(moved.contains(&"moved driver D-11".to_owned()), "{moved:?}");
    let list = changes["list"].as_array().unwrap();
    let driver = list
        .iter()
        .find(|change| change["kind"] == "driver")
        .unwrap();
    let reason = driver["reason"].as_str().unwrap();
    assert!(reason.contains("may be given 81.6 W"), "{reason}");
    for change in &moved {
        let kept = ["address", "place on a circuit", "driver output"];
        assert!(!kept.iter().any(|kind| change.contains(kind)), "{change}");
    }
}

/// The two drivers of 96 W: D-11 has 2.755 A on its output, 68.9 % of its power, D-14 has 2.649 A, 66.2 %;
/// each has a cable of 2.5 mm².
#[test]
fn a_driver_whose_sheet_no_longer_allows_what_is_on_it_is_changed_and_why_is_said() {
    for (old, new, moved, why) in [
        (
            "current_per_channel: 4 A",
            "current_per_channel: 2.7 A",
            &["D-11"][..],
            "an output of single-24-100 would carry too much",
        ),
        (
            "least_load: 5 %",
            "least_load: 67 %",
            &["D-14"],
            "single-24-100 has less on it than it needs",
        ),
        (
            "largest: 2.5 mm²",
            "largest: 1.5 mm²",
            &["D-11", "D-14"],
            "single-24-100 does not take a cable that is on it",
        ),
    ] {
        let folder = demo(|text| text);
        issue(&folder, &[]);
        let catalogue = read(&folder, "trade.yaml");
        let entry = "  - driver: single-24-100\n";
        let (before, rest) = catalogue.split_once(entry).expect("the driver");
        assert!(rest.contains(old), "{old}");
        let changed = [before, entry, &rest.replacen(old, new, 1)].concat();
        write(&folder, "trade.yaml", &changed);
        edit(&folder, "project.yaml", NEXT.0, NEXT.1);
        let changes = changes(&issue(&folder, &[]));
        let list = changes["list"].as_array().expect("a list");
        let found: Vec<&str> = list
            .iter()
            .filter(|change| change["kind"] == "driver" && change["change"] == "moved")
            .filter(|change| change["reason"] == why)
            .filter_map(|change| change["subject"].as_str())
            .collect();
        assert_eq!(found, moved, "{new}: {list:?}");
        assert_eq!(list.len(), moved.len(), "{new}: {list:?}");
    }
}

/// 5 m take 24 W of the 25.5 W that the driver which was asked for may be given, 6 m take more than
/// any driver of the job. Another of the same would be as overloaded: the run is judged where it is.
#[test]
fn a_driver_stays_under_what_no_driver_takes() {
    let made = Counter {
        runs: shelf("shelf", "5 m", "feed: start, driver: d30"),
        ..Counter::default()
    };
    let folder = made.folder();
    let title = "title: Counter";
    edit(
        &folder,
        "project.yaml",
        title,
        "title: Counter, revision: B",
    );
    issue(&folder, &["--with-faults"]);
    edit(
        &folder,
        "project.yaml",
        "length: 5 m, cup",
        "length: 6 m, cup",
    );
    edit(&folder, "project.yaml", NEXT.0, NEXT.1);
    let changes = changes(&issue(&folder, &["--with-faults"]));
    assert_eq!(listed(&changes), ["moved run shelf"]);
}

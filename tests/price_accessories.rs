//! Accessories that go with one item, and those that are counted by ends and by profile.

use crate::counter::{Counter, line, run};

use serde_json::Value;
use std::process::Command;

/// Three runs: 2.4 m in profile on a small driver; 5 m in profile, fed at both ends, and 4 m without
/// profile, fed in its middle, each on a large one.
fn counter(more: &str) -> Counter<'_> {
    let low = run("low", "2.4 m", "feed: start, driver: d30, profile: channel");
    let high = run(
        "high",
        "5 m",
        "feed: both ends, driver: d100, profile: channel",
    );
    let bare = run(
        "bare",
        "4 m",
        "reach_along: yes, feed: middle, driver: d100",
    );
    Counter {
        more,
        runs: low + &high + &bare,
        ..Counter::default()
    }
}

const PROFILE: &str = "profiles:
  - {profile: channel, bars: [{length: 2 m, price: 10.00}]}
accessories:
";

/// By hand: bars of 2 m make 2 + 0.4 and 2 + 2 + 1 m, so there are three joints and four ends of
/// profile; no feed is at one end of the first run, none of the second, and both of the third; 7.4 m
/// are in profile, which is 8 for the job.
#[test]
fn ends_and_joints_of_profile_are_counted_and_an_accessory_stays_with_its_item() {
    let all = [
        ("plate", "per: profile end", "4"),
        ("joiner", "per: profile joint, goes_with: [channel]", "3"),
        ("cap", "per: end", "3"),
        ("stop", "per: end, goes_with: [channel]", "1"),
        (
            "clip",
            "per: metre, quantity: 2, goes_with: [channel]",
            "16",
        ),
        ("gland", "per: feed, goes_with: [channel]", "3"),
        ("loom", "per: run, goes_with: [plain, channel]", "3"),
        ("bracket", "per: driver, goes_with: [d100]", "2"),
        ("cover", "per: driver, goes_with: [d100, channel]", "1"),
        ("tag", "per: device, goes_with: [d30]", "1"),
    ];
    let blocks = all.map(|(id, keys, _)| format!("  - {{accessory: {id}, {keys}, price: 1.00}}\n"));
    let more = format!("{PROFILE}{}", blocks.concat());
    let quote: Value = counter(&more).quote();
    for (id, keys, needed) in all {
        assert_eq!(line(&quote, id)["needed"], needed, "{id}: {keys}");
    }
    let low = serde_json::json!(["low"]);
    assert_eq!(line(&quote, "stop")["used_for"], low);
    assert_eq!(
        line(&quote, "joiner")["used_for"],
        serde_json::json!(["low", "high"])
    );
}

/// By hand: 100 mm longer than its strip, 1.9 m are 2 m of profile and one bar, and 1.95 m are 2.05 m and
/// two.
#[test]
fn a_profile_that_is_longer_than_its_strip_has_the_joints_of_its_own_length() {
    let more = "profiles:
  - {profile: channel, bars: [{length: 2 m, price: 10.00}], longer_by: 100 mm}
accessories:
  - {accessory: joiner, per: profile joint, price: 1.00}
";
    for (length, joints) in [("1.9 m", None), ("1.95 m", Some("1"))] {
        let counter = Counter {
            more,
            runs: run("low", length, "feed: start, profile: channel"),
            ..Counter::default()
        };
        let quote: Value = counter.quote();
        let lines = quote["lines"].as_array().expect("lines");
        let joiner = lines.iter().find(|line| line["item"] == "joiner");
        let needed = joiner.and_then(|line| line["needed"].as_str());
        assert_eq!(needed, joints, "{length}");
    }
}

/// By hand: three drivers, on one loop with a controller and a supply of its own and on one circuit, in
/// one cupboard; two of the drivers feed runs in profile, none a strip of two channels.
#[test]
fn what_is_counted_by_unit_is_for_those_that_serve_the_runs_or_are_the_units_named() {
    let units = "controllers:
  - {controller: head, loops: 1, price: 90.00}
bus_supplies:
  - {bus_supply: feeder, guaranteed: 200 mA, maximum: 245 mA, price: 40.00}
";
    let all = [
        ("socket", "per: device, goes_with: [channel]", "2"),
        ("plate", "per: driver, goes_with: [channel]", "2"),
        ("shelf", "per: cupboard, goes_with: [channel]", "1"),
        ("key", "per: loop, goes_with: [channel]", "1"),
        ("label", "per: circuit, goes_with: [channel]", "1"),
        ("lead", "per: loop, goes_with: [head]", "1"),
        ("rail", "per: loop, goes_with: [feeder]", "1"),
        ("tie", "per: circuit, goes_with: [d30]", "1"),
    ];
    let none = ["device", "driver", "cupboard", "loop", "circuit"];
    let blocks = all.map(|(id, keys, _)| format!("  - {{accessory: {id}, {keys}, price: 1.00}}\n"));
    let pairs = none.map(|per| {
        format!("  - {{accessory: pair-{per}, per: {per}, channels: 2, price: 1.00}}\n")
    });
    let more = format!("{units}{PROFILE}{}{}", blocks.concat(), pairs.concat());
    let quote: Value = counter(&more).quote();
    for (id, keys, needed) in all {
        assert_eq!(line(&quote, id)["needed"], needed, "{id}: {keys}");
    }
    let lines = quote["lines"].as_array().expect("lines");
    for per in none {
        let item = format!("pair-{per}");
        assert!(
            lines.iter().all(|line| line["item"] != item.as_str()),
            "{item}"
        );
    }
}

#[test]
fn an_accessory_that_goes_with_nothing_there_is_or_with_another_kind_is_refused() {
    for (keys, word) in [
        ("per: run, goes_with: [chanel]", "did you mean `channel`?"),
        (
            "per: run, goes_with: [c2]",
            "`c2` is a cable, not a strip or profile",
        ),
        ("per: loop, goes_with: [d30]", "it is counted per loop"),
        ("per: run, goes_with: []", "goes_with"),
    ] {
        let more = format!("{PROFILE}  - {{accessory: cap, {keys}, price: 1.00}}");
        let folder = counter(&more).folder();
        let output = Command::new(env!("CARGO_BIN_EXE_feedpoint"))
            .args(["quote", "project.yaml"])
            .current_dir(folder.path())
            .output()
            .expect("the program runs");
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{keys}: {said}");
        assert!(said.contains(word), "{keys}: {said}");
    }
}

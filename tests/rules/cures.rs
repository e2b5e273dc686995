//! A cure that was tried works when the file is edited as it says: a run, the loops or the circuits
//! of the demo are given what breaks a rule, the printed edit is put into the file, and the rule
//! then holds of what it was broken on, at the price that was printed.

use super::remedies::{block, demo, merge, worked_out};
use feedpoint::judge::verdict::Outcome;
use feedpoint::present::job::Job;
use feedpoint::quantity::money;
use serde_yaml::{Mapping, Value};

/// What is given to the demo, and the rule that it breaks.
struct Case {
    rule: &'static str,
    runs: &'static [&'static str],
    /// Flow mapping, put into each of the runs, or else into the file.
    given: &'static str,
}

const CASES: &[Case] = &[
    Case {
        rule: "driver-overload",
        runs: &["hall-cove-east"],
        given: "{driver: pair-60, feed: middle}",
    },
    Case {
        rule: "driver-load-share",
        runs: &["hall-cove-east"],
        given: "{driver: pair-60, feed: middle}",
    },
    Case {
        rule: "driver-channel-current",
        runs: &["hall-cove-east"],
        given: "{driver: pair-60, feed: middle}",
    },
    Case {
        rule: "driver-voltage-match",
        runs: &["stacks-1"],
        given: "{driver: single-48-160}",
    },
    Case {
        rule: "cable-termination",
        runs: &["foyer-desk"],
        given: "{cable: feed-3x6, driver: pair-60}",
    },
    Case {
        rule: "feed-polarity-three-core",
        runs: &["foyer-desk"],
        given: "{cable: feed-2x4}",
    },
    Case {
        rule: "cable-wet-sun",
        runs: &["facade-west"],
        given: "{cable: feed-3x4}",
    },
    Case {
        rule: "strip-run-length",
        runs: &["hall-cove-north"],
        given: "{feed: start}",
    },
    Case {
        rule: "strip-rail-current",
        runs: &["hall-cove-north"],
        given: "{feed: start}",
    },
    Case {
        rule: "connector-current",
        runs: &["hall-cove-north"],
        given: "{feed: start}",
    },
    Case {
        rule: "bus-device-count",
        runs: &[],
        given: "{loops: {count: 1}}",
    },
    Case {
        rule: "bus-current",
        runs: &[],
        given: "{loops: {count: 1}}",
    },
    Case {
        rule: "breaker-cable",
        runs: &[],
        given: "{circuits: {cable: mains-2x1.5}}",
    },
];

fn mapping(text: &str) -> Mapping {
    let value: Value = serde_yaml::from_str(text).expect("YAML");
    value.as_mapping().expect("a mapping").clone()
}

/// The file with a mapping merged into each of the runs, or else into the file itself.
fn with(text: &str, runs: &[&str], edit: &Mapping) -> String {
    let mut file: Value = serde_yaml::from_str(text).expect("the file is YAML");
    let file_mapping = file.as_mapping_mut().expect("a mapping");
    if runs.is_empty() {
        merge(file_mapping, edit.clone());
    }
    for run in runs {
        merge(block(file_mapping, "runs", run), edit.clone());
    }
    serde_yaml::to_string(&file).expect("YAML")
}

/// The text with what a cure says done: its edits, and the runs that it names.
fn followed(text: &str, cure: &str) -> String {
    if let Some(key) = cure.strip_prefix("leave `") {
        let (key, rest) = key.split_once("` out of `").expect("key and block");
        let list = rest.split('`').next().expect("a block");
        let mut file: Value = serde_yaml::from_str(text).expect("YAML");
        let block = file[list].as_mapping_mut().expect("a block");
        block.remove(key).expect("the key is there");
        return serde_yaml::to_string(&file).expect("YAML");
    }
    let quoted: Vec<&str> = cure.split('`').skip(1).step_by(2).collect();
    let (edits, runs): (Vec<&str>, Vec<&str>) =
        quoted.into_iter().partition(|text| text.contains(": "));
    let mut all = Mapping::new();
    for edit in edits {
        all.extend(mapping(&format!("{{{edit}}}")));
    }
    with(text, &runs, &all)
}

/// The cure in a remedy, and the price that it prints.
fn cure(remedy: &str) -> (String, String) {
    let (cure, rest) = remedy.split_once(": it then holds").expect("a cure");
    let edit = cure.split(" (which gives").next().unwrap_or(cure);
    let price = rest.trim_start_matches(", ").split(" on the").next();
    (edit.to_owned(), price.unwrap_or_default().to_owned())
}

fn broken<'a>(job: &'a Job, rule: &'a str) -> impl Iterator<Item = String> + 'a {
    let own = job
        .verdicts
        .iter()
        .filter(move |verdict| verdict.rule == rule);
    let broken = own.filter(|verdict| verdict.outcome == Outcome::Broken);
    broken.map(|verdict| {
        let remedy = verdict.remedy.clone().unwrap_or_default();
        format!("{}\u{1}{remedy}", verdict.subject)
    })
}

#[test]
fn a_cure_that_is_followed_makes_the_rule_hold_at_the_price_that_it_says() {
    for case in CASES {
        let spoilt = with(&demo(), case.runs, &mapping(case.given));
        let before = worked_out(&spoilt);
        let first = broken(&before, case.rule).next();
        let first = first.unwrap_or_else(|| panic!("{}: not broken", case.rule));
        let remedy = first.split('\u{1}').nth(1).expect("a remedy");
        assert!(
            remedy.contains(": it then holds"),
            "{}: no cure in: {remedy}",
            case.rule
        );
        let (edit, price) = cure(remedy);
        let after = worked_out(&followed(&spoilt, &edit));
        let still: Vec<String> = broken(&after, case.rule).collect();
        assert!(still.is_empty(), "{} after {edit}: {still:?}", case.rule);
        let difference = after.quote.totals.net - before.quote.totals.net;
        let sign = if difference.is_sign_negative() {
            "−"
        } else {
            "+"
        };
        let wanted = format!("{sign}{} EUR", money::show(difference.abs(), 2));
        assert_eq!(price, wanted, "{}: {remedy}", case.rule);
    }
}

//! What every rule must have: a file of its name, a place in the table, words, sources, and tests
//! that break it, hold it and leave it without a figure.

mod chosen;
mod cures;
mod list;
mod random_job;
mod regions;
mod remedies;

use feedpoint::judge::{RULES, SUBJECTS, rule};
use feedpoint::norms::region::Region;
use feedpoint::pipeline;
use feedpoint::present::rule_text;
use std::collections::BTreeSet;
use std::path::PathBuf;

/// Rules that always have what they need, each with the reason.
const NEVER_UNTOLD: &[(&str, &str)] = &[
    (
        "bus-device-count",
        "addresses are part of every catalogue item",
    ),
    (
        "bus-gear-count",
        "addresses are part of every catalogue item",
    ),
    (
        "bus-group-across-loops",
        "loops and controllers are the program's own choice",
    ),
    ("bus-groups-used", "groups are part of the project"),
    ("bus-route", "what no route reaches breaks it"),
    ("bus-scenes-used", "scenes are part of the project"),
    ("bus-supply-present", "no supply breaks it"),
    (
        "bus-supply-sum",
        "a supply without currents is refused when read",
    ),
    (
        "driver-channel-count",
        "channels are part of every strip and driver",
    ),
    (
        "connector-count",
        "sections, feeds and joints are the program's own count",
    ),
    ("cut-increment", "length and cut are always known"),
    ("driver-load-share", "load and rating are always known"),
    ("driver-overload", "load and rating are always known"),
    (
        "driver-voltage-match",
        "voltages are part of every strip and driver",
    ),
    ("driver-wet-place", "the strip's voltage is always known"),
    ("fade-short", "a fade is part of its scene"),
    ("mirek-rounding", "a white asked for is part of its scene"),
    (
        "mixed-strip-in-view",
        "strips and views are part of the project",
    ),
    ("end-gap", "length and cut are always known"),
    (
        "outputs-not-paralleled",
        "feeds and outputs are the program's own choice",
    ),
    (
        "bus-supply-polarity",
        "supplies are the program's own choice",
    ),
    (
        "cable-size-unit",
        "with one marking there is nothing to mistake",
    ),
    (
        "bus-no-ring",
        "the cable's tree is the program's own choice",
    ),
    ("bus-mixed-gear-type", "gear is part of every driver"),
    (
        "bus-spare",
        "addresses and currents are counted, assumed ones too",
    ),
    (
        "bus-address-unique",
        "addresses are the program's own choice",
    ),
    ("one-phase-per-room", "phases are the program's own choice"),
    ("price-currency", "every catalogue has a currency"),
    (
        "pack-size",
        "a pack is one where the catalogue does not say",
    ),
    (
        "smallest-order",
        "an order is one where the catalogue does not say",
    ),
    ("reel-waste", "the cutting list is the program's own choice"),
    ("spares-set", "spares that are not stated break it"),
    ("tax-named", "a tax that is not stated breaks it"),
    ("value-implausible", "it asks about figures that are there"),
    ("value-assumed", "assumptions are the program's own"),
    ("region-mixed", "every project has a region and a supply"),
];

/// Rules that nothing breaks, each with the reason.
const NEVER_BROKEN: [(&str, &str); 1] = [(
    "value-missing",
    "a missing figure leaves rules untold and breaks none",
)];

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("src/judge/rules")
}

fn file_of(id: &str) -> PathBuf {
    folder().join(format!("{}.rs", id.replace('-', "_")))
}

#[test]
fn every_file_is_in_the_table_and_every_rule_has_its_file() {
    let files: BTreeSet<String> = std::fs::read_dir(folder())
        .expect("the rules' folder")
        .map(|entry| entry.expect("an entry").path())
        .map(|path| {
            path.file_stem()
                .expect("a name")
                .to_string_lossy()
                .replace('_', "-")
        })
        .filter(|name| name != "mod")
        .collect();
    let ids: BTreeSet<String> = RULES.iter().map(|rule| rule.id.to_owned()).collect();
    assert_eq!(files, ids);
    assert_eq!(ids.len(), RULES.len(), "an id twice in the table");
}

#[test]
fn every_rule_says_what_it_must() {
    let mut lacking = Vec::new();
    for rule in RULES {
        let texts = [
            ("statement", rule.statement),
            ("formula", rule.formula),
            ("remedy", rule.remedy),
        ];
        for (name, text) in texts {
            let stopped = text.ends_with('.') && !text.ends_with("d.c.");
            let upper = text.starts_with(char::is_uppercase) && !text.starts_with("In ");
            if text.len() < 10 || stopped || upper {
                lacking.push(format!("{}: {name}: {text:?}", rule.id));
            }
        }
        if rule.sources.is_empty() || rule.sources.iter().any(|(_, source)| source.is_empty()) {
            lacking.push(format!("{}: source", rule.id));
        }
        if !SUBJECTS.contains(&rule.subject) {
            lacking.push(format!("{}: subject", rule.id));
        }
    }
    assert!(lacking.is_empty(), "lacking:\n{}", lacking.join("\n"));
}

#[test]
fn every_subject_has_a_heading_of_its_own() {
    let titles: BTreeSet<&str> = SUBJECTS.iter().map(|subject| subject.title()).collect();
    assert_eq!(titles.len(), SUBJECTS.len());
    assert!(titles.iter().all(|title| !title.is_empty()));
}

#[test]
fn every_rule_has_tests_that_break_hold_and_leave_it_untold() {
    let mut lacking = Vec::new();
    for rule in RULES {
        let text = std::fs::read_to_string(file_of(rule.id)).expect("the rule's file");
        let excused = NEVER_UNTOLD.iter().any(|(id, _)| *id == rule.id)
            || ["price-missing"].contains(&rule.id);
        let breakable = NEVER_BROKEN.iter().all(|(id, _)| *id != rule.id);
        for (wanted, needed) in [
            ("fn breaks_", breakable),
            ("fn holds_", true),
            ("fn cannot_tell_", !excused),
        ] {
            if needed && !text.contains(wanted) {
                lacking.push(format!("{}: no test `{wanted}…`", rule.id));
            }
        }
    }
    assert!(lacking.is_empty(), "lacking:\n{}", lacking.join("\n"));
}

/// Rules without a worked figure in any of the examples, each with the reason.
const NEVER_WORKED: [(&str, &str); 1] = [(
    "revision-stable",
    "it is about a record that was issued, and the examples are not",
)];

#[test]
fn every_rule_has_a_figure_worked_in_the_examples() {
    let examples = ["millrace-library", "annex-north-america", "annex-aus-nz"];
    let jobs = examples.map(|name| {
        let path = format!("catalogue-examples/{name}.yaml");
        let job = pipeline::job(&path, false);
        job.unwrap_or_else(|_| panic!("{path}")).0
    });
    let worked = |id: &str| {
        let rule = rule(id).expect("a rule");
        let mut all = jobs.iter();
        all.any(|job| rule_text::telling(rule, &job.verdicts).is_some())
    };
    let lacking: Vec<&str> = RULES
        .iter()
        .map(|rule| rule.id)
        .filter(|id| NEVER_WORKED.iter().all(|(excused, _)| excused != id))
        .filter(|id| !worked(id))
        .collect();
    assert!(lacking.is_empty(), "no figure worked: {lacking:?}");
    for (id, _) in NEVER_WORKED {
        assert!(!worked(id), "{id} needs no excuse");
    }
}

#[test]
fn excuses_are_for_rules_that_there_are() {
    for (id, reason) in NEVER_UNTOLD
        .iter()
        .chain(&NEVER_BROKEN)
        .chain(&NEVER_WORKED)
    {
        assert!(rule(id).is_some(), "{id} is no rule");
        assert!(!reason.is_empty());
    }
}

#[test]
fn a_rule_that_is_not_everywhere_says_so() {
    let partial = RULES
        .iter()
        .filter(|rule| rule.sources.len() < Region::ALL.len());
    let ids: Vec<&str> = partial.map(|rule| rule.id).collect();
    assert_eq!(
        ids,
        [
            "driver-selv",
            "driver-class2",
            "driver-not-class2-wiring",
            "cable-in-insulation",
            "bus-class2-na",
            "leakage-share",
            "rcd-type",
            "rcd-needed",
            "one-phase-per-room"
        ]
    );
}

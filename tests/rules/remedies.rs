//! A remedy that is an edit of the file works when it is followed: the demo is spoilt, the printed
//! remedy is taken out of its back-quotes, put into the file, and the rule then holds.

use ::csv::Reader;
use feedpoint::judge::verdict::{Outcome, Verdict};
use feedpoint::present::job::Job;
use feedpoint::present::{csv, document};
use feedpoint::{load, pipeline};
use serde_yaml::{Mapping, Value};
use std::path::{Path, PathBuf};

/// Where a printed edit goes.
#[derive(Debug, Clone, Copy)]
enum Where {
    /// Into the project file itself.
    Project,
    /// Into a run.
    Run(&'static str),
    /// Into a point.
    Point(&'static str),
}

/// How the demo is spoilt, what that breaks, and where the remedy's edit goes.
struct Case {
    rule: &'static str,
    subject: &'static str,
    spoilt: &'static [(&'static str, &'static str)],
    into: Where,
}

/// The demo's longest cove, and the same with its feed given.
const COVE: &str =
    "    length: 18.4 m\n    group: hall-cove\n    cupboard: cupboard-a\n    to_start: 6 m";
const FED_AT_ITS_START: &str = "    length: 18.4 m\n    group: hall-cove\n    cupboard: cupboard-a\n    feed: start\n    to_start: 6 m";

const CASES: &[Case] = &[
    Case {
        rule: "spares-set",
        subject: "spares",
        spoilt: &[("  spares: {driver: 5 %, strip: 3 %}\n", "")],
        into: Where::Project,
    },
    Case {
        rule: "tax-named",
        subject: "quote",
        spoilt: &[("  tax: {name: VAT, rate: 20 %}\n", "")],
        into: Where::Project,
    },
    Case {
        rule: "cable-length-fits",
        subject: "lengths of cable",
        spoilt: &[("slack: included", "slack: 4 %")],
        into: Where::Project,
    },
    Case {
        rule: "rcd-type",
        subject: "residual current devices",
        spoilt: &[("residual_type: A", "residual_type: AC")],
        into: Where::Project,
    },
    Case {
        rule: "rcd-needed",
        subject: "lighting circuits",
        spoilt: &[(
            "residual: 30 mA, residual_type: A, premises: other",
            "residual: none, premises: dwelling",
        )],
        into: Where::Project,
    },
    Case {
        rule: "circuit-control-standby",
        subject: "circuits of drivers",
        spoilt: &[("feed: permanent", "feed: switched")],
        into: Where::Project,
    },
    Case {
        rule: "circuit-isolation",
        subject: "cupboard cupboard-a",
        spoilt: &[("sheds: 120 W, isolator: yes", "sheds: 120 W, isolator: no")],
        into: Where::Point("cupboard-a"),
    },
    Case {
        rule: "cable-in-insulation",
        subject: "cable feed-3x1.5",
        spoilt: &[(
            COVE,
            "    length: 18.4 m\n    group: hall-cove\n    cupboard: cupboard-a\n    feed: start\n    cable: feed-3x1.5\n    in_insulation: 1 m\n    to_start: 6 m",
        )],
        into: Where::Run("hall-cove-north"),
    },
    Case {
        rule: "strip-light-drop",
        subject: "run hall-cove-north",
        spoilt: &[(COVE, FED_AT_ITS_START)],
        into: Where::Run("hall-cove-north"),
    },
    Case {
        rule: "feed-voltage-drop",
        subject: "run hall-cove-north",
        spoilt: &[(COVE, FED_AT_ITS_START)],
        into: Where::Run("hall-cove-north"),
    },
    Case {
        rule: "region-mixed",
        subject: "supply",
        spoilt: &[(
            "supply: {voltage: 230 V, frequency: 50 Hz",
            "supply: {voltage: 120 V, frequency: 60 Hz",
        )],
        into: Where::Project,
    },
];

pub(super) fn demo() -> String {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples");
    std::fs::read_to_string(path.join("millrace-library.yaml")).expect("the demo")
}

/// A project in the folder of the demo, worked out.
pub(super) fn worked_out(text: &str) -> Job {
    let base = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples");
    let loaded = load::project_from_text("project.yaml", text, &base)
        .unwrap_or_else(|complaints| panic!("{}", complaints.texts(false).join("\n")));
    let (job, _) = pipeline::run(loaded)
        .unwrap_or_else(|complaints| panic!("{}", complaints.texts(false).join("\n")));
    job
}

fn verdicts(text: &str) -> Vec<Verdict> {
    worked_out(text).verdicts
}

/// Every edit in a remedy's back-quotes: `key: value`, `block: {key: value}` or `block.key: value`.
fn edits(remedy: &str) -> Vec<Mapping> {
    let quoted = remedy.split('`').skip(1).step_by(2);
    quoted
        .filter(|text| text.contains(": "))
        .filter_map(|text| {
            serde_yaml::from_str::<Value>(text)
                .ok()?
                .as_mapping()
                .cloned()
        })
        .map(|mapping| mapping.into_iter().map(nested).collect())
        .collect()
}

/// `block.key: value` as `block: {key: value}`.
fn nested((key, value): (Value, Value)) -> (Value, Value) {
    let name = key.as_str().unwrap_or_default().to_owned();
    match name.split_once('.') {
        Some((block, inner)) => {
            let mut mapping = Mapping::new();
            mapping.insert(inner.into(), value);
            (block.into(), Value::Mapping(mapping))
        }
        None => (key, value),
    }
}

pub(super) fn merge(into: &mut Mapping, edit: Mapping) {
    for (key, value) in edit {
        match (into.get_mut(&key), value) {
            (Some(Value::Mapping(old)), Value::Mapping(new)) => merge(old, new),
            (_, value) => {
                into.insert(key, value);
            }
        }
    }
}

pub(super) fn block<'a>(file: &'a mut Mapping, list: &str, name: &str) -> &'a mut Mapping {
    let singular = list.trim_end_matches('s');
    let blocks = file[list].as_sequence_mut().expect("a list").iter_mut();
    let mut named = blocks.filter_map(Value::as_mapping_mut);
    named
        .find(|block| block.get(singular).and_then(Value::as_str) == Some(name))
        .expect("there")
}

/// The file with the remedy's first edits put in their place.
fn followed(text: &str, remedy: &str, into: Where) -> String {
    let mut file: Value = serde_yaml::from_str(text).expect("the spoilt file is YAML");
    let file_mapping = file.as_mapping_mut().expect("a mapping");
    let mut edits = edits(remedy);
    if remedy.contains("` or `") {
        edits.truncate(1);
    }
    assert!(!edits.is_empty(), "no edit in: {remedy}");
    let target = match into {
        Where::Project => file_mapping,
        Where::Run(name) => block(file_mapping, "runs", name),
        Where::Point(name) => block(file_mapping, "points", name),
    };
    for edit in edits {
        merge(target, edit);
    }
    serde_yaml::to_string(&file).expect("YAML")
}

fn of<'a>(verdicts: &'a [Verdict], case: &Case) -> &'a Verdict {
    verdicts
        .iter()
        .find(|verdict| verdict.rule == case.rule && verdict.subject == case.subject)
        .unwrap_or_else(|| {
            let subjects: Vec<&str> = verdicts
                .iter()
                .filter(|verdict| verdict.rule == case.rule)
                .map(|verdict| verdict.subject.as_str())
                .collect();
            panic!(
                "{}: no verdict on {}: {subjects:?}",
                case.rule, case.subject
            )
        })
}

#[test]
fn a_printed_remedy_that_is_followed_makes_the_rule_hold() {
    for case in CASES {
        let spoilt = case.spoilt.iter().fold(demo(), |text, (old, new)| {
            assert!(
                text.contains(old),
                "{}: `{old}` is not in the demo",
                case.rule
            );
            text.replacen(old, new, 1)
        });
        let before = verdicts(&spoilt);
        let broken = of(&before, case);
        assert_eq!(broken.outcome, Outcome::Broken, "{}: {broken:?}", case.rule);
        let remedy = broken
            .remedy
            .as_deref()
            .expect("a broken rule has a remedy");
        let after = verdicts(&followed(&spoilt, remedy, case.into));
        let still: Vec<String> = after
            .iter()
            .filter(|verdict| verdict.rule == case.rule && verdict.outcome != Outcome::Holds)
            .filter(|verdict| !matches!(verdict.outcome, Outcome::NotHere { .. }))
            .map(|verdict| format!("{}: {:?}", verdict.subject, verdict.outcome))
            .collect();
        assert!(
            still.is_empty(),
            "{} after `{remedy}`: {still:?}",
            case.rule
        );
    }
}

/// The demo with many rules broken at once.
fn spoilt() -> String {
    CASES
        .iter()
        .filter(|case| !matches!(case.rule, "feed-voltage-drop" | "rcd-type" | "region-mixed"))
        .flat_map(|case| case.spoilt)
        .fold(demo(), |text, (old, new)| text.replacen(old, new, 1))
}

/// Faults before cautions before notes, each with what is furthest past its limit first.
#[test]
fn broken_rules_stand_worst_first() {
    let checks = document::named("checks", &worked_out(&spoilt())).expect("checks");
    let files = csv::files(&checks).expect("files");
    let open = files.first().expect("a file of what is open");
    let mut reader = Reader::from_reader(open.text.as_bytes());
    let heads = reader.headers().expect("heads").clone();
    let place = |name: &str| {
        heads
            .iter()
            .position(|head| head == name)
            .expect("a column")
    };
    let [verdict, severity, spare] = ["verdict", "severity", "spare_percent"].map(place);
    let words = ["fault", "caution", "note"];
    let ranks: Vec<(usize, f64)> = reader
        .records()
        .map(|row| row.expect("a row"))
        .filter(|row| &row[verdict] == "broken")
        .map(|row| {
            let rank = words.iter().position(|word| *word == &row[severity]);
            let spare = row[spare].parse().unwrap_or(f64::INFINITY);
            (rank.expect("a severity"), spare)
        })
        .collect();
    assert!(ranks.len() >= 8, "{ranks:?}");
    assert!(ranks.iter().any(|(_, spare)| spare.is_finite()));
    assert!(ranks.is_sorted(), "{ranks:?}");
}

/// Every broken verdict says what to do and the place of what to change.
#[test]
fn every_broken_rule_has_a_remedy_and_a_place() {
    let verdicts = verdicts(&spoilt());
    let broken: Vec<&Verdict> = verdicts
        .iter()
        .filter(|verdict| verdict.outcome == Outcome::Broken)
        .collect();
    assert!(broken.len() >= 8, "{} broken", broken.len());
    for verdict in broken {
        let named = format!("{} {}", verdict.rule, verdict.subject);
        assert!(verdict.remedy.is_some(), "{named}: no remedy");
        assert!(verdict.place.is_some(), "{named}: no place");
    }
}

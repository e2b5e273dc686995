//! What `auto` chose breaks no rule, on random jobs in each region: only what the user gave can,
//! and what nothing in the catalogue keeps, of which sizing says so by itself.

use super::random_job::{RandomJob, random_job};

use crate::made::cases::cases;

use feedpoint::judge::verdict::{Outcome, Verdict};
use feedpoint::model::issued::Record;
use feedpoint::model::run::Run;
use feedpoint::norms::region::Region;
use feedpoint::present::issued::record;
use feedpoint::present::job::Job;
use feedpoint::{load, pipeline};
use proptest::prelude::*;
use std::path::Path;
use std::sync::Arc;

/// A rule that what the user gave can break whatever is chosen: why, and whether it is so here.
struct Given {
    rule: &'static str,
    why: &'static str,
    here: fn(&Job, &Verdict) -> bool,
}

const GIVEN: &[Given] = &[
    Given {
        rule: "end-gap",
        why: "a strip is given whose cut is longer than the gap that is allowed",
        here: |job, verdict| {
            let most = job.project.limits.end_gap.value;
            run_of(job, verdict).is_some_and(|run| run.strip.cut > most)
        },
    },
    Given {
        rule: "profile-heat",
        why: "a strip is given without a profile",
        here: |job, verdict| run_of(job, verdict).is_some_and(|run| run.profile.is_none()),
    },
    Given {
        rule: "strip-ambient",
        why: "a strip is given where it is too hot for it",
        here: |job, verdict| run_of(job, verdict).is_some_and(|run| run.ambient.is_some()),
    },
    Given {
        rule: "smallest-order",
        why: "what a catalogue sells at least, of what a small job needs little of",
        here: |_, _| true,
    },
    Given {
        rule: "mixed-strip-in-view",
        why: "strips are given, and which are seen together",
        here: |_, _| true,
    },
    Given {
        rule: "bus-spare",
        why: "what comes to a loop after it was issued is what its spare is for",
        here: |job, _| job.project.issued.held().is_some(),
    },
    Given {
        rule: "bus-mixed-gear-type",
        why: "strips of one white and of two are given one group",
        here: |job, verdict| {
            let runs = job.sizing.runs.iter();
            let mut channels: Vec<usize> = runs
                .filter(|sized| verdict.subject == format!("group {}", sized.run.group.name))
                .map(|sized| sized.run.strip.channels.count())
                .collect();
            channels.dedup();
            channels.len() > 1
        },
    },
];

/// The run that a verdict is about.
fn run_of<'a>(job: &'a Job, verdict: &Verdict) -> Option<&'a Run> {
    let name = verdict.subject.strip_prefix("run ")?;
    let mut runs = job.project.runs.iter();
    runs.find(|run| run.name == name).map(AsRef::as_ref)
}

/// Whether sizing said that nothing keeps every limit of something that the verdict is about.
fn said(job: &Job, verdict: &Verdict) -> bool {
    let (kind, name) = verdict.subject.split_once(' ').unwrap_or_default();
    let drivers = |run: &str| {
        let mut all = job.sizing.drivers.iter();
        all.any(|driver| driver.number == name && driver.runs.iter().any(|on| on == run))
    };
    let cables = |run: &str, known: &str| {
        let mut all = job.sizing.cables.iter();
        all.any(|cable| cable.run == run && (cable.number == known || cable.item.offer.id == known))
    };
    let of_circuits = kind == "circuit"
        && job
            .allocation
            .notes
            .iter()
            .any(|note| note.starts_with(&format!("circuit {name}: no mains cable")));
    let of_runs = job.sizing.runs.iter().any(|sized| {
        let run = &sized.run;
        let about = match kind {
            "run" => run.name == name,
            "driver" => drivers(&run.name),
            "feed" => cables(&run.name, name.trim_start_matches("cable ")),
            "cable" => cables(&run.name, name),
            "strip" => run.strip.offer.id == name,
            "view" => run.detail.view.as_deref() == Some(name),
            "room" => verdict
                .subject
                .contains(&format!("group {}", run.group.name)),
            _ => false,
        };
        about && sized.unmet.is_some()
    });
    of_circuits || of_runs
}

fn judged(random: &RandomJob) -> Job {
    judged_since(random, None)
}

/// Judged with a record held.
fn judged_since(random: &RandomJob, record: Option<Record>) -> Job {
    let base = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples");
    let text = random.text();
    let mut loaded = load::project_from_text("project.yaml", &text, &base)
        .unwrap_or_else(|complaints| panic!("{}\n{text}", complaints.texts(false).join("\n")));
    loaded.project.issued.record = record.map(Arc::new);
    let (job, _) = pipeline::run(loaded)
        .unwrap_or_else(|complaints| panic!("{}\n{text}", complaints.texts(false).join("\n")));
    job
}

/// Broken rules that neither sizing nor what was given accounts for.
fn unaccounted(job: &Job) -> Vec<String> {
    let given = |verdict: &&Verdict| {
        GIVEN
            .iter()
            .any(|given| given.rule == verdict.rule && (given.here)(job, verdict))
    };
    job.verdicts
        .iter()
        .filter(|verdict| verdict.outcome == Outcome::Broken)
        .filter(|verdict| !given(verdict) && !said(job, verdict))
        .map(|verdict| {
            format!(
                "{}: {} {:?} {:?}",
                verdict.rule, verdict.subject, verdict.found, verdict.limit
            )
        })
        .collect()
}

proptest! {
    #![proptest_config(cases(24))]

    #[test]
    fn what_was_chosen_breaks_no_rule_in_iec(job in random_job(Region::Iec)) {
        prop_assert_eq!(unaccounted(&judged(&job)), Vec::<String>::new(), "{}", job.text());
    }

    #[test]
    fn what_was_chosen_breaks_no_rule_in_north_america(job in random_job(Region::NorthAmerica)) {
        prop_assert_eq!(unaccounted(&judged(&job)), Vec::<String>::new(), "{}", job.text());
    }

    #[test]
    fn what_was_chosen_breaks_no_rule_in_aus_nz(job in random_job(Region::AusNz)) {
        prop_assert_eq!(unaccounted(&judged(&job)), Vec::<String>::new(), "{}", job.text());
    }
}

proptest! {
    #![proptest_config(cases(8))]

    /// What was issued stays only as far as it breaks no rule in the job as it is now.
    #[test]
    fn what_was_issued_and_then_added_to_breaks_no_rule(job in random_job(Region::Iec)) {
        let first = judged(&job.without_last_run());
        let now = judged_since(&job, Some(record(&first)));
        prop_assert_eq!(unaccounted(&now), Vec::<String>::new(), "{}", job.text());
    }

    #[test]
    fn what_was_issued_and_then_lengthened_breaks_no_rule(job in random_job(Region::Iec)) {
        let now = judged_since(&job.lengthened(), Some(record(&judged(&job))));
        prop_assert_eq!(unaccounted(&now), Vec::<String>::new(), "{}", job.lengthened().text());
    }
}

#[test]
fn every_excuse_is_for_a_rule_that_there_is() {
    for given in GIVEN {
        let rule = given.rule;
        assert!(feedpoint::judge::rule(rule).is_some(), "{rule} is no rule");
        assert!(!given.why.is_empty());
    }
}

/// What the property allows to be broken is rare enough that most runs are held to every rule.
#[test]
fn most_runs_of_the_random_jobs_keep_every_limit() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let (mut all, mut unmet) = (0, 0);
    for _ in 0..10 {
        let tree = random_job(Region::Iec)
            .new_tree(&mut runner)
            .expect("a job");
        let job = judged(&tree.current());
        all += job.sizing.runs.len();
        unmet += job
            .sizing
            .runs
            .iter()
            .filter(|run| run.unmet.is_some())
            .count();
    }
    assert!(unmet * 2 < all, "{unmet} of {all}");
    assert!(unmet > 0);
}

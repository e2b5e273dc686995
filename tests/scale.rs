//! Many runs at once: sized side by side they come out the same each time, and a project in which
//! hundreds of rules are broken is told of whole.

use crate::made::scale;
use feedpoint::allocate::allocated::Loop;
use feedpoint::judge::Counts;
use feedpoint::judge::verdict::{Outcome, Verdict};
use feedpoint::model::project::Severity;
use feedpoint::present::job::Job;
use feedpoint::present::{csv, document};
use feedpoint::{load, pipeline};
use std::path::Path;

fn job(text: &str) -> Job {
    let base = Path::new("catalogue-examples");
    let loaded = load::project_from_text("project.yaml", text, base);
    let loaded = loaded.unwrap_or_else(|told| panic!("{told}"));
    pipeline::run(loaded)
        .unwrap_or_else(|told| panic!("{told}"))
        .0
}

fn schedules(job: &Job) -> String {
    let mut all = String::new();
    for name in [
        "run-schedule",
        "driver-schedule",
        "cable-schedule",
        "loop-schedule",
        "circuit-schedule",
        "checks",
    ] {
        let document = document::named(name, job).unwrap_or_else(|| panic!("no {name}"));
        for file in csv::files(&document).expect("files") {
            all.push_str(&file.text);
        }
    }
    all
}

fn is_fault(verdict: &Verdict) -> bool {
    verdict.outcome == Outcome::Broken && verdict.severity == Severity::Fault
}

#[test]
fn many_runs_come_out_the_same_on_one_thread_and_on_many() {
    let text = scale::project(40, 1);
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
        pool.expect("threads").install(|| schedules(&job(&text)))
    };
    let one = on(1);
    assert!(one.lines().count() > 200, "{} lines", one.lines().count());
    assert_eq!(one, on(4));
    assert_eq!(one, on(4));
}

#[test]
fn a_drawn_project_breaks_nothing_that_can_be_kept() {
    let job = job(&scale::project(40, 2));
    assert_eq!(job.sizing.runs.len(), 40);
    assert_eq!(Counts::of(&job.verdicts).broken_faults, 0);
}

/// More groups than one loop has numbers for, on a bus whose addresses and current would take them
/// all: 25 groups are two loops (IEC 62386-102: 16 groups).
#[test]
fn a_loop_is_given_no_more_groups_than_it_has() {
    let job = job(&scale::project(100, 1));
    assert_eq!(job.project.groups.len(), 25);
    let groups = |on: &Loop| on.groups.len();
    let most = job.allocation.loops.iter().map(groups).max();
    assert!(most <= Some(16), "{most:?} groups on a loop");
    let all: usize = job.allocation.loops.iter().map(groups).sum();
    assert_eq!(all, 25, "no group is on two loops");
    assert_eq!(job.allocation.loops.len(), 2);
    let broken: Vec<&Verdict> = job.verdicts.iter().filter(|v| is_fault(v)).collect();
    assert!(broken.is_empty(), "{broken:#?}");
}

/// Every run fed at one end only, far too long for it.
#[test]
fn every_broken_rule_of_many_runs_is_told() {
    let text = scale::project(60, 3);
    let text = text.replace("reach_along: yes", "feed: start");
    let job = job(&text);
    let counts = Counts::of(&job.verdicts);
    assert!(
        counts.broken_faults > 150,
        "{} broken",
        counts.broken_faults
    );
    let checks = document::named("checks", &job).expect("checks");
    let lines: usize = csv::files(&checks)
        .expect("files")
        .iter()
        .map(|file| file.text.lines().count())
        .sum();
    assert!(lines > counts.broken_faults, "{lines} lines");
}

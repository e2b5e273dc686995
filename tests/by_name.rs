//! Is what is found by name what is found by looking at each?

use crate::made::scale;
use feedpoint::allocate::allocated::{Circuit, Loop, MemberKind};
use feedpoint::choose::sized::{FeedCable, SizedDriver};
use feedpoint::judge::verdict::{Outcome, Verdict};
use feedpoint::load;
use feedpoint::pipeline;
use feedpoint::present::document::{self, Cell};
use feedpoint::present::job::Job;
use std::path::Path;

fn job(text: &str) -> Job {
    let base = Path::new("catalogue-examples");
    let loaded = load::project_from_text("project.yaml", text, base);
    let loaded = loaded.unwrap_or_else(|told| panic!("{told}"));
    let worked_out = pipeline::run(loaded);
    worked_out.unwrap_or_else(|told| panic!("{told}")).0
}

fn text_of_demo() -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = root.join("catalogue-examples/millrace-library.yaml");
    std::fs::read_to_string(path).expect("the demo")
}

fn demo() -> Job {
    job(&text_of_demo())
}

fn each(job: &Job) {
    let (sizing, allocation) = (&job.sizing, &job.allocation);
    assert!(!sizing.drivers.is_empty() && !sizing.cables.is_empty());
    for driver in &sizing.drivers {
        let number = &driver.number;
        assert_eq!(sizing.driver(number), Some(driver));
        let runs = sizing.runs.iter();
        let runs = runs.filter(|it| driver.runs.contains(&it.run.name));
        assert!(sizing.runs_on(driver).eq(runs), "{number}");
        let cables = sizing.cables.iter().filter(|it| it.starts_at(driver));
        assert!(sizing.cables_of(driver).eq(cables), "{number}");
        let circuit = |it: &&Circuit| it.drivers.contains(number);
        let circuit = allocation.circuits.iter().find(circuit);
        assert_eq!(allocation.circuit_of(number), circuit);
        let subject = format!("driver {number}");
        let about = |it: &&Verdict| it.subject == subject || it.each.contains(&subject);
        let verdicts = job.verdicts.iter().filter(about);
        assert!(job.verdicts_on(&subject).eq(verdicts), "{number}");
        assert!(job.verdicts_on(&subject).count() > 3, "{number}");
    }
    for sized in &sizing.runs {
        let name = &sized.run.name;
        assert_eq!(sizing.run(name), Some(sized));
        let feeds = |it: &&SizedDriver| it.runs.contains(name);
        let drivers = sizing.drivers.iter().filter(feeds);
        assert!(sizing.feeding(sized).eq(drivers), "{name}");
        let cables = sizing.cables.iter().filter(|it| it.run == *name);
        assert!(sizing.cables_to(sized).eq(cables), "{name}");
        for (number, section) in (1..).zip(&sized.sections) {
            for feed in &section.feeds {
                let own =
                    |it: &&FeedCable| it.run == *name && it.section == number && it.at == feed.at;
                let cable = sizing.cables.iter().find(own);
                assert_eq!(sizing.cable_to(sized, number, feed), cable);
            }
        }
    }
    for group in &job.project.groups {
        let serves = |it: &&SizedDriver| it.group.name == group.name;
        let drivers = sizing.drivers.iter().filter(serves);
        assert!(sizing.serving(&group.name).eq(drivers), "{}", group.name);
        let has = |it: &&Loop| it.groups.iter().any(|own| own.group == group.name);
        let loops = allocation.loops.iter().filter(has);
        assert!(allocation.loops_of(&group.name).eq(loops), "{}", group.name);
    }
    for on in &allocation.loops {
        for member in &on.members {
            assert_eq!(allocation.member(&member.device), Some((on, member)));
        }
    }
    for circuit in &allocation.circuits {
        let reached = |on: &&Loop| {
            let mut gear = on.members.iter();
            gear.any(|it| it.kind == MemberKind::Gear && circuit.drivers.contains(&it.device))
        };
        let loops = allocation.loops.iter().filter(reached);
        assert!(allocation.loops_on(circuit).eq(loops), "{}", circuit.name);
        for unit in &circuit.supplies {
            assert_eq!(allocation.circuit_of_supply(unit), Some(circuit));
        }
    }
}

#[test]
fn names_lead_to_what_has_them() {
    each(&demo());
    each(&job(&scale::project(40, 5)));
}

#[test]
fn a_name_that_nothing_has_leads_nowhere() {
    let job = demo();
    assert_eq!(job.sizing.run("none"), None);
    assert_eq!(job.sizing.driver("none"), None);
    assert_eq!(job.sizing.serving("none").count(), 0);
    assert_eq!(job.allocation.member("none"), None);
    assert_eq!(job.allocation.circuit_of("none"), None);
    assert_eq!(job.allocation.circuit_of_supply("none"), None);
    assert_eq!(job.allocation.loops_of("none").count(), 0);
    assert_eq!(job.verdicts_on("none").count(), 0);
    assert_eq!(job.joints("none", 1), []);
}

/// Places are laid out when they are first asked for: a copy that is then changed must not go by
/// those of the first.
#[test]
fn a_copy_is_laid_out_for_itself() {
    let first = demo();
    let number = first.sizing.drivers[0].number.clone();
    assert!(first.sizing.driver(&number).is_some());
    let mut other = first.sizing.clone();
    assert_eq!(other, first.sizing);
    other.drivers.remove(0);
    assert_eq!(other.driver(&number), None);
    let second = &first.sizing.drivers[1];
    assert_eq!(other.driver(&second.number), Some(second));
}

/// One missing figure is told once for all that lack it. The cable schedule once looked for each cable
/// by itself, found nothing and left its check empty; other things showed `holds` for their other rules.
#[test]
fn what_is_told_of_several_is_found_for_each() {
    let (near, far) = ("length: 18.4 m", "to_end: 21 m");
    let text = text_of_demo().replacen(near, "length: 55.2 m", 1);
    let job = job(&text.replacen(far, "to_end: 57 m", 1));
    let run = job.sizing.run("hall-cove-north").expect("the run");
    let mut told = 0;
    for cable in job.sizing.cables_to(run) {
        assert_eq!(cable.ampacity, None, "{}", cable.number);
        let subject = format!("feed cable {}", cable.number);
        let untold = |it: &&Verdict| matches!(it.outcome, Outcome::CannotTell { .. });
        assert_eq!(job.verdicts_on(&subject).filter(untold).count(), 2);
        told += 1;
    }
    assert!(told > 3, "{told}");
    let documents = document::all(&job);
    let tables = documents.iter().flat_map(|document| &document.parts);
    let cables = tables.filter(|part| part.name == "cable-schedule");
    let mut rows = cables
        .filter_map(|part| part.table.as_ref())
        .flat_map(|it| &it.rows);
    let row = rows.find(|row| row.cells.first() == Some(&Cell::text("F-001")));
    let row = row.expect("the first cable");
    assert!(row.cells.contains(&Cell::Verdict("cannot tell")), "{row:?}");
}

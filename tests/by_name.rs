//! Is what is found by name what is found by looking at each?

use crate::made::scale;
use feedpoint::allocate::allocated::{Circuit, Loop, MemberKind};
use feedpoint::choose::sized::{FeedCable, SizedDriver};
use feedpoint::load;
use feedpoint::pipeline;
use feedpoint::present::job::Job;
use std::path::Path;

fn job(text: &str) -> Job {
    let base = Path::new("catalogue-examples");
    let loaded = load::project_from_text("project.yaml", text, base);
    let loaded = loaded.unwrap_or_else(|told| panic!("{told}"));
    let worked_out = pipeline::run(loaded);
    worked_out.unwrap_or_else(|told| panic!("{told}")).0
}

fn demo() -> Job {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = root.join("catalogue-examples/millrace-library.yaml");
    job(&std::fs::read_to_string(path).expect("the demo"))
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
        let verdicts = job.verdicts.iter().filter(|it| it.subject == subject);
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

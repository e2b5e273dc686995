//! What the program says of a run for which nothing in the catalogue keeps every limit.

use crate::invented;

use feedpoint::choose::size;
use feedpoint::choose::sized::{SizedRun, Unmet};
use feedpoint::model::project::Project;
use feedpoint::model::run::FeedWish;
use feedpoint::model::strip::Strip;
use feedpoint::quantity::Current;
use feedpoint::solve::strip::Lit;
use invented::{Wanted, project, strip};
use std::sync::Arc;
use uom::si::electric_current::ampere;

fn shelf() -> Arc<Strip> {
    strip("shelf", 24.0, &[7.2])
}

/// The only run of a project as it is sized.
fn sized(project: &Project) -> SizedRun {
    let sizing = size(project).expect("the run can be laid out");
    sizing.runs[0].clone()
}

fn unmet(project: &Project) -> Unmet {
    sized(project).unmet.expect("nothing keeps every limit")
}

/// 4 m of 7.2 W/m at 24 V, fed at their start.
fn fed_at_its_start() -> Wanted {
    Wanted {
        feed: FeedWish::Start,
        ..Wanted::new("shelf", &shelf(), 4.0)
    }
}

#[test]
fn what_cannot_be_met_says_what_misses_and_what_would_cure_it() {
    let one_end = Wanted {
        along: false,
        to_end: None,
        ..Wanted::new("cove", &strip("pair-19", 24.0, &[9.6, 9.6]), 18.4)
    };
    let unmet = unmet(&project(&[one_end]));
    assert_eq!(unmet.limit, "light drop");
    assert!(unmet.by.ends_with("(limit 10.0 %)"), "{}", unmet.by);
    assert!(unmet.cure.contains("reach_along: yes"), "{}", unmet.cure);
}

/// They take 1.2 A at most, of 1 A.
#[test]
fn a_section_that_takes_more_than_an_output_gives_says_so() {
    let mut project = project(&[fed_at_its_start()]);
    for driver in &mut project.catalogue.drivers {
        Arc::make_mut(driver).output.current_per_channel = Some(Current::new::<ampere>(1.0));
    }
    let unmet = unmet(&project);
    assert_eq!(unmet.limit, "driver output current");
    assert!(
        unmet.by.starts_with("1.1") || unmet.by.starts_with("1.2"),
        "{}",
        unmet.by
    );
}

/// They take 1.2 A at most, through a feed that may carry 0.5 A.
#[test]
fn a_strip_that_takes_more_than_one_feed_may_carry_says_so() {
    let mut project = project(&[fed_at_its_start()]);
    for run in &mut project.runs {
        let strip = &mut Arc::make_mut(run).strip;
        Arc::make_mut(strip).most_feed_current = Some(Current::new::<ampere>(0.5));
    }
    let unmet = unmet(&project);
    assert_eq!(unmet.limit, "current into the strip at one feed");
    assert!(unmet.by.ends_with("(limit 0.50 A)"), "{}", unmet.by);
    let (another, stronger) = ("`feed: auto`", "a strip that carries more at a feed");
    assert!(unmet.cure.contains(another), "{}", unmet.cure);
    assert!(unmet.cure.contains(stronger), "{}", unmet.cure);
}

/// One colour is on or off, whatever drivers there are.
#[test]
fn without_a_driver_a_run_is_laid_out_and_the_driver_is_what_is_missing() {
    let mut project = project(&[Wanted::new("shelf", &shelf(), 4.0)]);
    project.catalogue.drivers.clear();
    let sized = sized(&project);
    let unmet = sized.unmet.expect("a driver is missing");
    assert_eq!(unmet.limit, "driver");
    assert!(unmet.by.contains("24 V on 1 channels"), "{}", unmet.by);
    assert!(sized.figures.works);
    let lit: Vec<Lit> = sized.states.iter().map(|state| state.lit).collect();
    assert_eq!(lit, [Lit::On]);
}

//! What the program says of a run for which nothing in the catalogue keeps every limit.

use crate::invented;

use feedpoint::choose::error::ChooseError;
use feedpoint::choose::size;
use feedpoint::choose::sized::{SizedRun, Unmet};
use feedpoint::model::driver::DriverOutput;
use feedpoint::model::project::Project;
use feedpoint::model::run::FeedWish;
use feedpoint::model::strip::Strip;
use feedpoint::norms::region::Region;
use feedpoint::quantity::conductor::ConductorSize;
use feedpoint::quantity::{Area, Current, Power};
use feedpoint::solve::strip::Lit;
use invented::{Wanted, project, strip};
use std::sync::Arc;
use uom::si::area::square_millimeter;
use uom::si::electric_current::ampere;
use uom::si::power::watt;

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

/// 4 m of 7.2 W/m take 28.8 W and 1.2 A at most. Each of these is spoilt in one thing, and told what
/// of it is too little and what would cure that.
#[test]
fn each_limit_has_its_cures() {
    type Spoil = fn(&mut Project);
    fn cables(project: &mut Project, amperes: f64) {
        for cable in &mut project.catalogue.cables {
            Arc::make_mut(cable).most_current = Some(Current::new::<ampere>(amperes));
        }
    }
    fn outputs(project: &mut Project, spoil: fn(&mut DriverOutput)) {
        for driver in &mut project.catalogue.drivers {
            spoil(&mut Arc::make_mut(driver).output);
        }
    }
    let spoilt: [(&str, [&str; 2], Spoil); 5] = [
        (
            "driver load",
            ["a driver with more power", "a strip of less power"],
            |project| outputs(project, |output| output.power = Power::new::<watt>(20.0)),
        ),
        (
            "cable current",
            ["a thicker feed cable", "a strip of less power"],
            // Of a load that stays on 125 % counts (NEC 210.19(A)): over 1.4 A, where drivers give 1.3 A.
            |project| {
                project.region = Region::NorthAmerica;
                cables(project, 1.35);
                outputs(project, |output| {
                    output.current_per_channel = Some(Current::new::<ampere>(1.3));
                });
            },
        ),
        (
            "driver current on one feed cable",
            ["a thicker feed cable", "a driver that gives less current"],
            |project| cables(project, 1.5),
        ),
        (
            "conductor size at the driver",
            ["larger terminals", "a cupboard nearer to the run"],
            |project| {
                for driver in &mut project.catalogue.drivers {
                    Arc::make_mut(driver).largest_terminal =
                        Some(ConductorSize::Metric(Area::new::<square_millimeter>(0.5)));
                }
            },
        ),
        (
            "connector current",
            ["carries more at a feed", "a strip of higher voltage"],
            |project| {
                for accessory in &mut project.catalogue.accessories {
                    let most = &mut Arc::make_mut(accessory).most_current;
                    *most = most.map(|_| Current::new::<ampere>(0.5));
                }
            },
        ),
    ];
    for (limit, cures, spoil) in spoilt {
        let mut project = project(&[fed_at_its_start()]);
        spoil(&mut project);
        let unmet = unmet(&project);
        assert_eq!(unmet.limit, limit, "{}", unmet.by);
        for cure in cures {
            assert!(unmet.cure.contains(cure), "{limit}: {}", unmet.cure);
        }
    }
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

#[test]
fn a_run_that_no_cable_reaches_is_refused() {
    let out_of_reach = Wanted {
        to_start: None,
        to_end: None,
        ..Wanted::new("shelf", &shelf(), 4.0)
    };
    let errors = size(&project(&[out_of_reach])).expect_err("no cable reaches it");
    let [ChooseError::NoWay { run, .. }] = errors.as_slice() else {
        panic!("{errors:?}");
    };
    assert_eq!(run, "shelf");
}

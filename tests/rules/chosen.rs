//! What `auto` chose breaks no rule, on invented projects: only what the user gave or left out of
//! the file can.

use crate::invented;

use feedpoint::choose::size;
use feedpoint::judge::judge;
use feedpoint::judge::rule::Evidence;
use feedpoint::judge::verdict::Outcome;
use feedpoint::model::project::Project;
use feedpoint::model::strip::Strip;
use feedpoint::model::wiring::Exposure;
use feedpoint::quantity::{Length, Temperature};
use feedpoint::{allocate, price};
use invented::{Wanted, project, strip};
use proptest::prelude::*;
use std::sync::Arc;
use uom::si::length::meter;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Rules that what the user gave can break whatever is chosen, each with the reason.
const GIVEN: &[(&str, &str)] = &[
    ("spares-set", "what the file says of spares"),
    ("tax-named", "what the file says of tax"),
    ("end-gap", "a run may be too short for its cut"),
    (
        "driver-least-load",
        "a run may be too short for the smallest driver",
    ),
    ("bus-mixed-gear-type", "which runs share a group"),
    ("bus-supply-present", "what the catalogue has"),
    ("price-missing", "what the catalogue has"),
    ("mixed-strip-in-view", "which strips are seen together"),
    ("white-balance-across-runs", "which runs are seen together"),
    ("profile-heat", "which strip goes without a profile"),
    ("mix-off-locus", "how far apart a strip's whites are"),
    (
        "one-phase-per-room",
        "a room with most of the load is spread, for balance",
    ),
];

fn strips() -> [Arc<Strip>; 4] {
    [
        strip("pair-19", 24.0, &[9.6, 9.6]),
        strip("pair-10", 24.0, &[4.8, 4.8]),
        strip("shelf", 24.0, &[7.2]),
        strip("work", 24.0, &[14.4]),
    ]
}

/// What surrounds a job: insulation round its cables, heat, water, phases.
#[derive(Debug, Clone)]
struct Around {
    in_insulation: Option<f64>,
    celsius: Option<f64>,
    wet: bool,
    phases: usize,
}

fn around() -> impl Strategy<Value = Around> {
    let phases = prop_oneof![Just(1_usize), Just(3)];
    (
        prop::option::of(0.0_f64..1.0),
        prop::option::of(20.0_f64..55.0),
        any::<bool>(),
        phases,
    )
        .prop_map(|(in_insulation, celsius, wet, phases)| Around {
            in_insulation,
            celsius,
            wet,
            phases,
        })
}

fn placed(mut project: Project, around: &Around) -> Project {
    project.supply.phases = around.phases;
    project.wiring.in_insulation = around.in_insulation.map(Length::new::<meter>);
    for run in &mut project.runs {
        let run = Arc::make_mut(run);
        run.wet = around.wet;
        run.ambient = around.celsius.map(Temperature::new::<degree_celsius>);
    }
    // Every other size of cable stands water; the rest are known not to.
    for (index, cable) in project.catalogue.cables.iter_mut().enumerate() {
        let suits = if index % 2 == 0 {
            vec![Exposure::Wet]
        } else {
            Vec::new()
        };
        Arc::make_mut(cable).marking.suits = Some(suits);
    }
    project
}

fn broken(project: &Project) -> Vec<String> {
    let Ok(sizing) = size(project) else {
        return Vec::new();
    };
    // Where nothing keeps every limit there is no choice to hold to them.
    if sizing.runs.iter().any(|run| run.unmet.is_some()) {
        return Vec::new();
    }
    let allocation = allocate::allocate(project, &sizing);
    let quote = price::price(project, &sizing, &allocation);
    let verdicts = judge(&Evidence {
        project,
        sizing: &sizing,
        allocation: &allocation,
        quote: &quote,
    });
    verdicts
        .iter()
        .filter(|verdict| verdict.outcome == Outcome::Broken)
        .filter(|verdict| GIVEN.iter().all(|(id, _)| *id != verdict.rule))
        .map(|verdict| {
            format!(
                "{}: {} {:?} {:?}",
                verdict.rule, verdict.subject, verdict.found, verdict.limit
            )
        })
        .collect()
}

fn wanted() -> impl Strategy<Value = Wanted> {
    let reach = (1.0_f64..30.0, prop::option::of(1.0_f64..30.0));
    (0..4_usize, 0.3_f64..12.0, 0..3_usize, reach, any::<bool>()).prop_map(
        |(kind, length, group, (to_start, to_end), along)| Wanted {
            group,
            to_start: Some(to_start),
            to_end,
            along,
            ..Wanted::new("run", &strips()[kind], length)
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn what_was_chosen_breaks_no_rule(
        mut runs in prop::collection::vec(wanted(), 1..5),
        around in around(),
    ) {
        for (index, run) in runs.iter_mut().enumerate() {
            run.name = format!("run-{index}");
        }
        let project = placed(project(&runs), &around);
        prop_assert_eq!(broken(&project), Vec::<String>::new());
    }
}

#[test]
fn every_excuse_is_for_a_rule_that_there_is() {
    for (id, reason) in GIVEN {
        assert!(feedpoint::judge::rule(id).is_some(), "{id} is no rule");
        assert!(!reason.is_empty());
    }
}

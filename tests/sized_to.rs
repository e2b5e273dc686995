//! What is a run sized to: its own limits and the project's, tightened by the rules of the house and
//! never loosened by them?

use crate::invented::{Wanted, project, strip};

use feedpoint::choose::ChooseError;
use feedpoint::choose::cable_place::is_unsuited;
use feedpoint::choose::limits::of_run;
use feedpoint::diagnostic::Place;
use feedpoint::model::house_rule::{HouseRule, Measure, Only};
use feedpoint::model::limits::Limits;
use feedpoint::model::project::Severity;
use feedpoint::model::wiring::Exposure;
use feedpoint::norms::limit::{Bound, Source};
use feedpoint::quantity::{Ratio, Temperature};
use feedpoint::solve::cable::hottest;
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::degree_celsius;

fn rule(measure: Measure, bound: Bound, value: f64) -> HouseRule {
    HouseRule {
        id: "own".to_owned(),
        measure,
        bound,
        value,
        only: Only::default(),
        severity: Severity::Caution,
        because: None,
        loosens: None,
        place: Place {
            file: "project.yaml".into(),
            line: 1,
            column: 1,
        },
    }
}

/// The limits of a run under one rule of the house.
fn under(rule: HouseRule) -> Limits {
    let mut project = project(&[Wanted::new("line", &strip("line", 24.0, &[10.0]), 4.0)]);
    project.house_rules = vec![rule];
    of_run(&project, &project.runs[0])
}

/// The usual limits of the region: 10 % light drop and so 90 % evenness, 3 steps, 85 % load (common
/// practice, no source), 5 % feed drop (IEC 60364-7-715, from memory).
#[test]
fn a_rule_of_the_house_tightens_a_limit_and_never_loosens_it() {
    let share = |limit: &feedpoint::norms::limit::Limit<Ratio>| {
        let own = limit.source == Source::Project;
        ((limit.value.get::<percent>() * 1e6).round() / 1e6, own)
    };
    let most = |measure, value| under(rule(measure, Bound::AtMost, value));
    let least = |measure, value| under(rule(measure, Bound::AtLeast, value));
    for (value, expected) in [(5.0, (5.0, true)), (20.0, (10.0, false))] {
        assert_eq!(share(&most(Measure::LightDrop, value).light_drop), expected);
    }
    for (value, expected) in [(95.0, (95.0, true)), (80.0, (90.0, false))] {
        assert_eq!(
            share(&least(Measure::LightEvenness, value).evenness),
            expected
        );
    }
    for (value, expected) in [(2.0, (2.0, true)), (8.0, (5.0, false))] {
        assert_eq!(share(&most(Measure::FeedDrop, value).feed_drop), expected);
    }
    for (value, expected) in [(70.0, (70.0, true)), (95.0, (85.0, false))] {
        assert_eq!(
            share(&most(Measure::DriverLoad, value).driver_load),
            expected
        );
    }
    for (value, expected) in [(2.0, (2.0, true)), (3.0, (3.0, false)), (4.0, (3.0, false))] {
        let limit = most(Measure::ColourShift, value).colour_shift;
        assert_eq!((limit.value, limit.source == Source::Project), expected);
    }
    // The side that is allowed is the limit's own.
    assert_eq!(
        share(&least(Measure::LightDrop, 5.0).light_drop),
        (10.0, false)
    );
    assert_eq!(
        share(&most(Measure::LightEvenness, 95.0).evenness),
        (90.0, false)
    );
}

#[test]
fn a_rule_that_is_about_another_run_or_loosens_changes_nothing() {
    let tight = rule(Measure::FeedDrop, Bound::AtMost, 2.0);
    let elsewhere = HouseRule {
        only: Only {
            room: Some("stair".to_owned()),
            ..Only::default()
        },
        ..tight.clone()
    };
    let loosens = HouseRule {
        loosens: Some("feed-voltage-drop"),
        ..tight.clone()
    };
    let feed_drop = |rule| under(rule).feed_drop.value.get::<percent>();
    assert!((feed_drop(tight) - 2.0).abs() < 1e-9);
    assert!((feed_drop(elsewhere) - 5.0).abs() < 1e-9);
    assert!((feed_drop(loosens) - 5.0).abs() < 1e-9);
}

/// Two whites have a plus in common and a return each.
#[test]
fn without_a_cable_of_enough_cores_it_is_said_how_many_are_wanted() {
    let with_two_cores = |powers: &[f64]| {
        let strip = strip("strip", 24.0, powers);
        let mut project = project(&[Wanted::new("cove", &strip, 4.0)]);
        project.catalogue.cables.retain(|cable| cable.cores == 2);
        feedpoint::choose::size(&project)
    };
    let errors = with_two_cores(&[9.6, 9.6]).expect_err("no cable has three cores");
    assert!(
        matches!(&errors[..], [ChooseError::NoCable { run, cores: 3, .. }] if run == "cove"),
        "{errors:?}"
    );
    assert!(with_two_cores(&[9.6]).is_ok());
}

/// A wiring system suits the highest ambient and the water that it is exposed to (IEC 60364-5-52,
/// 522.1 and 522.3, from memory); what a catalogue does not say is not known to be wrong.
#[test]
fn a_cable_is_known_not_to_suit_where_its_place_is_wetter_or_hotter_than_it_stands() {
    let project = project(&[Wanted::new("line", &strip("line", 24.0, &[10.0]), 4.0)]);
    let (mut run, mut cupboard) = (
        project.runs[0].as_ref().clone(),
        project.site.points[0].as_ref().clone(),
    );
    let mut cable = project.catalogue.cables[0].as_ref().clone();
    run.ambient = None;
    std::sync::Arc::make_mut(&mut run.room).ambient = None;
    cupboard.ambient = None;
    for (wet, suits, unsuited) in [
        (false, Some(Vec::new()), false),
        (true, Some(Vec::new()), true),
        (true, Some(vec![Exposure::Sun]), true),
        (true, Some(vec![Exposure::Wet]), false),
        (true, None, false),
    ] {
        run.wet = wet;
        cable.marking.suits = suits.clone();
        assert_eq!(
            is_unsuited(&run, &cupboard, &cable),
            unsuited,
            "{wet} {suits:?}"
        );
    }
    cable.marking.suits = None;
    let stands = hottest(cable.insulation).get::<degree_celsius>();
    for (celsius, unsuited) in [(stands - 1.0, false), (stands, false), (stands + 1.0, true)] {
        let ambient = Some(Temperature::new::<degree_celsius>(celsius));
        cupboard.ambient = ambient;
        assert_eq!(
            is_unsuited(&run, &cupboard, &cable),
            unsuited,
            "{celsius} in the cupboard"
        );
        cupboard.ambient = None;
        run.ambient = ambient;
        assert_eq!(
            is_unsuited(&run, &cupboard, &cable),
            unsuited,
            "{celsius} at the run"
        );
        run.ambient = None;
    }
}

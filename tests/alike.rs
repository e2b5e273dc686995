//! Runs that are fed alike are worked out once, and a project that differs from a known one only
//! where it differs: does that ever change an answer?

use crate::made::scale;
use feedpoint::choose::{Known, size, size_beside};
use feedpoint::load;
use feedpoint::model::alternate::Alteration;
use feedpoint::model::offer::ItemKind;
use feedpoint::model::project::Project;
use feedpoint::model::strip::RailsKnown;
use feedpoint::quantity::{Length, Ratio, ResistancePerLength, Temperature};
use rust_decimal::Decimal;
use std::path::Path;
use std::sync::Arc;
use uom::si::length::meter;
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::degree_celsius;

fn demo() -> Project {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = root.join("catalogue-examples/millrace-library.yaml");
    let text = std::fs::read_to_string(&path).expect("the demo");
    project(&text)
}

fn project(text: &str) -> Project {
    let base = Path::new("catalogue-examples");
    let loaded = load::project_from_text("project.yaml", text, base);
    loaded.unwrap_or_else(|told| panic!("{told}")).project
}

/// Ways to differ: each touches other things that feeding a run depends on.
fn alterations(project: &Project) -> Vec<Alteration> {
    let run = &project.runs[project.runs.len() / 2];
    let strip = run.strip.offer.id.clone();
    let ohms = ResistancePerLength {
        value: 0.05,
        ..ResistancePerLength::default()
    };
    let mut limits = project.limits.clone();
    limits.light_drop.value *= 1.7;
    vec![
        Alteration::Rails(
            strip.clone(),
            RailsKnown::Resistance {
                common: ohms,
                returns: vec![ohms; run.strip.channels.count()],
            },
        ),
        Alteration::LightStarts(strip, Ratio::new::<percent>(75.0)),
        Alteration::Ambient(cupboard(project), Temperature::new::<degree_celsius>(48.0)),
        Alteration::Dearer(ItemKind::Driver, Decimal::from(30)),
        Alteration::Dearer(ItemKind::Accessory, Decimal::from(80)),
        Alteration::CableWaste(Decimal::from(9)),
        Alteration::Longer(Ratio::new::<percent>(20.0)),
        Alteration::UpstreamDrop(Ratio::new::<percent>(1.5)),
        Alteration::WithoutItem(project.catalogue.cables[0].offer.id.clone()),
        Alteration::WithoutItem(project.catalogue.drivers[0].offer.id.clone()),
        Alteration::Limits(Box::new(limits)),
        Alteration::WithoutRoom(run.room.name.clone()),
    ]
}

/// A cupboard with drivers in it.
fn cupboard(project: &Project) -> String {
    let sizing = size(project).expect("sizes");
    sizing.drivers[0].cupboard.name.clone()
}

#[test]
fn beside_a_known_project_nothing_comes_out_otherwise() {
    for project in [demo(), project(&scale::project(40, 5))] {
        let sizing = size(&project).expect("sizes");
        let known = Known::of(&project, &sizing);
        for alteration in alterations(&project) {
            let altered = project.altered(std::slice::from_ref(&alteration));
            let beside = size_beside(&altered, Some(&known));
            assert_eq!(beside, size(&altered), "{alteration:?}");
        }
    }
}

#[test]
fn what_a_change_does_not_touch_is_not_worked_out_again() {
    let project = demo();
    let sizing = size(&project).expect("sizes");
    let known = Known::of(&project, &sizing);
    let run = &project.runs[0];
    let mut altered = project.clone();
    Arc::make_mut(&mut altered.runs[0]).to_start = Some(Length::new::<meter>(17.0));
    let beside = size_beside(&altered, Some(&known)).expect("sizes");
    assert_eq!(Ok(&beside), size(&altered).as_ref());
    let each = beside.fed.iter().zip(&sizing.fed).zip(&beside.runs);
    for ((now, before), sized) in each {
        let touched = sized.run.name == run.name;
        assert_eq!(Arc::ptr_eq(now, before), !touched, "{}", sized.run.name);
    }
}

/// A project of runs of these groups in one room; each with what it says beside.
fn runs(each: &[(&str, &str)]) -> Project {
    let run = |(number, (group, rest)): (usize, &(&str, &str))| {
        format!(
            "  - {{run: run-{number}, room: stacks, cupboard: cupboard, group: {group}, strip: \
             shelf-24-7, {rest}}}\n"
        )
    };
    let runs: String = each.iter().enumerate().map(run).collect();
    project(&format!(
        "format: 1\nproject: {{title: Runs}}\nregion: iec\ncatalogues: [trade.yaml]\n\
         pricing: {{labour_rate: 42.00}}\n\
         points:\n  - {{point: panel, kind: panel}}\n  - {{point: cupboard, kind: cupboard}}\n  \
         - {{point: stacks, kind: room}}\n\
         routes:\n  - {{from: panel, to: cupboard, length: 4 m}}\n  \
         - {{from: cupboard, to: stacks, length: 4 m}}\n\
         groups:\n  - {{group: aisles}}\n  - {{group: ends}}\nruns:\n{runs}"
    ))
}

const REST: &str = "length: 6 m, to_start: 5 m, to_end: 11 m";

/// Runs that say the same share one answer; the least difference parts them.
#[test]
fn only_runs_that_are_alike_share_an_answer() {
    let shared = |second: &str| {
        let project = runs(&[("aisles", REST), ("aisles", second)]);
        let fed = size(&project).expect("sizes").fed;
        Arc::ptr_eq(&fed[0], &fed[1])
    };
    assert!(shared(REST));
    for second in [
        "length: 6.1 m, to_start: 5 m, to_end: 11 m",
        "length: 6 m, to_start: 5.1 m, to_end: 11 m",
        "length: 6 m, to_start: 5 m, to_end: 11.1 m",
        "length: 6 m, to_start: 5 m, to_end: 11 m, reach_along: yes",
        "length: 6 m, to_start: 5 m, to_end: 11 m, feed: both ends",
        "length: 6 m, to_start: 5 m, to_end: 11 m, ambient: 40 °C",
        "length: 6 m, to_start: 5 m, to_end: 11 m, wet: yes",
        "length: 6 m, to_start: 5 m, to_end: 11 m, cable: feed-2x4",
        "length: 6 m, to_start: 5 m, to_end: 11 m, driver: single-24-200",
        "length: 6 m, to_start: 5 m, to_end: 11 m, profile: shelf-9",
        "length: 6 m, to_start: 5 m, to_end: 11 m, accessible: yes",
        "length: 6 m, to_start: 5 m, to_end: 11 m, in_insulation: 2 m",
        "length: 6 m, to_start: 5 m, to_end: 11 m, exposed_to: sun",
        "length: 6 m, to_start: 5 m, to_end: 11 m, bends: [{radius: 60 mm}]",
        "length: 6 m, to_start: 5 m, to_end: 11 m, view: aisle",
        "length: 6 m, to_start: 5 m, to_end: 11 m, bin: A7",
        "length: 6 m, to_start: 5 m, to_end: 11 m, limits: {light_drop: 5 %}",
    ] {
        assert!(!shared(second), "{second}");
    }
}

/// Two runs that say the same, the second with its drivers to itself: it is fed at what these cost it,
/// the first at its share of them.
#[test]
fn a_run_that_has_its_drivers_to_itself_shares_no_answer() {
    let shared = |groups: [&str; 3]| {
        let fed = size(&runs(&groups.map(|group| (group, REST))))
            .expect("sizes")
            .fed;
        [(0, 1), (0, 2)].map(|(a, b)| Arc::ptr_eq(&fed[a], &fed[b]))
    };
    assert_eq!(shared(["aisles", "aisles", "aisles"]), [true, true]);
    assert_eq!(shared(["aisles", "aisles", "ends"]), [true, false]);
}

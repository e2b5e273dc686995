//! What sizing promises, on invented runs: what it chose keeps every limit, no other option does it
//! for less, and every section hangs on a driver output that can carry it.

use crate::invented;
use crate::made::cases::cases;

use feedpoint::choose::feeding::Feeding;
use feedpoint::choose::field::Field;
use feedpoint::choose::limits::{self, Checked};
use feedpoint::choose::shift::Whites;
use feedpoint::choose::sized::{SizedRun, Sizing};
use feedpoint::choose::trial;
use feedpoint::choose::{limits_table, remedy, size, try_feed};
use feedpoint::judge::rule::Evidence;
use feedpoint::judge::verdict::Outcome;
use feedpoint::model::Choice;
use feedpoint::model::house_rule::{HouseRule, Measure, Only};
use feedpoint::model::project::{Project, Severity};
use feedpoint::model::run::FeedWish;
use feedpoint::model::strip::Strip;
use feedpoint::norms::limit::Bound;
use feedpoint::quantity::{Current, Power, Ratio};
use feedpoint::solve::strip_model::StripModel;
use invented::{Wanted, project, strip};
use proptest::prelude::*;
use rust_decimal::Decimal;
use std::sync::Arc;
use uom::si::power::watt;
use uom::si::ratio::percent;

fn strips() -> [Arc<Strip>; 4] {
    [
        strip("pair-19", 24.0, &[9.6, 9.6]),
        strip("pair-10", 24.0, &[4.8, 4.8]),
        strip("shelf", 24.0, &[7.2]),
        strip("work", 24.0, &[14.4]),
    ]
}

/// Every limit that sizing knows, asked again of its own results.
fn broken(project: &Project, sizing: &Sizing) -> Vec<String> {
    let mut broken = Vec::new();
    for run in sizing.runs.iter().filter(|run| run.unmet.is_none()) {
        let checks = checks(project, sizing, run);
        let misses = checks.iter().filter(|checked| !checked.keeps);
        broken.extend(misses.map(|c| format!("{}: {} {}", run.run.name, c.what, c.by())));
    }
    broken
}

fn checks(project: &Project, sizing: &Sizing, run: &SizedRun) -> Vec<Checked> {
    let own = limits::of_run(project, &run.run);
    let figures = &run.figures;
    let mut checks = vec![
        limits::light_drop(&own, figures.light_least),
        limits::evenness(&own, figures.evenness),
        limits::feed_drop(&own, figures.feed_drop_share),
        limits::dark_segments(figures.dark_segments),
    ];
    checks.extend(
        figures
            .colour_shift
            .map(|steps| limits::colour_shift(&own, steps)),
    );
    for section in &run.sections {
        let driver = sizing
            .drivers
            .iter()
            .find(|driver| driver.number == section.driver);
        let driver = driver.expect("a run that keeps its limits has its drivers");
        let ambient = driver.cupboard.ambient;
        checks.push(limits::driver_load(
            &own,
            &driver.item,
            ambient,
            driver.load,
        ));
        checks.extend(limits::terminal(&driver.item, &section.cable));
        let output = driver
            .outputs
            .iter()
            .find(|output| output.output == section.output);
        for current in &output.expect("the output is listed").channel_currents {
            checks.extend(limits::output_current(&driver.item, *current));
        }
        for feed in &section.feeds {
            checks.extend(limits::feed_current(&run.run.strip, feed.current));
            checks.extend(limits::connector_current(project, &run.run, feed.current));
        }
    }
    for cable in sizing
        .cables
        .iter()
        .filter(|cable| cable.run == run.run.name)
    {
        let ampacity = cable.ampacity.expect("the tables have these sizes");
        let source = feedpoint::norms::limit::Source::Datasheet;
        let region = project.region;
        checks.push(limits::cable_current(
            region,
            cable.current,
            (ampacity, source),
        ));
    }
    checks
}

/// What is wrong with the list of drivers.
fn misplaced(sizing: &Sizing) -> Vec<String> {
    let mut wrong = Vec::new();
    for driver in &sizing.drivers {
        let mut load = Power::default();
        for output in &driver.outputs {
            let mut current = Current::default();
            for (name, place) in &output.sections {
                let run = sizing
                    .runs
                    .iter()
                    .find(|run| run.run.name == *name)
                    .expect("listed");
                let section = &run.sections[place - 1];
                if (section.driver.as_str(), section.output) != (&driver.number, output.output) {
                    wrong.push(format!("{name} is listed on {}", driver.number));
                }
                if run.run.group != driver.group || run.cupboard != driver.cupboard {
                    wrong.push(format!("{name} is not of the group of {}", driver.number));
                }
                load += section.power;
                current += section.channel_currents[0];
            }
            if (current - output.channel_currents[0]).abs().value > 1e-9 {
                wrong.push(format!("{}: current is not the sum", driver.number));
            }
        }
        if (load - driver.load).abs() > Power::new::<watt>(1e-9) {
            wrong.push(format!("{}: load is not the sum", driver.number));
        }
    }
    let listed: usize = sizing
        .drivers
        .iter()
        .flat_map(|driver| &driver.outputs)
        .map(|output| output.sections.len())
        .sum();
    let sections: usize = sizing.runs.iter().map(|run| run.sections.len()).sum();
    if listed != sections {
        wrong.push(format!("{listed} sections on drivers, {sections} in runs"));
    }
    wrong
}

/// What the rules on runs, drivers and feed cables find broken, of runs that keep their limits. A
/// run may be too short for any segment to end where it should, or for the smallest driver; its profile
/// is given, not chosen.
fn judged_broken(project: &Project, sizing: &Sizing) -> Vec<String> {
    let allocation = feedpoint::allocate::allocate(project, sizing);
    let quote = feedpoint::price::price(project, sizing, &allocation);
    let verdicts = feedpoint::judge::judge(&Evidence {
        project,
        sizing,
        allocation: &allocation,
        quote: &quote,
    });
    let unmet: Vec<&SizedRun> = sizing
        .runs
        .iter()
        .filter(|run| run.unmet.is_some())
        .collect();
    let excused = |subject: &str| {
        unmet.iter().any(|run| {
            let drivers = run
                .sections
                .iter()
                .map(|section| format!("driver {}", section.driver));
            let cables = sizing
                .cables
                .iter()
                .filter(|cable| cable.run == run.run.name);
            let cables = cables.map(|cable| format!("feed cable {}", cable.number));
            drivers.chain(cables).any(|name| subject.starts_with(&name))
                || subject == format!("run {}", run.run.name)
        })
    };
    let kinds = ["run ", "driver ", "feed cable "];
    verdicts
        .iter()
        .filter(|verdict| verdict.outcome == Outcome::Broken)
        .filter(|verdict| {
            !["end-gap", "driver-least-load", "profile-heat"].contains(&&*verdict.rule)
        })
        .filter(|verdict| kinds.iter().any(|kind| verdict.subject.starts_with(kind)))
        .filter(|verdict| !excused(&verdict.subject))
        .map(|v| format!("{}: {} {:?} {:?}", v.rule, v.subject, v.found, v.limit))
        .collect()
}

fn wanted() -> impl Strategy<Value = Wanted> {
    let reach = (1.0_f64..30.0, prop::option::of(1.0_f64..30.0));
    (0..4_usize, 0.3_f64..16.0, 0..3_usize, reach, any::<bool>()).prop_map(
        |(kind, length, group, (to_start, to_end), along)| Wanted {
            group,
            to_start: Some(to_start),
            to_end,
            along,
            ..Wanted::new("run", &strips()[kind], length)
        },
    )
}

fn named(mut runs: Vec<Wanted>) -> Vec<Wanted> {
    for (index, run) in runs.iter_mut().enumerate() {
        run.name = format!("run-{index}");
    }
    runs
}

proptest! {
    #![proptest_config(cases(12))]
    #[test]
    fn what_was_chosen_keeps_every_limit(runs in prop::collection::vec(wanted(), 1..6)) {
        let project = project(&named(runs));
        let sizing = size(&project).expect("every run can be laid out");
        prop_assert_eq!(broken(&project, &sizing), Vec::<String>::new());
        prop_assert_eq!(misplaced(&sizing), Vec::<String>::new());
        prop_assert_eq!(judged_broken(&project, &sizing), Vec::<String>::new());
        let feeds: usize = sizing.runs.iter().flat_map(|run| &run.sections).map(|s| s.feeds.len()).sum();
        prop_assert_eq!(sizing.cables.len(), feeds);
        prop_assert_eq!(size(&project).expect("the same again"), sizing);
    }

    #[test]
    fn no_option_that_keeps_the_limits_costs_less(run in wanted()) {
        let run = Wanted { length: run.length.min(5.0), ..run };
        let project = project(&[run]);
        let sizing = size(&project).expect("the run can be laid out");
        let sized = &sizing.runs[0];
        let run = &project.runs[0];
        let model = Arc::new(StripModel::of(&run.strip).expect("a consistent strip"));
        let strip = (model, Whites::of(&run.strip), Arc::default());
        let cupboard = Arc::clone(&sized.cupboard);
        let feeding = Feeding::new(&project, run, cupboard, (true, true), strip).expect("laid out");
        let field = Field::new(&feeding);
        let mut least: Option<Decimal> = None;
        for way in 0..field.ways.len() {
            for cable in 0..feeding.cables.len() {
                for &sharing in &field.sharings {
                    let candidate = field.candidate(way, cable, sharing).expect("listed");
                    let attempt = field.attempt(&candidate).expect("listed");
                    let trial = trial::whole(&feeding, attempt);
                    let cost = field.cost(&candidate, &trial.sections);
                    if let (None, Some(cost)) = (trial.broken(), cost) {
                        prop_assert!(candidate.floor.expect("priced") <= cost);
                        least = Some(least.map_or(cost, |least| least.min(cost)));
                    }
                }
            }
        }
        prop_assert!(sized.unmet.is_none() || least.is_none());
        // Feeds that are not evenly spaced may do for less.
        if let Some(least) = least {
            prop_assert!(sized.reasons.cost.expect("priced") <= least);
        }
    }
}

#[test]
fn a_run_of_sixty_metres_gets_an_answer() {
    let project = project(&[Wanted::new("long", &strips()[0], 60.0)]);
    let sizing = size(&project).expect("the run can be laid out");
    assert_eq!(sizing.runs[0].unmet, None);
    assert_eq!(broken(&project, &sizing), Vec::<String>::new());
}

#[test]
fn what_was_asked_for_is_kept_and_a_remedy_found() {
    let asked = Wanted {
        feed: FeedWish::Start,
        ..Wanted::new("cove", &strips()[0], 9.2)
    };
    let mut project = project(&[asked]);
    let run = Arc::make_mut(&mut project.runs[0]);
    run.cable = Choice::Given(Arc::clone(&project.catalogue.cables[5]));
    run.driver = Choice::Given(Arc::clone(&project.catalogue.drivers[2]));
    let sizing = size(&project).expect("the run can be laid out");
    let sized = &sizing.runs[0];
    assert_eq!(sized.reasons.arrangement, "start");
    assert_eq!(sized.sections[0].cable.offer.id, "feed-3x4");
    assert_eq!(sizing.drivers[0].item.offer.id, "pair-240");
    assert_eq!(
        sized.unmet, None,
        "what was asked for is judged, not excused"
    );
    let own = limits::of_run(&project, &sized.run);
    assert!(!limits::light_drop(&own, sized.figures.light_least).keeps);
    let remedy = remedy(&project, sized).expect("another feed keeps the limits");
    assert!(remedy.limit.keeps);
    let difference = remedy.cost_difference.expect("all is priced");
    let tried = try_feed(&project, "cove", FeedWish::Auto)
        .expect("laid out")
        .expect("there");
    assert!(
        difference <= tried.reasons.cost.expect("priced") - sized.reasons.cost.expect("priced")
    );
}

#[test]
fn without_prices_the_fewest_outputs_and_feeds_are_taken() {
    let mut project = project(&[Wanted::new("cove", &strips()[0], 9.2)]);
    for cable in &mut project.catalogue.cables {
        Arc::make_mut(cable).offer.prices.clear();
    }
    let sizing = size(&project).expect("the run can be laid out");
    assert_eq!(sizing.runs[0].reasons.cost, None);
    assert_eq!(sizing.runs[0].sections.len(), 1);
    assert_eq!(broken(&project, &sizing), Vec::<String>::new());
}

#[test]
fn a_rule_of_the_house_tightens_what_is_chosen() {
    let mut project = project(&[Wanted::new("cove", &strips()[3], 7.5)]);
    let loose = size(&project).expect("laid out");
    let share = |sizing: &Sizing| sizing.runs[0].figures.feed_drop_share.get::<percent>();
    let rule = HouseRule {
        id: "house-feed-drop".to_owned(),
        measure: Measure::FeedDrop,
        bound: Bound::AtMost,
        value: share(&loose) * 0.8,
        only: Only::default(),
        severity: Severity::Caution,
        because: None,
        loosens: None,
        place: project.runs[0].place.clone(),
    };
    let value = rule.value;
    project.house_rules.push(rule);
    let tight = size(&project).expect("laid out");
    assert!(tight.runs[0].unmet.is_none() && share(&tight) <= value);
    assert!(tight.runs[0].reasons.cost >= loose.runs[0].reasons.cost);
}

#[test]
fn a_tighter_limit_never_costs_less() {
    let project = project(&[Wanted::new("cove", &strips()[0], 12.0)]);
    let drops = [20.0, 15.0, 10.0, 7.0, 5.0].map(Ratio::new::<percent>);
    let rows = limits_table(&project, "cove", &drops)
        .expect("laid out")
        .expect("there");
    let costs: Vec<Decimal> = rows.iter().filter_map(|row| row.cost).collect();
    assert_eq!(costs.len(), drops.len());
    assert!(costs.windows(2).all(|pair| pair[0] <= pair[1]), "{costs:?}");
    assert!(
        rows.iter()
            .all(|row| row.unmet.is_some() || row.light_drop <= row.limit)
    );
}

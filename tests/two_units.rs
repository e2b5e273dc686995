//! Do two single-channel units stand in for a two-channel driver where that costs less, and only
//! where sheet, region and addresses allow it; and does every list say which is meant?

use feedpoint::allocate::allocated::Allocation;
use feedpoint::choose::sized::Sizing;
use feedpoint::judge::rule::Evidence;
use feedpoint::judge::verdict::{Outcome, Verdict};
use feedpoint::model::Choice;
use feedpoint::model::driver::GearType;
use feedpoint::model::project::{Project, Severity};
use feedpoint::quantity::Ratio;
use feedpoint::solve::strip::{Lit, solve};
use feedpoint::{allocate, choose, judge, load, price};
use rust_decimal::Decimal;
use std::path::Path;
use std::sync::Arc;
use uom::si::electric_current::ampere;
use uom::si::power::watt;
use uom::si::ratio::percent;

const PROJECT: &str = "
format: 1
project: {title: Map room, date: 2026-11-20}
region: iec
catalogues: [two-units.yaml]
points:
  - {point: panel, kind: panel}
  - {point: cupboard-a, kind: cupboard, ambient: 30 °C}
  - {point: maps, kind: room}
routes:
  - {from: panel, to: cupboard-a, length: 10 m}
  - {from: cupboard-a, to: maps, length: 8 m}
runs:
  - {run: cove-1, room: maps, strip: pair-10, length: 4.2 m, group: cove, to_start: 5 m, to_end: 9 m}
  - {run: cove-2, room: maps, strip: pair-10, length: 3.2 m, group: cove, to_start: 6 m, to_end: 9 m}
pricing: {margin: 20 %}
";

fn project(text: &str) -> Project {
    let loaded = load::project_from_text("maps.yaml", text, Path::new("tests/data"))
        .unwrap_or_else(|complaints| panic!("{}", complaints.texts(false).join("\n")));
    loaded.project
}

struct Job {
    project: Project,
    sizing: Sizing,
    allocation: Allocation,
}

impl Job {
    fn of(text: &str) -> Job {
        let project = project(text);
        let sizing = choose::size(&project).expect("it can be laid out");
        Job {
            allocation: allocate::allocate(&project, &sizing),
            project,
            sizing,
        }
    }

    fn drivers(&self) -> Vec<&str> {
        let drivers = self.sizing.drivers.iter();
        drivers.map(|it| it.item.offer.id.as_str()).collect()
    }

    fn verdicts(&self, rule: &str) -> Vec<Verdict> {
        let quote = price::price(&self.project, &self.sizing, &self.allocation);
        let evidence = Evidence {
            project: &self.project,
            sizing: &self.sizing,
            allocation: &self.allocation,
            quote: &quote,
        };
        let all = judge::judge(&evidence).into_iter();
        all.filter(|verdict| verdict.rule == rule).collect()
    }

    fn all(&self, rule: &str, outcome: &str) -> bool {
        let verdicts = self.verdicts(rule);
        !verdicts.is_empty() && verdicts.iter().all(|it| it.outcome.name() == outcome)
    }
}

/// Two addresses of a two-channel driver stand in for gear for colour temperature; two units compete
/// with it and don't rule it out.
#[test]
fn a_driver_of_two_addresses_is_taken_where_it_costs_less_than_two_units() {
    let with_price = |price: i64| {
        let mut project = project(PROJECT);
        for driver in &mut project.catalogue.drivers {
            let driver = Arc::make_mut(driver);
            if driver.output.channels == 2 {
                let bus = driver.bus.as_mut().expect("a bus");
                (bus.gear, bus.addresses) = (GearType::Single, 2);
                driver.offer.prices[0].price = Decimal::from(price);
            }
        }
        let sizing = choose::size(&project).expect("it can be laid out");
        let drivers = sizing.drivers.iter();
        drivers
            .map(|it| it.item.offer.id.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(with_price(39), ["two-channel"]);
    assert_eq!(with_price(41), ["one-channel", "one-channel"]);
}

/// Without prices least copper decides: 5 m and 6 m of cable to the starts, 9 m to the ends; the other
/// way round it is the ends.
#[test]
fn without_prices_each_run_is_fed_at_its_nearer_end() {
    let fed = |text: &str| {
        let mut project = project(text);
        for cable in &mut project.catalogue.cables {
            Arc::make_mut(cable).offer.prices = Vec::new();
        }
        let sizing = choose::size(&project).expect("it can be laid out");
        let runs = sizing.runs.into_iter();
        runs.map(|sized| sized.reasons.arrangement)
            .collect::<Vec<_>>()
    };
    assert_eq!(fed(PROJECT), ["start", "start"]);
    let turned = PROJECT
        .replace("to_start", "to_other")
        .replace("to_end", "to_start")
        .replace("to_other", "to_end");
    assert_eq!(fed(&turned), ["end", "end"]);
}

/// A driver that must be loaded with more than any run here loads it.
#[test]
fn runs_that_load_a_chosen_driver_too_little_are_told_so() {
    let mut project = project(PROJECT);
    for driver in &mut project.catalogue.drivers {
        Arc::make_mut(driver).least_load = Some(Ratio::new::<percent>(84.0));
    }
    let told = |project: &Project| -> Vec<Option<String>> {
        let sizing = choose::size(project).expect("it can be laid out");
        let told = sizing.runs.iter().map(|sized| sized.unmet.as_ref());
        told.map(|unmet| unmet.map(|unmet| unmet.what())).collect()
    };
    for told in told(&project) {
        let told = told.expect("it is told");
        assert!(told.starts_with("least load of its driver "), "{told}");
        assert!(told.ends_with("% (least 84.0 %)"), "{told}");
    }
    // What was asked for is left to the checks.
    let asked = project.catalogue.drivers.iter();
    let asked = asked.clone().find(|it| it.output.channels == 2).cloned();
    for run in &mut project.runs {
        let driver = Arc::clone(asked.as_ref().expect("a driver"));
        Arc::make_mut(run).driver = Choice::Given(driver);
    }
    assert!(told(&project).iter().all(Option::is_none));
}

#[test]
fn two_units_are_chosen_where_they_cost_less_and_are_said_to_be_two() {
    let job = Job::of(PROJECT);
    assert_eq!(job.drivers(), ["one-channel", "one-channel"]);
    let [warm, cool] = job.sizing.drivers.as_slice() else {
        panic!("two drivers")
    };
    for (driver, channel, other) in [(warm, 0, "D-02"), (cool, 1, "D-01")] {
        let half = driver.half.as_ref().expect("one of two");
        assert_eq!((half.channel, half.other.as_str()), (channel, other));
        assert_eq!(driver.outputs[0].channel_currents.len(), 1);
    }
    for run in &job.sizing.runs {
        assert_eq!(run.sections[0].fed_by(), "D-01 + D-02");
    }
    for cable in &job.sizing.cables {
        assert_eq!(cable.from(), "D-01 + D-02");
    }
    // Of the two together each section asks what it takes with both whites on.
    for run in &job.sizing.runs {
        let section = &run.sections[0];
        let both = solve(&section.ladder, Lit::Both).expect("a working point");
        let watts = 24.0 * both.source_current.get::<ampere>();
        assert!((section.power.get::<watt>() - watts).abs() < 1e-9 && watts > 0.0);
    }
    // Each carries one white of both runs: 24 V times the sum of its currents.
    let current: f64 = job
        .sizing
        .runs
        .iter()
        .map(|run| run.sections[0].channel_currents[0].get::<ampere>())
        .sum();
    assert!((warm.load.get::<watt>() - 24.0 * current).abs() < 1e-9);
    let gear = job.allocation.loops[0].members.iter();
    assert_eq!(gear.map(|member| member.addresses.len()).sum::<usize>(), 2);
    let said = job.sizing.assumptions.iter();
    assert!(
        said.map(|it| &it.subject)
            .any(|it| it == "drivers D-01 and D-02")
    );
    let quote = price::price(&job.project, &job.sizing, &job.allocation);
    let verdicts = judge::judge(&Evidence {
        project: &job.project,
        sizing: &job.sizing,
        allocation: &job.allocation,
        quote: &quote,
    });
    let broken: Vec<&Verdict> = verdicts
        .iter()
        .filter(|it| it.outcome == Outcome::Broken && it.severity != Severity::Note)
        .collect();
    assert!(broken.is_empty(), "{broken:?}");
    for rule in [
        "driver-channel-count",
        "outputs-not-paralleled",
        "driver-channel-current",
        "driver-load-share",
        "cable-termination",
        "cable-overload-protected",
    ] {
        assert!(job.all(rule, "holds"), "{rule}: {:?}", job.verdicts(rule));
    }
}

#[test]
fn one_driver_stays_where_it_costs_no_more() {
    let asked = "to_start: 6 m, to_end: 9 m, driver: two-channel}";
    let job = Job::of(&PROJECT.replace("to_start: 6 m, to_end: 9 m}", asked));
    assert_eq!(job.sizing.runs[1].sections[0].fed_by().len(), "D-01".len());
}

#[test]
fn pluses_are_not_joined_for_class_2() {
    // NEC 725.121 (from memory): the outputs of Class 2 supplies are not joined.
    let job = Job::of(&PROJECT.replace("region: iec", "region: north-america"));
    assert!(
        job.sizing
            .drivers
            .iter()
            .all(|driver| driver.half.is_none())
    );
}

#[test]
fn a_single_channel_unit_that_is_asked_for_comes_twice() {
    let asked = PROJECT.replace("group: cove,", "group: cove, driver: one-channel-apart,");
    let job = Job::of(&asked);
    assert_eq!(job.drivers(), ["one-channel-apart", "one-channel-apart"]);
    // Its sheet does not say whether the pluses may be joined.
    assert!(job.all("outputs-not-paralleled", "cannot tell"));
    let class_2 = Job::of(&asked.replace("region: iec", "region: north-america"));
    let told = class_2.verdicts("driver-class2");
    assert!(told.iter().all(|verdict| verdict.outcome != Outcome::Holds));
}

#[test]
fn two_units_are_not_chosen_where_their_addresses_need_another_loop() {
    // 28 groups of their own: 28 addresses fit a loop of 64 less half, 56 do not.
    let many = |spare: &str| {
        let mut text = PROJECT.replace("pricing:", &format!("loops: {{spare: {spare}}}\npricing:"));
        let extra: String = (1..=26)
            .map(|number| {
                format!(
                    "  - {{run: bay-{number}, room: maps, strip: pair-10, length: 2 m, group: bay-{number}, to_start: 5 m}}\n"
                )
            })
            .collect();
        text = text.replace("loops:", &format!("{extra}loops:"));
        text.replace("group: cove, to_start: 6 m", "group: cove-2, to_start: 6 m")
    };
    let roomy = Job::of(&many("0 %"));
    assert!(
        roomy
            .sizing
            .drivers
            .iter()
            .all(|driver| driver.half.is_some())
    );
    let tight = Job::of(&many("50 %"));
    assert!(
        tight
            .sizing
            .drivers
            .iter()
            .all(|driver| driver.half.is_none())
    );
    let said = tight.sizing.assumptions.iter();
    assert!(
        said.map(|it| &it.statement)
            .any(|it| it.contains("2 loops and not 1"))
    );
}

#[test]
fn each_of_two_units_is_judged_by_its_own_white() {
    // 16.8 m of 4.8 W/m in each white: 81 W nominal a white, more than the 60 W of one unit.
    let long = PROJECT
        .replace("length: 4.2 m", "length: 8.4 m")
        .replace("length: 3.2 m", "length: 8.4 m");
    let job = Job::of(&long);
    assert!(
        job.sizing
            .drivers
            .iter()
            .all(|driver| driver.half.is_some())
    );
    for rule in [
        "driver-overload",
        "driver-load-share",
        "driver-channel-current",
    ] {
        assert!(job.all(rule, "holds"), "{rule}: {:?}", job.verdicts(rule));
    }
    let both = job.verdicts("driver-total-power-both-whites");
    assert!(
        both.iter()
            .all(|verdict| verdict.outcome != Outcome::Broken)
    );
}

//! What holds for every quote: what is listed is what is used, sums of lines are totals to the last
//! digit, nothing without a price hides in a total; and a few quotes worked by hand.

use crate::made;
use crate::made::cases::cases;

use feedpoint::allocate::allocate;
use feedpoint::choose::sized::Sizing;
use feedpoint::model::cable::CableUse;
use feedpoint::model::extra::{Accessory, Per};
use feedpoint::model::offer::{ItemKind, PriceStep};
use feedpoint::model::pricing::{Tax, Uplift};
use feedpoint::model::project::Project;
use feedpoint::price::price;
use feedpoint::price::priced::{Line, Measured, PriceFlag, Quote};
use feedpoint::price::strip::set_joints;
use feedpoint::quantity::Time;
use made::{
    cable, decimal, devices, feed_cable, metres, offer, profile, project, site, sized_driver,
    sized_run, sizing, stock, strip,
};
use proptest::prelude::*;
use rust_decimal::Decimal;
use std::sync::Arc;
use time::macros::date;
use uom::si::length::meter;
use uom::si::time::minute;

#[derive(Debug, Clone)]
struct Job {
    /// Segments of each section of each run.
    runs: Vec<Vec<usize>>,
    feeds: Vec<u32>,
    drivers: usize,
    devices: usize,
    rates: [u32; 4],
}

fn jobs() -> impl Strategy<Value = Job> {
    (
        prop::collection::vec(prop::collection::vec(1_usize..380, 1..4), 1..12),
        prop::collection::vec(1_u32..40_000, 1..12),
        1_usize..20,
        0_usize..20,
        [0_u32..2000, 0..1000, 0..4000, 0..1000],
    )
        .prop_map(|(runs, feeds, drivers, devices, rates)| Job {
            runs,
            feeds,
            drivers,
            devices,
            rates,
        })
}

fn made_of(job: &Job) -> (Project, Sizing) {
    let mut project = project(site(1, 1), 1);
    let percent = |hundredths: u32| Decimal::new(i64::from(hundredths), 2);
    project.pricing.overhead = percent(job.rates[0]);
    project.pricing.contingency = percent(job.rates[1]);
    project.pricing.uplift = Some(Uplift::Margin(percent(job.rates[2])));
    project
        .pricing
        .discount
        .insert(ItemKind::Driver, percent(job.rates[3]));
    project
        .pricing
        .spares
        .insert(ItemKind::Driver, decimal("5"));
    project.pricing.spares.insert(ItemKind::Strip, decimal("3"));
    project.pricing.tax = Some(Tax {
        name: "VAT".to_owned(),
        rate: decimal("20"),
        labour: None,
        kinds: std::collections::BTreeMap::new(),
        rounding: feedpoint::model::pricing::TaxRounding::Rate,
    });
    project.devices = vec![devices(&project, "sensor", 2, job.devices)];
    let mut drivers = project.catalogue.drivers.clone();
    let mut item = (*drivers[0]).clone();
    item.offer.labour = Some(Time::new::<minute>(25.0));
    drivers[0] = Arc::new(item);
    project.catalogue.drivers = drivers;
    let strip = Arc::new(strip("strip", &[(5.0, "24.60"), (20.0, "91.00")], true));
    let profile = Arc::new(profile("profile", &[(2.0, "10.40"), (3.0, "14.90")]));
    let drivers = (1..=job.drivers)
        .map(|n| sized_driver(&project, n, 1, &[2], 0))
        .collect();
    let mut sizing = sizing(drivers);
    for (n, sections) in job.runs.iter().enumerate() {
        let run = sized_run(
            &project,
            &format!("run-{n}"),
            &strip,
            Some(&profile),
            sections,
        );
        sizing.runs.push(run);
    }
    let feed = Arc::new(cable("feed-1.5", CableUse::StripFeed, 1.5, "1.12"));
    for (n, millimetres) in job.feeds.iter().enumerate() {
        sizing.cables.push(feed_cable(
            n,
            "run-0",
            &feed,
            f64::from(*millimetres) / 1000.0,
        ));
    }
    set_joints(&mut sizing);
    (project, sizing)
}

fn quoted(project: &Project, sizing: &Sizing) -> Quote {
    price(project, sizing, &allocate(project, sizing))
}

fn lines<'a>(quote: &'a Quote, item: &str) -> Vec<&'a Line> {
    quote
        .lines
        .iter()
        .filter(|line| line.item == item)
        .collect()
}

fn sum(amounts: impl Iterator<Item = Option<Decimal>>) -> Decimal {
    amounts.flatten().sum()
}

/// Sums of lines are totals, and what is bought covers what is needed.
fn check_sums(quote: &Quote) {
    let totals = &quote.totals;
    assert_eq!(sum(quote.lines.iter().map(|l| l.sell)), totals.materials);
    assert_eq!(
        sum(quote.lines.iter().map(|l| l.cost)),
        totals.materials_cost
    );
    assert_eq!(sum(quote.labour.iter().map(|l| l.sell)), totals.labour);
    assert_eq!(
        quote.labour.iter().map(|l| l.hours).sum::<Decimal>(),
        totals.labour_hours
    );
    assert_eq!(totals.materials + totals.labour, totals.net);
    assert_eq!(totals.net + totals.tax, totals.gross);
    let built = totals.materials_cost
        + totals.labour_cost
        + totals.overhead
        + totals.contingency
        + totals.uplift_amount;
    assert_eq!(built, totals.net);
    for line in &quote.lines {
        let scale = |amount: Option<Decimal>| amount.map_or(0, |amount| amount.scale());
        assert!(scale(line.cost) <= 2 && scale(line.sell) <= 2);
        assert_eq!(
            line.sell.is_none(),
            line.flags.contains(&PriceFlag::Missing)
        );
    }
    let items: std::collections::BTreeSet<&String> = quote.lines.iter().map(|l| &l.item).collect();
    for item in items {
        let of = lines(quote, item);
        let from_offcuts =
            |l: &&&Line| l.spare && l.measured == Measured::Metre && l.kind == ItemKind::Strip;
        let of: Vec<&Line> = of.iter().filter(|l| !from_offcuts(l)).copied().collect();
        let left: Decimal = of.iter().map(|l| l.bought - l.needed).sum();
        assert_eq!(left, of.iter().map(|l| l.left_over).sum::<Decimal>());
        assert!(left >= Decimal::ZERO, "{item} is bought short");
    }
}

/// What is cut is what the runs are made of, and what is cut from is what is bought.
fn check_cuts(sizing: &Sizing, quote: &Quote) {
    for sized in &sizing.runs {
        for (number, section) in (1..).zip(&sized.sections) {
            let pieces: Vec<f64> = quote
                .cuts
                .iter()
                .filter(|cut| cut.kind == ItemKind::Strip)
                .flat_map(|cut| &cut.pieces)
                .filter(|piece| piece.run == sized.run.name && piece.section == number)
                .map(|piece| piece.length.get::<meter>())
                .collect();
            assert!((pieces.iter().sum::<f64>() - section.length.get::<meter>()).abs() < 1e-9);
            assert_eq!(pieces.len(), section.joints + 1);
        }
    }
    for cut in &quote.cuts {
        let used: f64 = cut
            .pieces
            .iter()
            .map(|piece| piece.length.get::<meter>())
            .sum();
        assert!(used + cut.offcut.get::<meter>() <= cut.stock.get::<meter>() + 1e-9);
        assert!(cut.offcut.get::<meter>() >= -1e-9);
        assert!(cut.pieces.windows(2).all(|pair| pair[0].to <= pair[1].from));
    }
    for kind in [ItemKind::Strip, ItemKind::Profile] {
        let stock = quote.cuts.iter().filter(|cut| cut.kind == kind).count();
        let of_kind = quote
            .lines
            .iter()
            .filter(|line| line.kind == kind && !line.spare);
        assert_eq!(
            of_kind.map(|line| line.needed).sum::<Decimal>(),
            Decimal::from(stock)
        );
    }
}

proptest! {
    #![proptest_config(cases(30))]

    #[test]
    fn what_is_listed_is_what_is_used_and_lines_add_up(job in jobs()) {
        let (project, sizing) = made_of(&job);
        let quote = quoted(&project, &sizing);
        check_sums(&quote);
        check_cuts(&sizing, &quote);
        prop_assert_eq!(quote.totals.lines_without_price, 0);
        let drivers = lines(&quote, "driver-120");
        prop_assert_eq!(drivers[0].needed, Decimal::from(job.drivers));
        prop_assert!(drivers[1].spare && drivers[1].needed >= Decimal::ONE);
        let feed: u32 = job.feeds.iter().sum();
        let cable = lines(&quote, "feed-1.5");
        prop_assert_eq!(cable[0].needed, Decimal::new(i64::from(feed), 3));
        prop_assert_eq!(cable[0].bought, cable[0].needed.ceil());
        let minutes = Decimal::from(25 * job.drivers);
        let hours = (minutes / Decimal::from(60)).round_dp_with_strategy(2, rust_decimal::RoundingStrategy::MidpointAwayFromZero);
        prop_assert_eq!(quote.totals.labour_hours, hours);
        prop_assert_eq!(quoted(&project, &sizing), quote);
    }
}

/// One run of 90 segments (4.5 m), one driver.
fn small() -> (Project, Sizing) {
    let mut project = project(site(1, 1), 1);
    project.heading.date = Some(date!(2026 - 11 - 20));
    let strip = Arc::new(strip("strip", &[(5.0, "24.60")], false));
    let mut sizing = sizing(vec![sized_driver(&project, 1, 1, &[2], 0)]);
    let mut driver = (*sizing.drivers[0].item).clone();
    driver.offer.prices = vec![
        PriceStep {
            from: Decimal::ONE,
            price: decimal("10.00"),
        },
        PriceStep {
            from: Decimal::from(20),
            price: decimal("5.00"),
        },
    ];
    sizing.drivers[0].item = Arc::new(driver);
    sizing.drivers[0].runs = vec!["run".to_owned()];
    sizing.runs = vec![sized_run(&project, "run", &strip, None, &[90])];
    (project, sizing)
}

#[test]
fn a_price_that_is_missing_is_in_no_total() {
    let (project, mut sizing) = small();
    let full = quoted(&project, &sizing).totals;
    let mut driver = (*sizing.drivers[0].item).clone();
    driver.offer.prices = Vec::new();
    sizing.drivers[0].item = Arc::new(driver);
    let quote = quoted(&project, &sizing);
    let line = lines(&quote, "driver-120")[0];
    assert_eq!((line.cost, line.sell), (None, None));
    assert_eq!(line.flags, [PriceFlag::Missing]);
    assert_eq!(quote.totals.lines_without_price, 1);
    assert_eq!(full.net - quote.totals.net, decimal("10.00"));
}

#[test]
fn a_price_past_its_day_is_flagged_and_counted() {
    let (project, mut sizing) = small();
    let mut driver = (*sizing.drivers[0].item).clone();
    for (until, stale) in [(date!(2026 - 11 - 20), 0), (date!(2026 - 11 - 19), 1)] {
        driver.offer.price_valid_until = Some(until);
        sizing.drivers[0].item = Arc::new(driver.clone());
        let quote = quoted(&project, &sizing);
        assert_eq!(quote.totals.lines_with_stale_price, stale);
    }
}

#[test]
fn more_is_bought_where_a_step_makes_it_cheaper() {
    let (project, mut sizing) = small();
    let one = sizing.drivers[0].clone();
    for number in 2..=11 {
        let mut next = one.clone();
        next.number = format!("D-{number:02}");
        sizing.drivers.push(next);
    }
    let quote = quoted(&project, &sizing);
    let line = lines(&quote, "driver-120")[0];
    // 11 × 10.00 = 110.00 is more than 20 × 5.00.
    assert_eq!(
        (line.needed, line.bought, line.left_over),
        (11.into(), 20.into(), 9.into())
    );
    assert_eq!(
        (line.cost, line.step_from),
        (Some(decimal("100.00")), Some(20.into()))
    );
    assert_eq!(line.used_for, ["run"]);
}

#[test]
fn a_section_longer_than_any_reel_is_named_when_it_may_not_be_joined() {
    let (project, mut sizing) = small();
    let short = Arc::new(strip("short", &[(3.0, "15.00")], false));
    sizing.runs = vec![sized_run(&project, "run", &short, None, &[90])];
    let quote = quoted(&project, &sizing);
    let line = lines(&quote, "short")[0];
    assert_eq!((line.needed, line.cost), (decimal("4.5"), None));
    assert_eq!(quote.totals.lines_without_price, 1);
    let named = |a: &feedpoint::model::assumption::Assumption| a.subject == "run run";
    assert!(
        quote.assumptions.iter().any(named),
        "{:?}",
        quote.assumptions
    );
    let joined = Arc::new(strip("short", &[(3.0, "15.00")], true));
    sizing.runs = vec![sized_run(&project, "run", &joined, None, &[90])];
    set_joints(&mut sizing);
    assert_eq!(sizing.runs[0].sections[0].joints, 1);
    assert_eq!(
        lines(&quoted(&project, &sizing), "short")[0].bought,
        Decimal::TWO
    );
}

#[test]
fn accessories_follow_their_rules() {
    let (mut project, mut sizing) = small();
    let strip = Arc::clone(&sizing.runs[0].run.strip);
    let mut wet = (*sized_run(&project, "wet", &strip, None, &[30, 40]).run).clone();
    wet.wet = true;
    let mut second = sized_run(&project, "wet", &strip, None, &[30, 40]);
    second.run = Arc::new(wet);
    sizing.runs.push(second);
    let accessory = |id: &str, per: Per, wet: Option<bool>| {
        Arc::new(Accessory {
            offer: offer(id, ItemKind::Accessory, "1.00"),
            per,
            quantity: 2,
            most_current: None,
            wet,
            channels: None,
            goes_with: Default::default(),
            tail: None,
        })
    };
    project.catalogue.accessories = vec![
        accessory("a-run", Per::Run, None),
        accessory("b-section", Per::Section, None),
        accessory("c-section-wet", Per::Section, Some(true)),
        accessory("d-feed", Per::Feed, Some(false)),
        accessory("e-metre", Per::Metre, None),
        accessory("f-driver", Per::Driver, None),
        accessory("g-cupboard", Per::Cupboard, None),
        accessory("h-loop", Per::Loop, None),
        accessory("i-circuit", Per::Circuit, None),
        accessory("j-device", Per::Device, None),
        accessory("k-joint", Per::Joint, None),
        accessory("l-driver-wet", Per::Driver, Some(true)),
    ];
    project.devices = vec![devices(&project, "sensor", 2, 3)];
    let quote = quoted(&project, &sizing);
    let needed = |item: &str| {
        lines(&quote, item)
            .first()
            .map_or(Decimal::ZERO, |l| l.needed)
    };
    // Two runs; three sections, two of them wet; 4.5 + 1.5 + 2.0 = 8 m; one driver, cupboard and
    // loop; circuits for the cupboard and for the controller; one driver and three sensors.
    let want = [
        ("a-run", 4),
        ("b-section", 6),
        ("c-section-wet", 4),
        ("d-feed", 2),
        ("e-metre", 16),
        ("f-driver", 2),
        ("g-cupboard", 2),
        ("h-loop", 2),
        ("i-circuit", 4),
        ("j-device", 8),
        ("k-joint", 0),
        ("l-driver-wet", 0),
    ];
    for (item, count) in want {
        assert_eq!(needed(item), Decimal::from(count), "{item}");
    }
}

#[test]
fn bars_are_cut_with_the_saw_cut_counted() {
    // Three runs of 0.95 m and 10 mm for caps: 3 × 960 + 2 × 3 = 2886 mm, one bar of 3 m. Of
    // 2.95 m and 10 mm, 2960 mm, one bar each.
    let (project, mut sizing) = small();
    let strip = Arc::clone(&sizing.runs[0].run.strip);
    let bars = Arc::new(profile("bar", &[(3.0, "14.90")]));
    sizing.runs = ["a", "b", "c"]
        .map(|name| sized_run(&project, name, &strip, Some(&bars), &[19]))
        .to_vec();
    assert_eq!(
        lines(&quoted(&project, &sizing), "bar")[0].bought,
        Decimal::ONE
    );
    sizing.runs = ["a", "b", "c"]
        .map(|name| sized_run(&project, name, &strip, Some(&bars), &[59]))
        .to_vec();
    assert_eq!(
        lines(&quoted(&project, &sizing), "bar")[0].bought,
        Decimal::from(3)
    );
}

#[test]
fn cable_from_drums_is_cut_from_them() {
    let (project, mut sizing) = small();
    let mut item = cable("feed-drum", CableUse::StripFeed, 1.5, "0");
    item.offer.prices = Vec::new();
    item.drums = vec![stock(100.0, Some("92.00")), stock(500.0, Some("430.00"))];
    let item = Arc::new(item);
    // 60 + 60 m do not come from one drum of 100 m.
    sizing.cables = vec![
        feed_cable(1, "run", &item, 60.0),
        feed_cable(2, "run", &item, 60.0),
    ];
    let quote = quoted(&project, &sizing);
    let line = lines(&quote, "feed-drum")[0];
    assert_eq!(
        (line.bought, line.cost),
        (2.into(), Some(decimal("184.00")))
    );
    assert!(quote.cuts.iter().all(|cut| cut.kind != ItemKind::Cable));
    assert_eq!(metres(60.0), sizing.cables[0].length);
}

#[test]
fn spare_strip_comes_out_of_offcuts_that_are_long_enough() {
    // 4.5 m of a reel of 5 m: 3 % is 0.135 m, the offcut 0.5 m. Of 4.95 m, 10 % is 0.495 m, the
    // offcut 0.05 m: another reel.
    let (mut project, mut sizing) = small();
    project.pricing.spares.insert(ItemKind::Strip, decimal("3"));
    let quote = quoted(&project, &sizing);
    let spare = lines(&quote, "strip")[1];
    assert_eq!(
        (spare.needed, spare.bought),
        (decimal("0.135"), Decimal::ZERO)
    );
    assert_eq!((spare.unit_cost, spare.cost), (None, Some(decimal("0.00"))));
    // Half a metre is scrap where offcuts are kept from a metre on, but not this one: it is the spare.
    for (spares, kept) in [("3", true), ("0", false)] {
        let mut strict = project.clone();
        let pricing = &mut strict.pricing;
        pricing.keep_offcut.insert(ItemKind::Strip, metres(1.0));
        pricing.spares.insert(ItemKind::Strip, decimal(spares));
        let quote = quoted(&strict, &sizing);
        assert_eq!(quote.cuts[0].kept, Some(kept), "{spares} %");
    }
    project
        .pricing
        .spares
        .insert(ItemKind::Strip, decimal("10"));
    let strip = Arc::clone(&sizing.runs[0].run.strip);
    sizing.runs = vec![sized_run(&project, "run", &strip, None, &[99])];
    let quote = quoted(&project, &sizing);
    let spare = lines(&quote, "strip")[1];
    assert_eq!(
        (spare.bought, spare.cost),
        (Decimal::ONE, Some(decimal("24.60")))
    );
}

/// Worked by hand: cost 10.00 + 24.60 = 34.60 and the rest; overhead 8 %, contingency 5 %, margin
/// 22 % of the selling price: 10.00 × 1.08 × 1.05 / 0.78 = 14.538… → 14.54.
#[test]
fn a_selling_price_worked_by_hand() {
    let (mut project, sizing) = small();
    project.pricing.overhead = decimal("8");
    project.pricing.contingency = decimal("5");
    project.pricing.uplift = Some(Uplift::Margin(decimal("22")));
    let quote = quoted(&project, &sizing);
    let line = lines(&quote, "driver-120")[0];
    assert_eq!(
        (line.cost, line.sell),
        (Some(decimal("10.00")), Some(decimal("14.54")))
    );
    // 24.60 × 1.08 × 1.05 / 0.78 = 35.764… → 35.76.
    assert_eq!(lines(&quote, "strip")[0].sell, Some(decimal("35.76")));
    // Overhead on cost, contingency on both, and the uplift is what is left of the net.
    let totals = &quote.totals;
    let cost = totals.materials_cost + totals.labour_cost + totals.commissioning_cost;
    let percent = |of: Decimal, percents: &str| of * decimal(percents) / Decimal::ONE_HUNDRED;
    assert_eq!(totals.overhead, percent(cost, "8").round_dp(2));
    assert_eq!(
        totals.contingency,
        percent(cost * decimal("1.08"), "5").round_dp(2)
    );
    assert_eq!(
        totals.uplift_amount,
        totals.net - cost - totals.overhead - totals.contingency
    );
    assert!(totals.contingency > Decimal::ZERO);
    assert!(quote.labour.is_empty(), "no sheet gives a time");
}

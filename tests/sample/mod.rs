//! A job put together by hand, as sizing, allocation, pricing and judging would leave it, with
//! everything in it that a document must cope with: runs with one and two whites, a run that
//! nothing can feed, figures that no datasheet gives, a line without a price, long names, and
//! text in several scripts.
#![allow(dead_code)]

mod catalogue;
mod money;
mod rules;
mod sizing;
mod wiring;

use catalogue::Goods;
use feedpoint::diagnostic::Place;
use feedpoint::model::Choice;
use feedpoint::model::by_name::ByName;
use feedpoint::model::catalogue::Catalogue;
use feedpoint::model::pricing::{Pricing, Tax, TaxRounding, Uplift};
use feedpoint::model::project::{
    Breaker, CircuitSettings, Curve, DeviceSet, Heading, Issued, LoopSettings, Project, Supply,
    Topology,
};
use feedpoint::model::run::{FeedWish, Run};
use feedpoint::model::scene::{Group, Scene, SceneSetting};
use feedpoint::model::site::{Point, PointKind, Route, Site};
use feedpoint::norms::defaults;
use feedpoint::norms::region::Region;
use feedpoint::present::job::Job;
use feedpoint::quantity::{Current, Frequency, Length, Ratio, Temperature, Time, Voltage};
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use std::sync::Arc;
use time::macros::date;
use uom::si::electric_current::milliampere;
use uom::si::electric_potential::volt;
use uom::si::frequency::hertz;
use uom::si::length::meter;
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::{degree_celsius, kelvin};
use uom::si::time::second;

/// A title in several scripts, with what must not reach a terminal or a spreadsheet.
pub const HOSTILE: &str = "=cmd|'/c x'!A1 \u{1b}[31mred\u{7} \u{202e}desrever";
/// A room in Hebrew.
pub const RIGHT_TO_LEFT: &str = "חדר קריאה";

pub fn m(metres: f64) -> Length {
    Length::new::<meter>(metres)
}

pub fn v(volts: f64) -> Voltage {
    Voltage::new::<volt>(volts)
}

pub fn a(amperes: f64) -> Current {
    Current::new::<uom::si::electric_current::ampere>(amperes)
}

pub fn ma(milliamperes: f64) -> Current {
    Current::new::<milliampere>(milliamperes)
}

pub fn pc(per_cent: f64) -> Ratio {
    Ratio::new::<percent>(per_cent)
}

pub fn dec(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

pub fn place(line: usize) -> Place {
    Place {
        file: "project.yaml".into(),
        line,
        column: 5,
    }
}

/// A run's name of 200 characters.
pub fn long_name() -> String {
    "stair-".repeat(34).chars().take(200).collect()
}

fn celsius(degrees: f64) -> Temperature {
    Temperature::new::<degree_celsius>(degrees)
}

/// The job.
pub fn job() -> Job {
    job_in(Region::Iec)
}

/// The job as it would be in a region.
pub fn job_in(region: Region) -> Job {
    let goods = Goods::new();
    let project = project(region, &goods);
    let sizing = sizing::sizing(&project, &goods);
    let allocation = wiring::allocation(&project, &goods);
    Job {
        sizing,
        allocation,
        quote: money::quote(),
        verdicts: rules::verdicts(),
        cautions: vec!["Cutting off the mark kills the whole end group.".to_owned()],
        project,
        by_subject: ByName::default(),
        joints: ByName::default(),
    }
}

fn point(index: usize, name: &str, title: &str, kind: PointKind, hot: Option<f64>) -> Arc<Point> {
    Arc::new(Point {
        name: name.to_owned(),
        title: title.to_owned(),
        kind,
        ambient: hot.map(celsius),
        space: None,
        sheds: None,
        isolator: None,
        accessible: None,
        place: None,
        index,
    })
}

fn site() -> Site {
    let points = vec![
        point(0, "panel", "Panel DB1", PointKind::Panel, None),
        point(
            1,
            "cupboard-a",
            "Cupboard A",
            PointKind::Cupboard,
            Some(35.0),
        ),
        point(2, "cupboard-b", "Cupboard B", PointKind::Cupboard, None),
        point(3, "reading-hall", RIGHT_TO_LEFT, PointKind::Room, None),
        point(4, "stacks", "Büchermagazin Łódź", PointKind::Room, None),
        point(5, "stair", "Stair", PointKind::Room, None),
    ];
    let route = |from: usize, to: usize, length: f64| Route {
        from: Arc::clone(&points[from]),
        to: Arc::clone(&points[to]),
        length: m(length),
        separated: None,
    };
    Site {
        routes: vec![
            route(0, 1, 22.0),
            route(1, 3, 9.0),
            route(0, 2, 31.5),
            route(2, 4, 12.0),
            route(2, 5, 6.0),
        ],
        points,
    }
}

fn groups() -> Vec<Arc<Group>> {
    let group = |index, name: &str, title: &str| {
        Arc::new(Group {
            name: name.to_owned(),
            title: title.to_owned(),
            index,
        })
    };
    vec![
        group(0, "hall-cove", "Reading hall cove"),
        group(1, "stacks", HOSTILE),
    ]
}

fn project(region: Region, goods: &Goods) -> Project {
    let site = site();
    let groups = groups();
    let runs = runs(&site, &groups, goods);
    Project {
        heading: Heading {
            title: "Millrace Library".to_owned(),
            reference: Some("ML-014".to_owned()),
            revision: Some("B".to_owned()),
            customer: Some("Millrace Town Council".to_owned()),
            prepared_by: Some("A. Müller".to_owned()),
            date: Some(date!(2026 - 11 - 20)),
            needed: None,
            place: None,
        },
        region,
        supply: Supply {
            voltage: v(230.0),
            frequency: Frequency::new::<hertz>(50.0),
            phases: 3,
            upstream_drop: pc(0.5),
        },
        catalogue: Catalogue {
            currency: "EUR".to_owned(),
            titles: vec!["Trade list".to_owned()],
            strips: vec![Arc::clone(&goods.pair), Arc::clone(&goods.single)],
            drivers: vec![Arc::clone(&goods.pair_120), Arc::clone(&goods.single_60)],
            cables: goods.cables(),
            controllers: vec![Arc::clone(&goods.controller)],
            bus_supplies: Vec::new(),
            control_devices: vec![Arc::clone(&goods.sensor)],
            profiles: Vec::new(),
            accessories: Vec::new(),
        },
        devices: vec![DeviceSet {
            name: "hall-sensor".to_owned(),
            item: Arc::clone(&goods.sensor),
            room: Arc::clone(&site.points[3]),
            count: 2,
            place: place(40),
        }],
        scenes: scenes(&groups),
        groups,
        runs,
        loops: loop_settings(&site),
        circuits: CircuitSettings {
            breaker: Breaker {
                curve: Curve::B,
                amperes: 16,
            },
            spare: pc(20.0),
            residual: Some(ma(30.0)),
            protection: Default::default(),
            cable: Choice::Auto,
            share_cupboards: false,
            spread_rooms: false,
            place: place(60),
        },
        limits: limits(region),
        house_rules: Vec::new(),
        pricing: pricing(),
        options: Vec::new(),
        exclusions: vec!["making good".to_owned(), "builder's work".to_owned()],
        assumptions: Vec::new(),
        issued: Issued::default(),
        site,
        wiring: Default::default(),
    }
}

fn limits(region: Region) -> feedpoint::model::limits::Limits {
    let light_drop = defaults::light_drop();
    feedpoint::model::limits::Limits {
        evenness: defaults::evenness(&light_drop),
        light_drop,
        colour_shift: defaults::colour_shift(),
        feed_drop: defaults::feed_drop(region),
        driver_load: defaults::driver_load(),
        circuit_drop: defaults::circuit_drop(region),
        end_gap: defaults::end_gap(),
        off_locus: defaults::off_locus(),
        dim_to: None,
    }
}

fn pricing() -> Pricing {
    Pricing {
        labour_rate: Some(dec("42.00")),
        overhead: dec("8"),
        contingency: dec("5"),
        uplift: Some(Uplift::Margin(dec("22"))),
        tax: Some(Tax {
            name: "VAT".to_owned(),
            rate: dec("20"),
            labour: None,
            kinds: BTreeMap::new(),
            rounding: TaxRounding::Rate,
        }),
        ..Pricing::default()
    }
}

fn loop_settings(site: &Site) -> LoopSettings {
    LoopSettings {
        spare: pc(15.0),
        keep_rooms_whole: true,
        topology: Topology::Free,
        cable: Choice::Auto,
        controller: Choice::Auto,
        supply: Choice::Auto,
        at: vec![Arc::clone(&site.points[0])],
        count: None,
        wiring: None,
        temperature: celsius(50.0),
        place: place(50),
    }
}

fn scenes(groups: &[Arc<Group>]) -> Vec<Scene> {
    let setting = |group: usize, light: f64, white: Option<f64>| SceneSetting {
        group: Arc::clone(&groups[group]),
        light: pc(light),
        white: white.map(Temperature::new::<kelvin>),
        at_least: None,
        place: place(45),
    };
    vec![
        Scene {
            name: "open".to_owned(),
            settings: vec![setting(0, 90.0, Some(4000.0)), setting(1, 60.0, None)],
            fade: Some(Time::new::<second>(2.0)),
            place: place(44),
        },
        Scene {
            name: "closed".to_owned(),
            settings: vec![setting(0, 0.0, None), setting(1, 10.0, None)],
            fade: None,
            place: place(47),
        },
    ]
}

fn runs(site: &Site, groups: &[Arc<Group>], goods: &Goods) -> Vec<Arc<Run>> {
    let run = |name: String, room: usize, pair: bool, length: f64, group: usize, line: usize| {
        let strip = if pair { &goods.pair } else { &goods.single };
        Arc::new(Run {
            name,
            room: Arc::clone(&site.points[room]),
            strip: Arc::clone(strip),
            length: m(length),
            group: Arc::clone(&groups[group]),
            cupboard: Choice::Auto,
            to_start: Some(m(6.0)),
            to_end: Some(m(21.0)),
            reach_along: true,
            feed: FeedWish::Auto,
            cable: Choice::Auto,
            driver: Choice::Auto,
            profile: None,
            accessible: Some(true),
            wet: room == 5,
            ambient: None,
            wiring: Default::default(),
            detail: Default::default(),
            limits: Default::default(),
            place: place(line),
            feed_place: place(line),
        })
    };
    vec![
        run("hall-cove-north".to_owned(), 3, true, 18.43, 0, 20),
        run("stacks-shelf-1".to_owned(), 4, false, 7.2, 1, 24),
        run(long_name(), 5, false, 30.0, 1, 28),
    ]
}

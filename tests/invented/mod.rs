//! Invented projects for the tests of sizing: a cupboard or two, a room, runs as wanted.
#![allow(dead_code, reason = "each test file uses its own part of it")]

use feedpoint::diagnostic::Place;
use feedpoint::model::Choice;
use feedpoint::model::cable::{Cable, CableDetail, CableUse, Conductor, Insulation};
use feedpoint::model::catalogue::Catalogue;
use feedpoint::model::driver::{
    Driver, DriverBus, DriverDetail, DriverMains, DriverOutput, GearType, Mixing,
};
use feedpoint::model::extra::{Accessory, Per};
use feedpoint::model::limits::{Limits, RunLimits};
use feedpoint::model::offer::{ItemKind, Offer, PriceStep};
use feedpoint::model::pricing::Pricing;
use feedpoint::model::project::{
    Breaker, CircuitSettings, Curve, Heading, Issued, LoopSettings, Project, Supply, Topology,
};
use feedpoint::model::run::{FeedWish, Run, RunDetail};
use feedpoint::model::scene::Group;
use feedpoint::model::site::{Point, PointKind, Route, Site};
use feedpoint::model::strip::{Channel, Channels, LightSource, RailsKnown, Strip, StripDetail};
use feedpoint::norms::{defaults, region::Region};
use feedpoint::quantity::conductor::ConductorSize;
use feedpoint::quantity::{
    Area, Current, Frequency, Length, Power, PowerPerLength, Ratio, ResistancePerLength,
    Temperature, Time, Voltage,
};
use rust_decimal::Decimal;
use std::marker::PhantomData;
use std::sync::Arc;
use uom::si::area::square_millimeter;
use uom::si::electric_current::{ampere, milliampere};
use uom::si::electric_potential::volt;
use uom::si::frequency::hertz;
use uom::si::length::{meter, millimeter};
use uom::si::linear_power_density::watt_per_meter;
use uom::si::power::watt;
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::{degree_celsius, kelvin};
use uom::si::time::minute;

fn place() -> Place {
    Place {
        file: "project.yaml".into(),
        line: 1,
        column: 1,
    }
}

fn offer(id: &str, kind: ItemKind, cents: i64, minutes: f64) -> Offer {
    Offer {
        id: id.to_owned(),
        description: id.to_owned(),
        kind,
        prices: vec![PriceStep {
            from: Decimal::ONE,
            price: Decimal::new(cents, 2),
        }],
        pack: 1,
        smallest_order: 1,
        lead_time_days: None,
        labour: Some(Time::new::<minute>(minutes)),
        price_valid_until: None,
        supplier: None,
        place: place(),
    }
}

fn ohm_per_metre(value: f64) -> ResistancePerLength {
    ResistancePerLength {
        dimension: PhantomData,
        units: PhantomData,
        value,
    }
}

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

/// A strip with rails of 0.030 Ω/m and returns of 0.050 Ω/m, light starting at 0.69 of nominal.
pub fn strip(id: &str, volts: f64, powers: &[f64]) -> Arc<Strip> {
    let channel = |power: f64, white: f64| Channel {
        power: PowerPerLength::new::<watt_per_meter>(power),
        flux: Some(feedpoint::quantity::FluxPerLength {
            dimension: PhantomData,
            units: PhantomData,
            value: 90.0 * power,
        }),
        white: Some(Temperature::new::<kelvin>(white)),
        light_starts_at: Some(Voltage::new::<volt>(0.6875 * volts)),
        regulated_from: None,
    };
    Arc::new(Strip {
        offer: offer(id, ItemKind::Strip, 1000, 5.0),
        voltage: Voltage::new::<volt>(volts),
        channels: match powers {
            [one] => Channels::SingleColour(channel(*one, 4000.0)),
            [warm, cool] => Channels::TunableWhite {
                warm: channel(*warm, 2700.0),
                cool: channel(*cool, 6500.0),
            },
            _ => panic!("one or two channels"),
        },
        cut: Length::new::<millimeter>(50.0),
        light_source: LightSource::Resistor,
        rails: RailsKnown::Resistance {
            common: ohm_per_metre(0.030),
            returns: vec![ohm_per_metre(0.050); powers.len()],
        },
        reels: Vec::new(),
        ingress: None,
        most_feed_current: Some(Current::new::<ampere>(8.0)),
        least_voltage: None,
        joints: true,
        detail: StripDetail::default(),
    })
}

pub fn cable(id: &str, cores: usize, mm2: f64, cents: i64) -> Arc<Cable> {
    Arc::new(Cable {
        offer: offer(id, ItemKind::Cable, cents, 1.2),
        uses: vec![CableUse::StripFeed],
        cores,
        size: ConductorSize::Metric(Area::new::<square_millimeter>(mm2)),
        conductor: Conductor::Class5,
        insulation: Insulation::Thermoplastic70,
        most_current: None,
        drums: Vec::new(),
        marking: Default::default(),
        detail: CableDetail::default(),
    })
}

pub fn driver(id: &str, volts: f64, watts: f64, channels: usize, cents: i64) -> Arc<Driver> {
    let both = channels == 2;
    Arc::new(Driver {
        offer: offer(id, ItemKind::Driver, cents, 25.0),
        output: DriverOutput {
            voltage: Voltage::new::<volt>(volts),
            power: Power::new::<watt>(watts),
            channels,
            current_per_channel: Some(Current::new::<ampere>(watts / volts)),
            mixing: both.then_some(Mixing::Shared),
            joins_plus: None,
        },
        bus: Some(DriverBus {
            addresses: 1,
            current: Some(Current::new::<milliampere>(2.0)),
            gear: if both {
                GearType::ColourTemperature
            } else {
                GearType::Single
            },
            marking: Default::default(),
            emergency: None,
        }),
        mains: DriverMains {
            voltage: None,
            current: None,
            most_per_b16: None,
            earth_leakage: None,
            power_factor: None,
            efficiency: None,
            needs: Default::default(),
        },
        largest_terminal: Some(ConductorSize::Metric(Area::new::<square_millimeter>(
            if watts > 150.0 { 6.0 } else { 4.0 },
        ))),
        most_ambient: Some(Temperature::new::<degree_celsius>(45.0)),
        derating: Vec::new(),
        least_load: Some(Ratio::new::<percent>(5.0)),
        least_level: None,
        safety: None,
        size: None,
        detail: DriverDetail::default(),
    })
}

fn accessory(id: &str, per: Per, cents: i64) -> Arc<Accessory> {
    Arc::new(Accessory {
        offer: offer(id, ItemKind::Accessory, cents, 10.0),
        per,
        quantity: 1,
        most_current: (per == Per::Feed).then(|| Current::new::<ampere>(8.0)),
        wet: None,
        channels: None,
        goes_with: Default::default(),
        tail: None,
    })
}

fn catalogue() -> Catalogue {
    Catalogue {
        currency: "EUR".to_owned(),
        cables: vec![
            cable("feed-2x1.5", 2, 1.5, 112),
            cable("feed-2x2.5", 2, 2.5, 168),
            cable("feed-2x4", 2, 4.0, 261),
            cable("feed-3x1.5", 3, 1.5, 147),
            cable("feed-3x2.5", 3, 2.5, 224),
            cable("feed-3x4", 3, 4.0, 352),
            cable("feed-3x6", 3, 6.0, 520),
        ],
        drivers: vec![
            driver("pair-60", 24.0, 60.0, 2, 5280),
            driver("pair-120", 24.0, 120.0, 2, 7420),
            driver("pair-240", 24.0, 240.0, 2, 11800),
            driver("single-60", 24.0, 60.0, 1, 4150),
            driver("single-100", 24.0, 96.0, 1, 5500),
            driver("single-200", 24.0, 200.0, 1, 8600),
        ],
        accessories: vec![
            accessory("end-caps", Per::Section, 190),
            accessory("tail", Per::Feed, 310),
        ],
        ..Catalogue::default()
    }
}

fn point(name: &str, kind: PointKind, index: usize) -> Arc<Point> {
    Arc::new(Point {
        name: name.to_owned(),
        title: name.to_owned(),
        kind,
        ambient: Some(Temperature::new::<degree_celsius>(35.0)),
        space: None,
        sheds: None,
        isolator: None,
        accessible: None,
        place: None,
        index,
    })
}

/// A run to be laid out.
#[derive(Debug, Clone)]
pub struct Wanted {
    pub name: String,
    pub strip: Arc<Strip>,
    pub length: f64,
    pub group: usize,
    pub to_start: Option<f64>,
    pub to_end: Option<f64>,
    pub along: bool,
    pub feed: FeedWish,
}

impl Wanted {
    pub fn new(name: &str, strip: &Arc<Strip>, length: f64) -> Wanted {
        Wanted {
            name: name.to_owned(),
            strip: Arc::clone(strip),
            length,
            group: 0,
            to_start: Some(6.0),
            to_end: Some(12.0),
            along: true,
            feed: FeedWish::Auto,
        }
    }
}

pub fn project(wanted: &[Wanted]) -> Project {
    let points = vec![
        point("panel", PointKind::Panel, 0),
        point("cupboard-a", PointKind::Cupboard, 1),
        point("cupboard-b", PointKind::Cupboard, 2),
        point("reading-hall", PointKind::Room, 3),
    ];
    let route = |from: usize, to: usize, length: f64| Route {
        from: Arc::clone(&points[from]),
        to: Arc::clone(&points[to]),
        length: metres(length),
        separated: None,
    };
    let most = wanted.iter().map(|run| run.group).max().unwrap_or(0);
    let groups: Vec<Arc<Group>> = (0..=most)
        .map(|index| {
            Arc::new(Group {
                name: format!("group-{index}"),
                title: format!("Group {index}"),
                index,
            })
        })
        .collect();
    let light_drop = defaults::light_drop();
    let limits = Limits {
        evenness: defaults::evenness(&light_drop),
        light_drop,
        colour_shift: defaults::colour_shift(),
        feed_drop: defaults::feed_drop(Region::Iec),
        driver_load: defaults::driver_load(),
        circuit_drop: defaults::circuit_drop(Region::Iec),
        end_gap: defaults::end_gap(),
        off_locus: defaults::off_locus(),
        dim_to: None,
    };
    let routes = vec![route(0, 1, 14.0), route(1, 3, 9.0), route(2, 3, 20.0)];
    let runs = wanted
        .iter()
        .map(|wanted| {
            Arc::new(Run {
                name: wanted.name.clone(),
                room: Arc::clone(&points[3]),
                strip: Arc::clone(&wanted.strip),
                length: metres(wanted.length),
                group: Arc::clone(&groups[wanted.group]),
                cupboard: Choice::Auto,
                to_start: wanted.to_start.map(metres),
                to_end: wanted.to_end.map(metres),
                reach_along: wanted.along,
                feed: wanted.feed.clone(),
                cable: Choice::Auto,
                driver: Choice::Auto,
                profile: None,
                accessible: Some(true),
                wet: false,
                ambient: None,
                wiring: Default::default(),
                detail: RunDetail::default(),
                limits: RunLimits::default(),
                place: place(),
                feed_place: place(),
            })
        })
        .collect();
    Project {
        heading: Heading::default(),
        region: Region::Iec,
        supply: Supply {
            voltage: Voltage::new::<volt>(230.0),
            frequency: Frequency::new::<hertz>(50.0),
            phases: 1,
            upstream_drop: Ratio::new::<percent>(0.5),
        },
        catalogue: catalogue(),
        site: Site { points, routes },
        wiring: Default::default(),
        runs,
        devices: Vec::new(),
        groups,
        scenes: Vec::new(),
        loops: LoopSettings {
            spare: Ratio::new::<percent>(15.0),
            keep_rooms_whole: true,
            topology: Topology::Free,
            cable: Choice::Auto,
            controller: Choice::Auto,
            supply: Choice::Auto,
            at: Vec::new(),
            count: None,
            wiring: None,
            temperature: Temperature::new::<degree_celsius>(50.0),
            place: place(),
        },
        circuits: CircuitSettings {
            breaker: Breaker {
                curve: Curve::B,
                amperes: 16,
            },
            spare: Ratio::new::<percent>(20.0),
            residual: None,
            protection: Default::default(),
            cable: Choice::Auto,
            share_cupboards: false,
            spread_rooms: false,
            place: place(),
        },
        limits,
        house_rules: Vec::new(),
        pricing: Pricing {
            labour_rate: Some(Decimal::from(42)),
            overhead: Decimal::ZERO,
            contingency: Decimal::ZERO,
            uplift: None,
            tax: None,
            ..Pricing::default()
        },
        options: Vec::new(),
        exclusions: Vec::new(),
        assumptions: Vec::new(),
        issued: Issued::default(),
    }
}

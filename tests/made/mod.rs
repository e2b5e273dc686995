//! Projects and sizings made by hand for tests of allocation and price: invented, and no wider
//! than those tests need.
#![allow(dead_code, reason = "each test file uses a part of it")]

pub mod cases;
pub mod draw;
pub mod scale;

use feedpoint::choose::sized::{
    FeedCable, Reasons, RunFigures, Section, SizedDriver, SizedFeed, SizedRun, Sizing,
};
use feedpoint::diagnostic::Place;
use feedpoint::model::Choice;
use feedpoint::model::bus::{BusSupply, ControlDevice, Controller, SupplyCurrent};
use feedpoint::model::cable::{Cable, CableDetail, CableUse, Conductor, Insulation};
use feedpoint::model::catalogue::Catalogue;
use feedpoint::model::driver::{
    Driver, DriverBus, DriverDetail, DriverMains, DriverOutput, GearType,
};
use feedpoint::model::extra::Profile;
use feedpoint::model::limits::{Limits, RunLimits};
use feedpoint::model::offer::{ItemKind, Offer, PriceStep, StockLength};
use feedpoint::model::pricing::Pricing;
use feedpoint::model::project::{
    Breaker, CircuitSettings, Curve, DeviceSet, Heading, Issued, LoopSettings, Project, Supply,
    Topology,
};
use feedpoint::model::run::{FeedWish, Run, RunDetail};
use feedpoint::model::scene::Group;
use feedpoint::model::site::{Point, PointKind, Route, Site};
use feedpoint::model::strip::{Channel, Channels, LightSource, RailsKnown, Strip, StripDetail};
use feedpoint::norms::defaults;
use feedpoint::norms::region::Region;
use feedpoint::quantity::conductor::ConductorSize;
use feedpoint::quantity::{
    Area, Current, Frequency, Length, Power, PowerPerLength, Ratio, Resistance,
    ResistancePerLength, Temperature, Voltage,
};
use feedpoint::solve::strip::{Ladder, LadderChannel, LadderFeed, StringLaw};
use rust_decimal::Decimal;
use std::sync::Arc;
use uom::ConstZero;
use uom::si::area::square_millimeter;
use uom::si::electric_current::{ampere, milliampere};
use uom::si::electric_potential::volt;
use uom::si::frequency::hertz;
use uom::si::length::meter;
use uom::si::linear_power_density::watt_per_meter;
use uom::si::power::watt;
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::degree_celsius;

pub fn place() -> Place {
    Place {
        file: "made.yaml".into(),
        line: 1,
        column: 1,
    }
}

pub fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

pub fn milliamperes(value: f64) -> Current {
    Current::new::<milliampere>(value)
}

pub fn share(value: f64) -> Ratio {
    Ratio::new::<percent>(value)
}

/// An item at a price for any quantity.
pub fn offer(id: &str, kind: ItemKind, price: &str) -> Offer {
    Offer {
        id: id.to_owned(),
        description: id.to_owned(),
        kind,
        prices: vec![PriceStep {
            from: Decimal::ONE,
            price: decimal(price),
        }],
        pack: 1,
        smallest_order: 1,
        lead_time_days: None,
        labour: None,
        price_valid_until: None,
        supplier: None,
        place: place(),
    }
}

pub fn driver(id: &str) -> Driver {
    Driver {
        offer: offer(id, ItemKind::Driver, "74.20"),
        output: DriverOutput {
            voltage: Voltage::new::<volt>(24.0),
            power: Power::new::<watt>(120.0),
            channels: 1,
            current_per_channel: Some(Current::new::<ampere>(5.0)),
            mixing: None,
            joins_plus: None,
        },
        bus: Some(DriverBus {
            addresses: 1,
            current: Some(milliamperes(2.0)),
            gear: GearType::Single,
            marking: Default::default(),
            emergency: None,
        }),
        mains: DriverMains {
            voltage: None,
            current: Some(Current::new::<ampere>(0.62)),
            most_per_b16: Some(12),
            earth_leakage: Some(milliamperes(0.7)),
            power_factor: Some(share(95.0)),
            efficiency: Some(share(91.0)),
            needs: Default::default(),
        },
        largest_terminal: None,
        most_ambient: None,
        derating: Vec::new(),
        least_load: None,
        least_level: None,
        safety: None,
        size: None,
        detail: DriverDetail::default(),
    }
}

pub fn cable(id: &str, usage: CableUse, mm2: f64, price: &str) -> Cable {
    Cable {
        offer: offer(id, ItemKind::Cable, price),
        uses: vec![usage],
        cores: 2,
        size: ConductorSize::Metric(Area::new::<square_millimeter>(mm2)),
        conductor: Conductor::Class1Or2,
        insulation: Insulation::Thermoplastic70,
        most_current: None,
        drums: Vec::new(),
        marking: Default::default(),
        detail: CableDetail::default(),
    }
}

pub fn controller(id: &str, loops: usize, supply: Option<(f64, f64)>, price: &str) -> Controller {
    Controller {
        offer: offer(id, ItemKind::Controller, price),
        loops,
        supply: supply.map(supply_current),
        joins_loops: true,
        whites: None,
        mains_current: Some(milliamperes(50.0)),
    }
}

pub fn bus_supply(id: &str, currents: (f64, f64), price: &str) -> BusSupply {
    BusSupply {
        offer: offer(id, ItemKind::BusSupply, price),
        supply: supply_current(currents),
        mains_current: Some(milliamperes(60.0)),
    }
}

fn supply_current((guaranteed, maximum): (f64, f64)) -> SupplyCurrent {
    SupplyCurrent {
        guaranteed: milliamperes(guaranteed),
        maximum: milliamperes(maximum),
    }
}

pub fn catalogue() -> Catalogue {
    Catalogue {
        currency: "EUR".to_owned(),
        titles: vec!["made".to_owned()],
        drivers: vec![Arc::new(driver("driver-120"))],
        cables: vec![
            Arc::new(cable("bus-1.5", CableUse::Bus, 1.5, "0.92")),
            Arc::new(cable("bus-2.5", CableUse::Bus, 2.5, "1.41")),
            Arc::new(cable("mains-1.5", CableUse::Mains, 1.5, "1.05")),
            Arc::new(cable("mains-2.5", CableUse::Mains, 2.5, "1.58")),
            Arc::new(cable("mains-4", CableUse::Mains, 4.0, "2.49")),
        ],
        controllers: vec![Arc::new(controller("controller-2", 2, None, "268.00"))],
        bus_supplies: vec![Arc::new(bus_supply("supply-200", (200.0, 245.0), "58.00"))],
        control_devices: vec![Arc::new(ControlDevice {
            offer: offer("sensor", ItemKind::ControlDevice, "49.00"),
            addresses: 1,
            current: Some(milliamperes(6.0)),
            marking: Default::default(),
        })],
        ..Catalogue::default()
    }
}

pub fn point(index: usize, name: &str, kind: PointKind) -> Arc<Point> {
    Arc::new(Point {
        name: name.to_owned(),
        title: name.to_owned(),
        kind,
        ambient: None,
        space: None,
        sheds: None,
        isolator: None,
        accessible: None,
        place: None,
        index,
    })
}

/// A way of so many metres between two points.
pub fn route(from: &Arc<Point>, to: &Arc<Point>, length: f64) -> Route {
    Route {
        from: Arc::clone(from),
        to: Arc::clone(to),
        length: metres(length),
        separated: None,
    }
}

/// A panel, `cupboards` cupboards 12 m apart in a row from it, and `rooms` rooms, each 8 m from
/// the cupboard whose turn it is.
pub fn site(cupboards: usize, rooms: usize) -> Site {
    let mut points = vec![point(0, "panel", PointKind::Panel)];
    let mut routes = Vec::new();
    for number in 0..cupboards {
        let here = point(
            points.len(),
            &format!("cupboard-{number}"),
            PointKind::Cupboard,
        );
        routes.push(route(&points[number], &here, 12.0));
        points.push(here);
    }
    for number in 0..rooms {
        let here = point(points.len(), &format!("room-{number}"), PointKind::Room);
        routes.push(route(&points[1 + number % cupboards], &here, 8.0));
        points.push(here);
    }
    Site { points, routes }
}

pub fn group(index: usize) -> Arc<Group> {
    Arc::new(Group {
        name: format!("group-{index}"),
        title: format!("Group {index}"),
        index,
    })
}

pub fn project(site: Site, groups: usize) -> Project {
    let light_drop = defaults::light_drop();
    Project {
        heading: Heading {
            title: "Made".to_owned(),
            ..Heading::default()
        },
        region: Region::Iec,
        supply: Supply {
            voltage: Voltage::new::<volt>(230.0),
            frequency: Frequency::new::<hertz>(50.0),
            phases: 1,
            upstream_drop: Ratio::ZERO,
        },
        catalogue: catalogue(),
        site,
        wiring: Default::default(),
        runs: Vec::new(),
        devices: Vec::new(),
        groups: (0..groups).map(group).collect(),
        scenes: Vec::new(),
        loops: LoopSettings {
            spare: share(15.0),
            keep_rooms_whole: true,
            topology: Topology::Free,
            cable: Choice::Auto,
            controller: Choice::Auto,
            supply: Choice::Auto,
            at: Vec::new(),
            count: None,
            wiring: None,
            temperature: Temperature::new::<degree_celsius>(40.0),
            place: place(),
        },
        circuits: CircuitSettings {
            breaker: Breaker {
                curve: Curve::B,
                amperes: 16,
            },
            spare: share(20.0),
            residual: Some(milliamperes(30.0)),
            protection: Default::default(),
            cable: Choice::Auto,
            share_cupboards: false,
            spread_rooms: false,
            place: place(),
        },
        limits: Limits {
            evenness: defaults::evenness(&light_drop),
            light_drop,
            colour_shift: defaults::colour_shift(),
            feed_drop: defaults::feed_drop(Region::Iec),
            driver_load: defaults::driver_load(),
            circuit_drop: defaults::circuit_drop(Region::Iec),
            end_gap: defaults::end_gap(),
            off_locus: defaults::off_locus(),
            dim_to: None,
        },
        house_rules: Vec::new(),
        pricing: pricing(),
        options: Vec::new(),
        exclusions: Vec::new(),
        assumptions: Vec::new(),
        issued: Issued::default(),
    }
}

pub fn pricing() -> Pricing {
    Pricing {
        labour_rate: Some(decimal("42.00")),
        overhead: Decimal::ZERO,
        contingency: Decimal::ZERO,
        uplift: None,
        tax: None,
        ..Pricing::default()
    }
}

/// A driver in a cupboard, serving rooms and a group, by their indices.
pub fn sized_driver(
    project: &Project,
    number: usize,
    cupboard: usize,
    rooms: &[usize],
    group: usize,
) -> SizedDriver {
    let item = Arc::clone(&project.catalogue.drivers[0]);
    SizedDriver {
        number: format!("D-{number:02}"),
        cupboard: Arc::clone(&project.site.points[cupboard]),
        group: Arc::clone(&project.groups[group]),
        outputs: Vec::new(),
        load: 0.7 * item.output.power,
        usable: item.output.power,
        load_share: share(70.0),
        runs: Vec::new(),
        half: None,
        rooms: rooms
            .iter()
            .map(|room| Arc::clone(&project.site.points[*room]))
            .collect(),
        item,
    }
}

pub fn sizing(drivers: Vec<SizedDriver>) -> Sizing {
    Sizing {
        drivers,
        ..Sizing::default()
    }
}

pub fn devices(project: &Project, name: &str, room: usize, count: usize) -> DeviceSet {
    DeviceSet {
        name: name.to_owned(),
        item: Arc::clone(&project.catalogue.control_devices[0]),
        room: Arc::clone(&project.site.points[room]),
        count,
        place: place(),
    }
}

/// A strip of 50 mm segments on reels of these lengths in metres.
pub fn strip(id: &str, reels: &[(f64, &str)], joints: bool) -> Strip {
    let mut offer = offer(id, ItemKind::Strip, "0");
    offer.prices = Vec::new();
    Strip {
        offer,
        voltage: Voltage::new::<volt>(24.0),
        channels: Channels::SingleColour(Channel {
            power: PowerPerLength::new::<watt_per_meter>(9.6),
            flux: None,
            white: None,
            light_starts_at: None,
            regulated_from: None,
        }),
        cut: metres(0.05),
        light_source: LightSource::Resistor,
        rails: RailsKnown::Unknown,
        reels: reels
            .iter()
            .map(|(length, price)| stock(*length, Some(price)))
            .collect(),
        ingress: None,
        most_feed_current: None,
        least_voltage: None,
        joints,
        detail: StripDetail::default(),
    }
}

pub fn stock(length: f64, price: Option<&str>) -> StockLength {
    StockLength {
        length: metres(length),
        prices: price
            .map(|price| PriceStep {
                from: Decimal::ONE,
                price: decimal(price),
            })
            .into_iter()
            .collect(),
        available: None,
    }
}

/// A profile of bars of these lengths in metres, 3 mm lost at each cut, 10 mm longer than strip.
pub fn profile(id: &str, bars: &[(f64, &str)]) -> Profile {
    Profile {
        offer: offer(id, ItemKind::Profile, "0"),
        bars: bars
            .iter()
            .map(|(length, price)| stock(*length, Some(price)))
            .collect(),
        kerf: metres(0.003),
        kerf_known: true,
        most_power: None,
        longer_by: metres(0.010),
        depth: None,
        lid: None,
    }
}

/// A run whose sections have these numbers of segments, each fed at its start.
pub fn sized_run(
    project: &Project,
    name: &str,
    strip: &Arc<Strip>,
    profile: Option<&Arc<Profile>>,
    sections: &[usize],
) -> SizedRun {
    let room = Arc::clone(project.site.points.last().unwrap());
    let length = |segments: usize| metres(0.05 * f64::from(u32::try_from(segments).unwrap()));
    let segments: usize = sections.iter().sum();
    let feed_cable = Arc::new(cable("feed-1.5", CableUse::StripFeed, 1.5, "1.12"));
    let mut start = Length::ZERO;
    let mut made = Vec::new();
    for segments in sections {
        made.push(section(start, *segments, length(*segments), &feed_cable));
        start += length(*segments);
    }
    let run = Run {
        name: name.to_owned(),
        room,
        strip: Arc::clone(strip),
        length: length(segments),
        group: Arc::clone(&project.groups[0]),
        cupboard: Choice::Auto,
        to_start: None,
        to_end: None,
        reach_along: false,
        feed: FeedWish::Auto,
        cable: Choice::Auto,
        driver: Choice::Auto,
        profile: profile.cloned(),
        accessible: None,
        wet: false,
        ambient: None,
        wiring: Default::default(),
        detail: RunDetail::default(),
        limits: RunLimits::default(),
        place: place(),
        feed_place: place(),
    };
    SizedRun {
        run: Arc::new(run),
        cupboard: Arc::clone(&project.site.points[1]),
        segments,
        length: length(segments),
        sections: made,
        states: Vec::new(),
        figures: figures(),
        reasons: Reasons {
            arrangement: "start".to_owned(),
            cost: None,
            runner_up: None,
            deciding_limit: None,
            released: None,
        },
        unmet: None,
        cable_temperature: Temperature::new::<degree_celsius>(40.0),
        light_assumed: None,
    }
}

fn section(start: Length, segments: usize, length: Length, cable: &Arc<Cable>) -> Section {
    Section {
        start,
        segments,
        length,
        feeds: vec![SizedFeed {
            at: start,
            cable_length: metres(6.0),
            core: Resistance::ZERO,
            current: Current::ZERO,
            volts: Voltage::ZERO,
        }],
        cable: Arc::clone(cable),
        ladder: ladder(segments).into(),
        states: Vec::new().into(),
        power: Power::ZERO,
        channel_currents: Vec::new(),
        driver: "D-01".to_owned(),
        beside: None,
        output: 1,
        joints: 0,
    }
}

fn ladder(segments: usize) -> Ladder {
    Ladder {
        supply: Voltage::new::<volt>(24.0),
        nominal: Voltage::new::<volt>(24.0),
        segment: metres(0.05),
        segments,
        plus_rail: ResistancePerLength::ZERO,
        channels: vec![LadderChannel {
            return_rail: ResistancePerLength::ZERO,
            power: PowerPerLength::new::<watt_per_meter>(9.6),
            flux: None,
            law: StringLaw::Converter,
        }],
        feeds: vec![LadderFeed {
            cut: 0,
            plus: Resistance::ZERO,
            returns: vec![Resistance::ZERO],
        }],
    }
}

fn figures() -> RunFigures {
    RunFigures {
        volts_least: Voltage::ZERO,
        feed_drop: Voltage::ZERO,
        feed_drop_share: Ratio::ZERO,
        light_least: Ratio::ZERO,
        light_most: Ratio::ZERO,
        evenness: Ratio::ZERO,
        darkest_at: Length::ZERO,
        colour_shift: None,
        dark_segments: 0,
        works: true,
    }
}

/// A feed cable of a length in metres.
pub fn feed_cable(number: usize, run: &str, item: &Arc<Cable>, length: f64) -> FeedCable {
    FeedCable {
        number: format!("F-{number:03}"),
        driver: "D-01".to_owned(),
        beside: None,
        run: run.to_owned(),
        section: 1,
        at: Length::ZERO,
        item: Arc::clone(item),
        length: metres(length),
        current: Current::ZERO,
        ampacity: None,
        ampacity_source: None,
        drop: Voltage::ZERO,
    }
}

//! What the sample job buys.

use super::{a, dec, ma, pc, place, v};
use feedpoint::model::bus::{ControlDevice, Controller, SupplyCurrent};
use feedpoint::model::cable::{Cable, CableDetail, CableUse, Conductor, Insulation};
use feedpoint::model::driver::{
    Driver, DriverBus, DriverDetail, DriverMains, DriverOutput, GearType, Mixing, SafetyClass,
};
use feedpoint::model::offer::{ItemKind, Offer, PriceStep, StockLength};
use feedpoint::model::strip::{Channel, Channels, LightSource, RailsKnown, Strip, StripDetail};
use feedpoint::quantity::conductor::ConductorSize;
use feedpoint::quantity::{Area, Length, Power, PowerPerLength, Temperature};
use std::sync::Arc;
use time::macros::date;
use uom::si::area::square_millimeter;
use uom::si::length::{meter, millimeter};
use uom::si::linear_power_density::watt_per_meter;
use uom::si::power::watt;
use uom::si::thermodynamic_temperature::kelvin;

/// The catalogue's items by what they are in this job.
pub struct Goods {
    pub pair: Arc<Strip>,
    pub single: Arc<Strip>,
    pub pair_120: Arc<Driver>,
    pub single_60: Arc<Driver>,
    pub feed_three: Arc<Cable>,
    pub feed_two: Arc<Cable>,
    pub bus: Arc<Cable>,
    pub mains: Arc<Cable>,
    pub controller: Arc<Controller>,
    pub sensor: Arc<ControlDevice>,
}

impl Goods {
    pub fn new() -> Goods {
        let size = |mm2| ConductorSize::Metric(Area::new::<square_millimeter>(mm2));
        Goods {
            pair: Arc::new(strip("white-pair-24-19", 2, 9.6)),
            single: Arc::new(strip("white-24", 1, 14.4)),
            pair_120: Arc::new(driver("pair-120", 120.0, 2, true)),
            single_60: Arc::new(driver("single-60", 60.0, 1, false)),
            feed_three: Arc::new(cable("flex-3-2.5", CableUse::StripFeed, 3, size(2.5))),
            feed_two: Arc::new(cable(
                "flex-2-16awg",
                CableUse::StripFeed,
                2,
                ConductorSize::Awg(16),
            )),
            bus: Arc::new(cable("bus-2-1.5", CableUse::Bus, 2, size(1.5))),
            mains: Arc::new(cable("mains-3-2.5", CableUse::Mains, 3, size(2.5))),
            controller: Arc::new(Controller {
                offer: offer(
                    "controller-2",
                    "Loop controller, two loops",
                    ItemKind::Controller,
                ),
                loops: 2,
                supply: Some(SupplyCurrent {
                    guaranteed: ma(160.0),
                    maximum: ma(250.0),
                }),
                joins_loops: true,
                whites: None,
                mains_current: Some(a(0.1)),
            }),
            sensor: Arc::new(ControlDevice {
                offer: offer("ceiling-sensor", "Ceiling sensor", ItemKind::ControlDevice),
                addresses: 1,
                current: None,
                marking: Default::default(),
            }),
        }
    }

    pub fn cables(&self) -> Vec<Arc<Cable>> {
        [&self.feed_three, &self.feed_two, &self.bus, &self.mains]
            .into_iter()
            .cloned()
            .collect()
    }
}

fn offer(id: &str, description: &str, kind: ItemKind) -> Offer {
    Offer {
        id: id.to_owned(),
        description: description.to_owned(),
        kind,
        prices: vec![PriceStep {
            from: dec("1"),
            price: dec("74.20"),
        }],
        pack: 1,
        smallest_order: 1,
        lead_time_days: Some(14),
        labour: None,
        price_valid_until: Some(date!(2027 - 03 - 31)),
        supplier: Some("Wholesale North".to_owned()),
        place: place(3),
    }
}

fn strip(id: &str, channels: usize, watts_per_metre: f64) -> Strip {
    let channel = |white: f64| Channel {
        power: PowerPerLength::new::<watt_per_meter>(watts_per_metre),
        flux: None,
        white: Some(Temperature::new::<kelvin>(white)),
        light_starts_at: Some(v(16.5)),
        regulated_from: None,
    };
    Strip {
        offer: offer(id, &format!("LED strip {id}"), ItemKind::Strip),
        voltage: v(24.0),
        channels: if channels == 2 {
            Channels::TunableWhite {
                warm: channel(2700.0),
                cool: channel(6500.0),
            }
        } else {
            Channels::SingleColour(channel(3000.0))
        },
        cut: Length::new::<millimeter>(50.0),
        light_source: LightSource::Resistor,
        rails: RailsKnown::Unknown,
        reels: vec![StockLength {
            length: Length::new::<meter>(5.0),
            prices: vec![PriceStep {
                from: dec("1"),
                price: dec("61.40"),
            }],
            available: None,
        }],
        ingress: Some((2, 0)),
        most_feed_current: None,
        least_voltage: None,
        joints: true,
        detail: StripDetail::default(),
    }
}

/// A driver whose sheet is complete, or one that says next to nothing.
fn driver(id: &str, watts: f64, channels: usize, complete: bool) -> Driver {
    let known = |amperes: f64| complete.then(|| a(amperes));
    Driver {
        offer: offer(
            id,
            &format!("Driver {watts} W, {channels} channels"),
            ItemKind::Driver,
        ),
        output: DriverOutput {
            voltage: v(24.0),
            power: Power::new::<watt>(watts),
            channels,
            current_per_channel: known(5.0),
            mixing: complete.then_some(Mixing::Shared),
            joins_plus: None,
        },
        bus: Some(DriverBus {
            addresses: 1,
            current: complete.then(|| ma(2.0)),
            gear: if channels == 2 {
                GearType::ColourTemperature
            } else {
                GearType::Single
            },
            marking: Default::default(),
            emergency: None,
        }),
        mains: DriverMains {
            voltage: None,
            current: known(0.62),
            most_per_b16: complete.then_some(12),
            earth_leakage: known(0.0007),
            power_factor: complete.then(|| pc(95.0)),
            efficiency: complete.then(|| pc(88.0)),
            needs: Default::default(),
        },
        largest_terminal: complete
            .then(|| ConductorSize::Metric(Area::new::<square_millimeter>(2.5))),
        most_ambient: None,
        derating: Vec::new(),
        least_load: None,
        least_level: None,
        safety: complete.then(|| vec![SafetyClass::Selv, SafetyClass::Class2]),
        size: None,
        detail: DriverDetail::default(),
    }
}

fn cable(id: &str, service: CableUse, cores: usize, size: ConductorSize) -> Cable {
    Cable {
        offer: offer(id, &format!("Cable {id}"), ItemKind::Cable),
        uses: vec![service],
        cores,
        size,
        conductor: Conductor::Class5,
        insulation: Insulation::Thermoplastic70,
        most_current: None,
        drums: Vec::new(),
        marking: Default::default(),
        detail: CableDetail::default(),
    }
}

//! Sections that hang on drivers of one kind, packed into drivers at least cost.

use super::cost::of_minor;
use super::limits;
use super::loading::{Job, room, size};
use super::sized::Section;
use super::suited;
use super::unit::Unit;
use crate::model::cable::Cable;
use crate::norms::limit::Source;
use crate::quantity::{Current, Length, Power};
use rust_decimal::Decimal;
use std::sync::Arc;
use uom::si::electric_current::nanoampere;
use uom::si::power::nanowatt;

/// What a section asks of a driver output.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    /// Power at the worst mix.
    pub power: Power,
    /// Most current of a channel.
    pub current: Current,
    /// Most current of each channel.
    pub channels: Vec<Current>,
    /// The feed cable that its terminals must take.
    pub cable: Arc<Cable>,
    /// What that cable may carry where it lies; `None` when that is not known.
    pub ampacity: Option<Current>,
    /// The longest cable to one of its feeds.
    pub longest_feed: Length,
}

impl Demand {
    /// What a section asks.
    #[must_use]
    pub fn of(section: &Section, ampacity: Option<Current>) -> Demand {
        let most = |a: Current, b: Current| if b > a { b } else { a };
        Demand {
            power: section.power,
            current: section
                .channel_currents
                .iter()
                .copied()
                .fold(Current::default(), most),
            channels: section.channel_currents.clone(),
            cable: Arc::clone(&section.cable),
            ampacity,
            longest_feed: longest_feed(section),
        }
    }
}

/// The longest cable to a feed of a section.
#[must_use]
pub fn longest_feed(section: &Section) -> Length {
    let lengths = section.feeds.iter().map(|feed| feed.cable_length);
    lengths.fold(Length::default(), Length::max)
}

/// A driver with the demands on each of its outputs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loaded {
    /// Index of the unit.
    pub unit: usize,
    /// Indices of the demands, output by output.
    pub outputs: Vec<Vec<usize>>,
}

/// Demands on drivers.
#[derive(Debug, Clone, PartialEq)]
pub struct Packed {
    /// The drivers, in the order of their first demand.
    pub drivers: Vec<Loaded>,
    /// Price and labour; `None` when a price is missing.
    pub cost: Option<Decimal>,
    /// Whether no packing costs less.
    pub optimal: bool,
    /// No packing costs less than this.
    pub bound: Option<Decimal>,
}

/// Packs demands into drivers. Units without a price are used only when some demand fits no other;
/// the fewest drivers are then taken. A demand that is too much for every unit gets the largest of
/// them to itself all the same: the driver is then overloaded, and judged so.
#[must_use]
pub fn pack(units: &[Unit], demands: &[Demand]) -> Packed {
    let fits_some = |demand: &Demand, priced: bool| {
        let may = |unit: &Unit| !priced || unit.cost.is_some();
        units.iter().any(|unit| may(unit) && fits(unit, demand))
    };
    let priced = demands
        .iter()
        .all(|demand| !fits_some(demand, false) || fits_some(demand, true));
    let placed = |place: &usize| demands.get(*place).is_some_and(|d| fits_some(d, priced));
    let (inside, left_over): (Vec<usize>, Vec<usize>) = (0..demands.len()).partition(placed);
    let job = Job {
        units,
        demands,
        priced,
    };
    let mut plan = job.plan(&inside);
    if !of_one_channel(demands) {
        plan.bound = bound_by_channels(&job, &inside);
    }
    let mut packed = Packed {
        optimal: plan.bound >= plan.minor,
        cost: priced.then(|| of_minor(plan.minor)),
        bound: priced.then(|| of_minor(plan.bound)),
        drivers: plan.drivers,
    };
    for place in left_over {
        force(&job, &mut packed, place);
    }
    let first = |loaded: &Loaded| loaded.outputs.iter().flatten().min().copied();
    packed.drivers.sort_by_key(first);
    packed
}

/// Whether one channel takes most of every demand: what is counted of each is then of that channel,
/// and their sum is exact. Otherwise it is too much by what the channels differ.
fn of_one_channel(demands: &[Demand]) -> bool {
    let most = demands.iter().map(|demand| demand.channels.len()).max();
    let leads = |channel: usize| {
        demands.iter().all(|demand| {
            let own = demand.channels.get(channel).copied().unwrap_or_default();
            own >= demand.current * (1.0 - 1e-9)
        })
    };
    most.is_none_or(|channels| channels == 0 || (0..channels).any(leads))
}

/// No packing costs less than when the channels other than one are left out, whichever one is kept.
fn bound_by_channels(job: &Job, inside: &[usize]) -> u64 {
    let both = job.units.iter().any(|unit| unit.sharing.adds_up());
    let channels = job.demands.iter().map(|demand| demand.channels.len());
    let bounds = (0..channels.max().unwrap_or(0)).map(|channel| {
        let alone = |demand: &Demand| {
            let current = demand.channels.get(channel).copied().unwrap_or_default();
            let power = if both || demand.current.value <= 0.0 {
                demand.power
            } else {
                demand.power * (current / demand.current)
            };
            Demand {
                power,
                current,
                channels: Vec::new(),
                ..demand.clone()
            }
        };
        let demands: Vec<Demand> = job.demands.iter().map(alone).collect();
        let alone = Job {
            demands: &demands,
            ..*job
        };
        alone.bound(inside)
    });
    bounds.max().unwrap_or(0)
}

/// Whether a unit can take a demand by itself.
#[must_use]
pub fn fits(unit: &Unit, demand: &Demand) -> bool {
    gives(unit, demand.power) && carries(unit, demand) && takes(unit, demand)
}

/// Whether a unit gives a power.
#[must_use]
pub fn gives(unit: &Unit, power: Power) -> bool {
    size(power.get::<nanowatt>()) <= room(unit.loadable.get::<nanowatt>())
}

/// Whether one output of a unit carries the current of a demand.
#[must_use]
pub fn carries(unit: &Unit, demand: &Demand) -> bool {
    unit.current.is_none_or(|most| {
        size(demand.current.get::<nanoampere>()) <= room(most.get::<nanoampere>())
    })
}

/// Whether a unit's terminals take a demand's cable, the cable stands all the current that the unit
/// can give, is of a wiring method that may stand behind it and no longer than the unit allows.
/// What is not known of either is not held against it.
#[must_use]
pub fn takes(unit: &Unit, demand: &Demand) -> bool {
    let terminal = limits::terminal(&unit.item, &demand.cable);
    let overload = demand.ampacity.map(|ampacity| {
        limits::cable_overload(&unit.item, unit.pieces, (ampacity, Source::Datasheet))
    });
    let length = suited::feed_length(&unit.item, demand.longest_feed);
    let wiring = suited::wiring(&unit.item, &demand.cable, unit.region);
    terminal
        .into_iter()
        .chain(overload)
        .chain(wiring)
        .chain(length)
        .all(|checked| checked.keeps)
}

/// The largest unit, of those whose terminals take the cable if there is one, for one demand.
fn force(job: &Job, packed: &mut Packed, place: usize) {
    let takes = |unit: &Unit| {
        job.demands
            .get(place)
            .is_some_and(|demand| takes(unit, demand))
    };
    let size = |unit: &Unit| (takes(unit), unit.loadable.value);
    let largest = (0..).zip(job.units).max_by(|(_, a), (_, b)| {
        let ((a_takes, a), (b_takes, b)) = (size(a), size(b));
        a_takes.cmp(&b_takes).then(a.total_cmp(&b))
    });
    let Some((unit, largest)) = largest else {
        packed.optimal = false;
        return;
    };
    packed.drivers.push(Loaded {
        unit,
        outputs: vec![vec![place]],
    });
    let with = |sum: Option<Decimal>| Some(sum? + largest.cost?);
    packed.cost = with(packed.cost);
    packed.bound = with(packed.bound);
}

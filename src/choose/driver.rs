//! Sections that hang on drivers of one kind, packed into drivers at least cost.

use super::cost::of_minor;
use super::demand::{Demand, Loaded, fits, takes};
use super::exhaustive;
use super::loading::{Job, Plan};
use super::unit::Unit;
use rust_decimal::Decimal;

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
    let mut plan = planned(&job, &inside);
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

/// The cheapest plan where that is proved, or else the best that was found: few demands are then put
/// together in every way there is.
fn planned(job: &Job, inside: &[usize]) -> Plan {
    let general = job.cheaper(inside);
    let idle = |plan: &Plan| plan.drivers.iter().any(|on| job.under_loaded(on));
    match general {
        Some(plan) if plan.bound >= plan.minor && !idle(&plan) => plan,
        general => exhaustive::plan(job, inside)
            .or(general)
            .unwrap_or_else(|| job.singly(inside)),
    }
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

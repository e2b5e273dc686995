//! Sections that hang on drivers of one kind, packed into drivers at least cost.

use super::cost::{minor, of_minor};
use super::filling::{Filling, Kind, Thing, fill};
use super::sized::Section;
use super::unit::Unit;
use crate::model::cable::Cable;
use crate::quantity::{Current, Power};
use num_traits::ToPrimitive;
use rust_decimal::Decimal;
use std::sync::Arc;
use uom::si::electric_current::milliampere;
use uom::si::power::milliwatt;

/// What a section asks of a driver output.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    /// Power at the worst mix.
    pub power: Power,
    /// Most current of a channel.
    pub current: Current,
    /// The feed cable that its terminals must take.
    pub cable: Arc<Cable>,
}

impl Demand {
    /// What a section asks.
    #[must_use]
    pub fn of(section: &Section) -> Demand {
        let most = |a: Current, b: Current| if b > a { b } else { a };
        Demand {
            power: section.power,
            current: section
                .channel_currents
                .iter()
                .copied()
                .fold(Current::default(), most),
            cable: Arc::clone(&section.cable),
        }
    }
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
    let fitting = |demand: &Demand, priced: bool| -> Vec<usize> {
        let suits = |unit: &Unit| (!priced || unit.cost.is_some()) && fits(unit, demand);
        (0..)
            .zip(units)
            .filter(|(_, unit)| suits(unit))
            .map(|(index, _)| index)
            .collect()
    };
    let priced = demands
        .iter()
        .all(|demand| fitting(demand, false).is_empty() || !fitting(demand, true).is_empty());
    let choices: Vec<Vec<usize>> = demands.iter().map(|d| fitting(d, priced)).collect();
    let placed = |place: &usize| choices.get(*place).is_some_and(|choice| !choice.is_empty());
    let (inside, left_over): (Vec<usize>, Vec<usize>) = (0..demands.len()).partition(placed);
    let job = Job {
        units,
        demands,
        priced,
    };
    let mut packed = job.finish(plan(&job, &choices, inside));
    for place in left_over {
        job.force(&mut packed, place);
    }
    let first = |loaded: &Loaded| loaded.outputs.iter().flatten().min().copied();
    packed.drivers.sort_by_key(first);
    packed
}

/// Whether a unit can take a demand by itself.
#[must_use]
pub fn fits(unit: &Unit, demand: &Demand) -> bool {
    let share = crate::norms::limit::Limit {
        value: unit.loadable,
        bound: crate::norms::limit::Bound::AtMost,
        source: crate::norms::limit::Source::Datasheet,
    };
    let within = unit
        .current
        .is_none_or(|most| demand.current <= most * (1.0 + 1e-9));
    share.allows(demand.power) && within && unit.takes(&demand.cable)
}

struct Job<'a> {
    units: &'a [Unit],
    demands: &'a [Demand],
    /// Whether units are compared by price, or only counted.
    priced: bool,
}

#[derive(Clone)]
struct Plan {
    drivers: Vec<Loaded>,
    minor: u64,
    bound: u64,
}

/// The cheaper of two plans: each set of units that take the same demands by itself, or all on
/// units that take every cable. With one such set they are the same.
fn plan(job: &Job, choices: &[Vec<usize>], inside: Vec<usize>) -> Plan {
    let mut sets: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    for place in inside.iter().copied() {
        let choice = choices.get(place).cloned().unwrap_or_default();
        match sets.iter_mut().find(|(units, _)| *units == choice) {
            Some((_, members)) => members.push(place),
            None => sets.push((choice, vec![place])),
        }
    }
    let nothing = Plan {
        drivers: Vec::new(),
        minor: 0,
        bound: 0,
    };
    let apart = sets
        .iter()
        .try_fold(nothing.clone(), |mut sum, (units, members)| {
            let more = job.filled(units, members)?;
            sum.drivers.extend(more.drivers);
            sum.minor = sum.minor.saturating_add(more.minor);
            sum.bound = sum.bound.saturating_add(more.bound);
            Some(sum)
        });
    if sets.len() < 2 {
        return apart.unwrap_or(nothing);
    }
    let usable: Vec<usize> = (0..job.units.len())
        .filter(|unit| sets.iter().any(|(units, _)| units.contains(unit)))
        .collect();
    let common: Vec<usize> = usable
        .iter()
        .copied()
        .filter(|unit| sets.iter().all(|(units, _)| units.contains(unit)))
        .collect();
    let together = job.filled(&common, &inside);
    // No demand can cost less than when any unit may take any cable.
    let bound = job.filled(&usable, &inside).map_or(0, |plan| plan.bound);
    let cheaper = [together, apart]
        .into_iter()
        .flatten()
        .min_by_key(|plan| plan.minor);
    Plan {
        bound,
        ..cheaper.unwrap_or(nothing)
    }
}

impl Job<'_> {
    /// `members` on the cheapest of `units`.
    fn filled(&self, units: &[usize], members: &[usize]) -> Option<Plan> {
        if members.is_empty() {
            return Some(Plan {
                drivers: Vec::new(),
                minor: 0,
                bound: 0,
            });
        }
        let mut excluded: Vec<usize> = Vec::new();
        let mut best: Option<Plan> = None;
        loop {
            let left: Vec<usize> = units
                .iter()
                .copied()
                .filter(|unit| !excluded.contains(unit))
                .collect();
            let Some(plan) = self.shared(&left, members) else {
                return best;
            };
            let idle = plan.drivers.iter().find(|loaded| self.under_loaded(loaded));
            let bound = best.as_ref().map_or(plan.bound, |best| best.bound);
            let Some(idle) = idle.map(|loaded| loaded.unit) else {
                return Some(Plan { bound, ..plan });
            };
            excluded.push(idle);
            best.get_or_insert(plan);
        }
    }

    /// Whether a driver has less on it than the least it needs.
    fn under_loaded(&self, loaded: &Loaded) -> bool {
        let load: Power = loaded
            .outputs
            .iter()
            .flatten()
            .filter_map(|demand| self.demands.get(*demand))
            .map(|demand| demand.power)
            .sum();
        self.units.get(loaded.unit).is_some_and(|unit| {
            let least = unit
                .item
                .least_load
                .map(|share| unit.item.output.power * share);
            least.is_some_and(|least| load < least)
        })
    }

    /// Sections share outputs by current where that works out, or else have one each.
    fn shared(&self, units: &[usize], members: &[usize]) -> Option<Plan> {
        let by_current = self.packed(
            units,
            members,
            |unit| {
                unit.current.map_or(NO_LIMIT, |most| {
                    whole(
                        most.get::<milliampere>() * real(unit.outputs) * (1.0 + 1e-9),
                        f64::floor,
                    )
                })
            },
            |demand| whole(demand.current.get::<milliampere>(), f64::floor),
        )?;
        let bound = by_current.0.bound;
        if let Some(drivers) = self.on_outputs(units, members, &by_current.0) {
            return Some(Plan {
                drivers,
                minor: by_current.0.price,
                bound,
            });
        }
        let apart = self.packed(
            units,
            members,
            |unit| unit.outputs.to_u64().unwrap_or(NO_LIMIT),
            |_| 1,
        )?;
        let drivers = self.on_outputs(units, members, &apart.0)?;
        Some(Plan {
            drivers,
            minor: apart.0.price,
            bound,
        })
    }

    fn packed(
        &self,
        units: &[usize],
        members: &[usize],
        room: impl Fn(&Unit) -> u64,
        size: impl Fn(&Demand) -> u64,
    ) -> Option<(Filling,)> {
        let kinds: Vec<Kind> = units
            .iter()
            .filter_map(|unit| self.units.get(*unit))
            .map(|unit| Kind {
                room: [
                    whole(unit.loadable.get::<milliwatt>() * (1.0 + 1e-9), f64::floor),
                    room(unit),
                ],
                price: unit.cost.filter(|_| self.priced).map_or(1, minor),
                available: None,
            })
            .collect();
        let things: Vec<Thing> = members
            .iter()
            .filter_map(|member| self.demands.get(*member))
            .map(|demand| Thing {
                size: [
                    whole(demand.power.get::<milliwatt>(), f64::floor),
                    size(demand),
                ],
                count: 1,
            })
            .collect();
        Some((fill(&kinds, &things)?,))
    }

    /// The demands of each container on outputs; `None` when the currents don't divide.
    fn on_outputs(
        &self,
        units: &[usize],
        members: &[usize],
        filling: &Filling,
    ) -> Option<Vec<Loaded>> {
        filling
            .containers
            .iter()
            .map(|container| {
                let unit = *units.get(container.kind)?;
                let held: Vec<usize> = members
                    .iter()
                    .zip(&container.counts)
                    .filter(|(_, count)| **count > 0)
                    .map(|(member, _)| *member)
                    .collect();
                Some(Loaded {
                    unit,
                    outputs: self.divided(self.units.get(unit)?, held)?,
                })
            })
            .collect()
    }

    /// Each demand on the output with least on it, largest first.
    fn divided(&self, unit: &Unit, mut held: Vec<usize>) -> Option<Vec<Vec<usize>>> {
        let current = |place: usize| {
            self.demands
                .get(place)
                .map_or(Current::default(), |demand| demand.current)
        };
        held.sort_by(|a, b| {
            current(*b)
                .value
                .total_cmp(&current(*a).value)
                .then(a.cmp(b))
        });
        let mut outputs: Vec<(Current, Vec<usize>)> =
            vec![(Current::default(), Vec::new()); unit.outputs];
        for place in held {
            let (sum, on) = outputs
                .iter_mut()
                .min_by(|a, b| a.0.value.total_cmp(&b.0.value))?;
            *sum += current(place);
            if unit.current.is_some_and(|most| *sum > most * (1.0 + 1e-9)) {
                return None;
            }
            on.push(place);
        }
        let mut outputs: Vec<Vec<usize>> = outputs
            .into_iter()
            .map(|(_, mut on)| {
                on.sort_unstable();
                on
            })
            .filter(|on| !on.is_empty())
            .collect();
        outputs.sort();
        Some(outputs)
    }

    fn finish(&self, plan: Plan) -> Packed {
        Packed {
            optimal: plan.bound >= plan.minor,
            cost: self.priced.then(|| of_minor(plan.minor)),
            bound: self.priced.then(|| of_minor(plan.bound)),
            drivers: plan.drivers,
        }
    }

    /// The largest unit, of those whose terminals take the cable if there is one, for one demand.
    fn force(&self, packed: &mut Packed, place: usize) {
        let takes = |unit: &Unit| {
            let demand = self.demands.get(place);
            demand.is_some_and(|demand| unit.takes(&demand.cable))
        };
        let size = |unit: &Unit| (takes(unit), unit.loadable.value);
        let largest = (0..).zip(self.units).max_by(|(_, a), (_, b)| {
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
}

/// Room in a dimension that does not limit.
const NO_LIMIT: u64 = 1 << 40;

fn real(count: usize) -> f64 {
    crate::quantity::number::real(count)
}

fn whole(value: f64, round: fn(f64) -> f64) -> u64 {
    round(value).to_u64().unwrap_or(NO_LIMIT)
}

//! Demands packed onto units: which unit takes which cable, how outputs are shared, and what
//! is the least load.

use super::cost::minor;
use super::demand::{Demand, Loaded, NO_LIMIT, carries, fits, room, size, takes};
use super::filling::{Filling, Kind, Thing, fill};
use super::unit::Unit;
use crate::quantity::number::real;
use crate::quantity::{Current, Power};
use num_traits::ToPrimitive;
use uom::si::electric_current::nanoampere;
use uom::si::power::nanowatt;

/// Demands and the units that they may go on.
#[derive(Clone, Copy)]
pub(super) struct Job<'a> {
    /// The units.
    pub units: &'a [Unit],
    /// The demands.
    pub demands: &'a [Demand],
    /// Whether units are compared by price, or only counted.
    pub priced: bool,
}

/// Drivers for some demands.
#[derive(Clone, Default)]
pub(super) struct Plan {
    /// The drivers.
    pub drivers: Vec<Loaded>,
    /// What they cost, in the smallest unit.
    pub minor: u64,
    /// No plan costs less.
    pub bound: u64,
}

impl Job<'_> {
    /// No plan costs less than this.
    pub fn bound(&self, inside: &[usize]) -> u64 {
        self.cheaper(inside).map_or(0, |plan| plan.bound)
    }

    /// Each demand on the cheapest unit that takes it, nothing proved.
    pub fn singly(&self, inside: &[usize]) -> Plan {
        let mut plan = Plan::default();
        for place in inside {
            let price = |unit: &usize| {
                let unit = self.units.get(*unit);
                unit.and_then(|unit| unit.cost).map_or(1, minor)
            };
            let fitting = self.taking(*place).into_iter().filter(|unit| {
                let pair = self.units.get(*unit).zip(self.demands.get(*place));
                pair.is_some_and(|(unit, demand)| fits(unit, demand))
            });
            if let Some(unit) = fitting.min_by_key(price) {
                plan.minor = plan.minor.saturating_add(price(&unit));
                plan.drivers.push(Loaded {
                    unit,
                    outputs: vec![vec![*place]],
                });
            }
        }
        plan
    }

    /// The cheaper of two plans: demands whose cables the same units take by themselves, or all on
    /// units that take every cable. With one such set they are the same.
    pub fn cheaper(&self, inside: &[usize]) -> Option<Plan> {
        let mut sets: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
        for place in inside.iter().copied() {
            let taking = self.taking(place);
            match sets.iter_mut().find(|(units, _)| *units == taking) {
                Some((_, members)) => members.push(place),
                None => sets.push((taking, vec![place])),
            }
        }
        let apart = sets
            .iter()
            .try_fold(Plan::default(), |mut sum, (units, members)| {
                let more = self.filled(units, members)?;
                sum.drivers.extend(more.drivers);
                sum.minor = sum.minor.saturating_add(more.minor);
                sum.bound = sum.bound.saturating_add(more.bound);
                Some(sum)
            });
        if sets.len() < 2 {
            return apart;
        }
        let in_some = |unit: &usize| sets.iter().any(|(units, _)| units.contains(unit));
        let in_all = |unit: &usize| sets.iter().all(|(units, _)| units.contains(unit));
        let any: Vec<usize> = (0..self.units.len()).filter(in_some).collect();
        let common: Vec<usize> = any.iter().copied().filter(in_all).collect();
        let together = self.filled(&common, inside);
        // No demand can cost less than when any unit may take any cable.
        let bound = self.filled(&any, inside).map_or(0, |plan| plan.bound);
        let plans = [together, apart].into_iter().flatten();
        let best = plans.min_by_key(|plan| plan.minor)?;
        Some(Plan { bound, ..best })
    }

    /// Units that take a demand's cable and current and that may be bought.
    fn taking(&self, place: usize) -> Vec<usize> {
        let Some(demand) = self.demands.get(place) else {
            return Vec::new();
        };
        let may = |unit: &Unit| takes(unit, demand) && carries(unit, demand) && self.may_buy(unit);
        (0..)
            .zip(self.units)
            .filter(|(_, unit)| may(unit))
            .map(|(index, _)| index)
            .collect()
    }

    /// Whether a unit counts: one without a price does not while units are compared by price.
    pub(super) fn may_buy(&self, unit: &Unit) -> bool {
        !self.priced || unit.cost.is_some()
    }

    /// `members` on the cheapest of `units`.
    fn filled(&self, units: &[usize], members: &[usize]) -> Option<Plan> {
        if members.is_empty() {
            return Some(Plan::default());
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
    pub(super) fn under_loaded(&self, loaded: &Loaded) -> bool {
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
                .map(|share| unit.item.output.power * share * real(unit.pieces));
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
                    room(most.get::<nanoampere>() * real(unit.outputs))
                })
            },
            |demand| size(demand.current.get::<nanoampere>()),
        )?;
        let bound = by_current.bound;
        if let Some(drivers) = self.on_outputs(units, members, &by_current) {
            return Some(Plan {
                drivers,
                minor: by_current.price,
                bound,
            });
        }
        let apart = self.packed(
            units,
            members,
            |unit| unit.outputs.to_u64().unwrap_or(NO_LIMIT),
            |_| 1,
        )?;
        let drivers = self.on_outputs(units, members, &apart)?;
        Some(Plan {
            drivers,
            minor: apart.price,
            bound,
        })
    }

    fn packed(
        &self,
        units: &[usize],
        members: &[usize],
        other_room: impl Fn(&Unit) -> u64,
        other_size: impl Fn(&Demand) -> u64,
    ) -> Option<Filling> {
        let kinds: Vec<Kind> = units
            .iter()
            .filter_map(|unit| self.units.get(*unit))
            .map(|unit| Kind {
                room: [room(unit.loadable.get::<nanowatt>()), other_room(unit)],
                price: unit.cost.filter(|_| self.priced).map_or(1, minor),
                available: None,
            })
            .collect();
        let things: Vec<Thing> = members
            .iter()
            .filter_map(|member| self.demands.get(*member))
            .map(|demand| Thing {
                size: [size(demand.power.get::<nanowatt>()), other_size(demand)],
                count: 1,
            })
            .collect();
        fill(&kinds, &things)
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
                let held: Vec<usize> = container
                    .contents
                    .each()
                    .filter_map(|(index, _)| members.get(index).copied())
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
}

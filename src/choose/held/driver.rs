//! Sections on the drivers that they were issued on.

use crate::choose::demand::{Demand, Loaded, fits, takes};
use crate::choose::driver::{Packed, pack};
use crate::choose::exhaustive::on_one;
use crate::choose::loading::Job;
use crate::choose::unit::Unit;
use crate::model::issued::{Record, Released};
use crate::quantity::{Current, Power};
use std::collections::BTreeSet;
use uom::si::power::watt;

/// What is asked of drivers of one kind in one place.
pub(in crate::choose) struct Wanted<'a> {
    /// The record.
    pub record: &'a Record,
    /// The cupboard.
    pub cupboard: &'a str,
    /// Units that suit.
    pub units: &'a [Unit],
    /// What each section asks.
    pub demands: &'a [Demand],
    /// The run and the section, from 1, that each demand is of.
    pub sections: &'a [(String, usize)],
}

/// Sections that stay on their drivers, and those that are still to be placed.
#[derive(Debug, Default)]
struct Holding {
    /// Drivers with their numbers; an output may have nothing left on it.
    drivers: Vec<(Vec<String>, Loaded)>,
    /// Demands still to be placed, rising.
    free: Vec<usize>,
}

impl Wanted<'_> {
    /// The drivers with their numbers: two for two units that stand in for one driver, none for
    /// what is new. `afresh` is the
    /// packing that would be chosen had nothing been issued: it becomes that of what is held.
    pub(in crate::choose) fn drivers(
        &self,
        afresh: &mut Packed,
        taken: &mut BTreeSet<String>,
        released: &mut Vec<Released>,
    ) -> Vec<(Vec<String>, Loaded)> {
        let Holding { mut drivers, free } = self.hold(taken, released);
        let waiting: Vec<Demand> = free
            .iter()
            .filter_map(|demand| self.demands.get(*demand).cloned())
            .collect();
        if !waiting.is_empty() {
            for new in pack(self.units, &waiting).drivers {
                let known = |on: &Vec<usize>| -> Vec<usize> {
                    let places = on.iter().filter_map(|place| free.get(*place));
                    places.copied().collect()
                };
                let outputs = new.outputs.iter().map(known).collect();
                let unit = new.unit;
                drivers.push((Vec::new(), Loaded { unit, outputs }));
            }
        }
        let cost = |(_, loaded): &(Vec<String>, Loaded)| self.units.get(loaded.unit)?.cost;
        afresh.cost = drivers.iter().map(cost).sum();
        let least = afresh.bound;
        afresh.optimal = afresh
            .cost
            .zip(least)
            .is_some_and(|(cost, least)| cost <= least);
        drivers
    }

    /// Holds what was issued: each driver keeps what it had while that is within its limits. One
    /// that would be overloaded is changed for a unit that takes it all, under the same number, or
    /// else gives up what it can't take. What is new goes on drivers that have room left.
    fn hold(&self, taken: &mut BTreeSet<String>, released: &mut Vec<Released>) -> Holding {
        let mut holding = Holding::default();
        let mut placed: BTreeSet<usize> = BTreeSet::new();
        for issued in &self.record.drivers {
            if issued.cupboard != self.cupboard || taken.contains(&issued.driver) {
                continue;
            }
            let mut outputs = self.outputs(&issued.driver);
            if outputs.iter().all(Vec::is_empty) {
                continue;
            }
            let beside = self.beside(&issued.driver);
            let pieces = if beside.is_some() { 2 } else { 1 };
            let same = |unit: &Unit| unit.item.offer.id == issued.item && unit.pieces == pieces;
            let unit = self.units.iter().position(same);
            let Some(loaded) = self.kept(unit, &mut outputs, &issued.driver, released) else {
                continue;
            };
            placed.extend(loaded.outputs.iter().flatten());
            let kept = self.units.get(loaded.unit).map_or(1, |unit| unit.pieces);
            let numbers = std::iter::once(issued.driver.clone()).chain(beside);
            let numbers: Vec<String> = numbers.take(kept).collect();
            taken.extend(numbers.iter().cloned());
            holding.drivers.push((numbers, loaded));
        }
        holding.free = (0..self.demands.len())
            .filter(|demand| !placed.contains(demand))
            .collect();
        self.fill(&mut holding);
        holding
    }

    /// The unit that stood beside a driver for the cool channel of what is on it.
    fn beside(&self, driver: &str) -> Option<String> {
        let sections = self.record.runs.iter().flat_map(|run| &run.sections);
        let mut own = sections.filter(|section| section.driver == driver);
        own.find_map(|section| section.beside.clone())
    }

    fn job(&self) -> Job<'_> {
        Job {
            units: self.units,
            demands: self.demands,
            priced: false,
        }
    }

    /// The demands that were on each output of a driver.
    fn outputs(&self, driver: &str) -> Vec<Vec<usize>> {
        let mut outputs: Vec<Vec<usize>> = Vec::new();
        for run in &self.record.runs {
            for (number, section) in (1..).zip(&run.sections) {
                let named = |(name, at): &(String, usize)| *name == run.run && *at == number;
                let Some(demand) = self.sections.iter().position(named) else {
                    continue;
                };
                if section.driver != driver {
                    continue;
                }
                let output = section.output.clamp(1, 64);
                outputs.resize(outputs.len().max(output), Vec::new());
                if let Some(on) = outputs.get_mut(output - 1) {
                    on.push(demand);
                }
            }
        }
        outputs
    }

    /// The driver with as much as it can keep of what it had; `None` when that is nothing.
    fn kept(
        &self,
        unit: Option<usize>,
        outputs: &mut [Vec<usize>],
        number: &str,
        released: &mut Vec<Released>,
    ) -> Option<Loaded> {
        let as_it_was = |outputs: &[Vec<usize>]| {
            let loaded = Loaded {
                unit: unit?,
                outputs: outputs.to_vec(),
            };
            self.holds(&loaded).then_some(loaded)
        };
        if let Some(loaded) = as_it_was(outputs) {
            return Some(loaded);
        }
        let all: Vec<usize> = outputs.iter().flatten().copied().collect();
        if let Some(unit) = unit.filter(|_| all.iter().any(|demand| !self.fits_some(*demand))) {
            // No other driver would cure it: it is judged where it is.
            let outputs = outputs.to_owned();
            return Some(Loaded { unit, outputs });
        }
        let why = self.why(unit, outputs);
        if let Some(loaded) = self.another(unit, &all) {
            released.push(Released::new(format!("driver {number}"), why));
            return Some(loaded);
        }
        // What asks most goes first: the rest then stays.
        let mut given_up = Vec::new();
        while outputs.iter().any(|on| !on.is_empty()) {
            let largest = outputs.iter().flatten().copied().max_by(|a, b| {
                self.power(*a)
                    .value
                    .total_cmp(&self.power(*b).value)
                    .then(a.cmp(b))
            })?;
            outputs
                .iter_mut()
                .for_each(|on| on.retain(|one| *one != largest));
            given_up.push(largest);
            if outputs.iter().all(Vec::is_empty) {
                break;
            }
            if let Some(loaded) = as_it_was(outputs) {
                released.extend(given_up.iter().map(|one| self.let_go(*one, &why)));
                return Some(loaded);
            }
        }
        released.extend(given_up.iter().map(|one| self.let_go(*one, &why)));
        None
    }

    fn fits_some(&self, demand: usize) -> bool {
        let demand = self.demands.get(demand);
        demand.is_some_and(|demand| self.units.iter().any(|unit| fits(unit, demand)))
    }

    fn let_go(&self, demand: usize, why: &str) -> Released {
        let name = self
            .sections
            .get(demand)
            .map_or_else(String::new, |(run, number)| {
                let sections = self.record.run(run).map_or(1, |run| run.sections.len());
                match sections {
                    1 => run.clone(),
                    _ => format!("{run} section {number}"),
                }
            });
        Released::new(format!("driver output {name}"), why)
    }

    fn power(&self, demand: usize) -> Power {
        self.demands
            .get(demand)
            .map_or(Power::default(), |demand| demand.power)
    }

    fn total(&self, loaded: &[Vec<usize>]) -> Power {
        loaded
            .iter()
            .flatten()
            .map(|demand| self.power(*demand))
            .sum()
    }

    /// Whether a driver takes what is on its outputs as it is.
    fn holds(&self, loaded: &Loaded) -> bool {
        let Some(unit) = self.units.get(loaded.unit) else {
            return false;
        };
        let allowed = 1.0 + 1e-9;
        let within = |on: &Vec<usize>| {
            let demands = on.iter().filter_map(|demand| self.demands.get(*demand));
            let current = demands.fold(Current::default(), |sum, demand| sum + demand.current);
            unit.current.is_none_or(|most| current <= most * allowed)
        };
        let all = loaded.outputs.iter().flatten();
        let mut demands = all.filter_map(|demand| self.demands.get(*demand));
        loaded.outputs.len() <= unit.outputs
            && loaded.outputs.iter().all(within)
            && demands.all(|demand| takes(unit, demand))
            && self.total(&loaded.outputs) <= unit.loadable * allowed
            && !self.job().under_loaded(loaded)
    }

    /// The cheapest unit that takes everything; the one that was there before others when only its
    /// outputs have to be shared anew.
    fn another(&self, known: Option<usize>, all: &[usize]) -> Option<Loaded> {
        let job = self.job();
        let taking = |index: usize| {
            let unit = self.units.get(index)?;
            let outputs = on_one(&job, unit, all)?;
            let loaded = Loaded {
                unit: index,
                outputs,
            };
            (!job.under_loaded(&loaded)).then_some(loaded)
        };
        if let Some(loaded) = known.and_then(taking) {
            return Some(loaded);
        }
        let cost = |loaded: &Loaded| {
            let unit = self.units.get(loaded.unit);
            let cost = unit.and_then(|unit| unit.cost);
            (cost.is_none(), cost, loaded.unit)
        };
        (0..self.units.len()).filter_map(taking).min_by_key(cost)
    }

    /// Why a driver can't keep what it had.
    fn why(&self, unit: Option<usize>, outputs: &[Vec<usize>]) -> String {
        let Some(unit) = unit.and_then(|unit| self.units.get(unit)) else {
            return "its item no longer suits what is on it, or has left the catalogue".to_owned();
        };
        let load = self.total(outputs);
        if load > unit.loadable * (1.0 + 1e-9) {
            return format!(
                "its load would be {:.1} W, and {} may be given {:.1} W",
                load.get::<watt>(),
                unit.item.offer.id,
                unit.loadable.get::<watt>()
            );
        }
        let item = &unit.item.offer.id;
        let mut demands = outputs.iter().flatten();
        let untaken = |demand: &usize| {
            let demand = self.demands.get(*demand);
            demand.is_some_and(|demand| !takes(unit, demand))
        };
        if demands.any(untaken) {
            return format!("{item} does not take a cable that is on it");
        }
        let least = unit
            .item
            .least_load
            .map(|share| unit.item.output.power * share);
        if least.is_some_and(|least| load < least) {
            return format!("{item} has less on it than it needs");
        }
        format!("an output of {item} would carry too much")
    }

    /// Puts what is free on drivers that have room for it, largest first, each where least room is
    /// then left.
    fn fill(&self, holding: &mut Holding) {
        let mut waiting = std::mem::take(&mut holding.free);
        waiting.sort_by(|a, b| {
            let larger = self.power(*b).value.total_cmp(&self.power(*a).value);
            larger.then(a.cmp(b))
        });
        for demand in waiting {
            let mut best: Option<(Power, usize, Loaded)> = None;
            for (place, (_, loaded)) in holding.drivers.iter().enumerate() {
                let Some(more) = self.with(loaded, demand) else {
                    continue;
                };
                let Some(unit) = self.units.get(more.unit) else {
                    continue;
                };
                let left = unit.loadable - self.total(&more.outputs);
                if best.as_ref().is_none_or(|(least, ..)| left < *least) {
                    best = Some((left, place, more));
                }
            }
            match best {
                Some((_, place, more)) => {
                    if let Some((_, loaded)) = holding.drivers.get_mut(place) {
                        *loaded = more;
                    }
                }
                None => holding.free.push(demand),
            }
        }
        holding.free.sort_unstable();
    }

    /// A driver with one more demand, on an empty output or else where there is least current.
    fn with(&self, loaded: &Loaded, demand: usize) -> Option<Loaded> {
        let unit = self.units.get(loaded.unit)?;
        if !fits(unit, self.demands.get(demand)?) {
            return None;
        }
        let current = |on: &Vec<usize>| {
            let demands = on.iter().filter_map(|demand| self.demands.get(*demand));
            demands.fold(0.0, |sum, demand| sum + demand.current.value)
        };
        let mut outputs = loaded.outputs.clone();
        outputs.resize(outputs.len().max(unit.outputs), Vec::new());
        let least = outputs
            .iter_mut()
            .min_by(|a, b| current(a).total_cmp(&current(b)))?;
        least.push(demand);
        while outputs.last().is_some_and(Vec::is_empty) {
            outputs.pop();
        }
        let more = Loaded {
            unit: loaded.unit,
            outputs,
        };
        self.holds(&more).then_some(more)
    }
}

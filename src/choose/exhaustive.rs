//! A few demands on units, by going through every way to put them together: what terminals, least
//! loads and the division over outputs keep the general packing from proving.

use super::cost::minor;
use super::demand::{Loaded, room, size, takes};
use super::loading::{Job, Plan};
use super::unit::Unit;
use crate::quantity::Current;
use uom::si::power::nanowatt;

/// Most demands that are gone through: their number of pairs of subsets is 3 to that power.
pub(super) const MOST: usize = 10;

/// Drivers below their least load, cost, drivers: fewer of each is better, in that order.
type Rank = (usize, u64, usize);

/// The best driver for some demands together.
#[derive(Clone)]
struct Block {
    rank: Rank,
    loaded: Loaded,
}

/// The demands on the units that leave the fewest drivers below their least load, then cost least,
/// then are fewest. `None` when a demand fits no unit, or there are more than [`MOST`].
pub(super) fn plan(job: &Job, members: &[usize]) -> Option<Plan> {
    if members.len() > MOST {
        return None;
    }
    let whole = (1_usize << members.len()) - 1;
    let blocks: Vec<Option<Block>> = (0..=whole)
        .map(|subset| block(job, &chosen(members, subset)))
        .collect();
    let mut best: Vec<Option<(Rank, usize)>> = vec![Some(((0, 0, 0), 0))];
    for set in 1..=whole {
        let found = splits(set)
            .filter_map(|subset| {
                let rank = blocks.get(subset)?.as_ref()?.rank;
                let (rest, _) = (*best.get(set & !subset)?)?;
                Some(((rank.0 + rest.0, rank.1 + rest.1, rank.2 + rest.2), subset))
            })
            .min();
        best.push(found);
    }
    let mut drivers = Vec::new();
    let mut left = whole;
    while left > 0 {
        let (_, subset) = (*best.get(left)?)?;
        drivers.push(blocks.get(subset)?.as_ref()?.loaded.clone());
        left &= !subset;
    }
    let ((_, minor, _), _) = (*best.last()?)?;
    Some(Plan {
        drivers,
        minor,
        bound: minor,
    })
}

/// Subsets of a set that hold its lowest member.
fn splits(set: usize) -> impl Iterator<Item = usize> {
    let lowest = set & set.wrapping_neg();
    let mut next = Some(set);
    std::iter::from_fn(move || {
        let subset = next?;
        next = subset.checked_sub(1).map(|less| less & set);
        Some(subset)
    })
    .filter(move |subset| subset & lowest != 0)
}

fn chosen(members: &[usize], subset: usize) -> Vec<usize> {
    let inside = |place: &usize| subset >> place & 1 == 1;
    (0..members.len())
        .filter(inside)
        .filter_map(|place| members.get(place).copied())
        .collect()
}

/// The best unit for demands that share one driver.
fn block(job: &Job, held: &[usize]) -> Option<Block> {
    if held.is_empty() {
        return None;
    }
    (0..)
        .zip(job.units)
        .filter(|(_, unit)| job.may_buy(unit))
        .filter_map(|(index, unit)| {
            let loaded = Loaded {
                unit: index,
                outputs: on_one(job, unit, held)?,
            };
            let idle = usize::from(job.under_loaded(&loaded));
            let price = unit.cost.filter(|_| job.priced).map_or(1, minor);
            Some(Block {
                rank: (idle, price, 1),
                loaded,
            })
        })
        .min_by_key(|block| (block.rank, block.loaded.unit))
}

/// The demands on the outputs of a unit; `None` when it can't take them.
pub(super) fn on_one(job: &Job, unit: &Unit, held: &[usize]) -> Option<Vec<Vec<usize>>> {
    let mut power = 0_u64;
    let mut currents: Vec<(Current, usize)> = Vec::with_capacity(held.len());
    for place in held {
        let demand = job.demands.get(*place)?;
        if !takes(unit, demand) {
            return None;
        }
        power = power.saturating_add(size(demand.power.get::<nanowatt>()));
        currents.push((demand.current, *place));
    }
    if power > room(unit.loadable.get::<nanowatt>()) {
        return None;
    }
    currents.sort_by(|a, b| b.0.value.total_cmp(&a.0.value).then(a.1.cmp(&b.1)));
    let mut outputs = vec![(Current::default(), Vec::new()); unit.outputs];
    if !divide(&currents, unit.current, &mut outputs) {
        return None;
    }
    let mut outputs: Vec<Vec<usize>> = outputs
        .into_iter()
        .map(|(_, on)| on)
        .filter(|on| !on.is_empty())
        .collect();
    for on in &mut outputs {
        on.sort_unstable();
    }
    outputs.sort();
    Some(outputs)
}

/// Puts currents on outputs, the least loaded first, going back where that leads nowhere.
fn divide(
    currents: &[(Current, usize)],
    most: Option<Current>,
    outputs: &mut [(Current, Vec<usize>)],
) -> bool {
    let Some(((current, place), rest)) = currents.split_first() else {
        return true;
    };
    let mut order: Vec<usize> = (0..outputs.len()).collect();
    order.sort_by(|a, b| {
        let sum = |output: &usize| outputs.get(*output).map_or(0.0, |(sum, _)| sum.value);
        sum(a).total_cmp(&sum(b))
    });
    for output in order {
        let Some((sum, on)) = outputs.get_mut(output) else {
            continue;
        };
        let before = *sum;
        if most.is_some_and(|most| before + *current > most * (1.0 + 1e-9)) {
            return false;
        }
        *sum = before + *current;
        on.push(*place);
        if divide(rest, most, outputs) {
            return true;
        }
        if let Some((sum, on)) = outputs.get_mut(output) {
            *sum = before;
            on.pop();
        }
    }
    false
}

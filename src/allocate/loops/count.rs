//! How many loops: the fewest that addresses and current allow, a fixed number, or more where the
//! distances ask for it.

use super::block::Block;
use super::capacity::{Capacity, added};
use super::exact;
use super::placing::{Ground, Placed};
use super::unit::Unit;
use crate::allocate::packing::{Bin, Effort, Item, SIZES, Sizes, pack};
use crate::model::project::Topology;
use crate::solve::route::Routes;
use num_traits::ToPrimitive;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Loops tried beyond the fewest, for the sake of drop and distance.
const MORE: usize = 16;

/// Blocks packed on the fewest loops.
#[derive(Debug, Clone)]
pub(super) struct Fewest {
    /// The blocks of each loop.
    pub loops: Vec<Vec<usize>>,
    /// Whether fewer are proved impossible.
    pub proved: bool,
    /// No layout has fewer loops.
    pub bound: usize,
}

/// Packs `blocks` on the fewest loops. A block that is too large for any has one to itself.
///
/// A group that is in several blocks is one group on each loop that any of them is on, so that what
/// blocks take of a loop's groups does not add up. Such groups are counted in two ways, and the one
/// that takes fewer loops is kept: each of its blocks by itself, or room for all of them on every
/// loop. The bound leaves them out.
pub(super) fn fewest(units: &[Unit], blocks: &[Block], capacity: &Capacity) -> Fewest {
    let as_they_are: Vec<Sizes> = blocks.iter().map(|block| block.sizes).collect();
    let apart = packed(&as_they_are, capacity);
    let split = in_several(units, blocks);
    if split.is_empty() {
        return apart;
    }
    let without = |block: &Block| {
        let own = groups(units, block);
        let shared = own.filter(|group| split.contains(group)).count();
        let [gear, devices, current, all] = block.sizes;
        let shared = shared.to_u128().unwrap_or(u128::MAX);
        [gear, devices, current, all.saturating_sub(shared)]
    };
    let without: Vec<Sizes> = blocks.iter().map(without).collect();
    let bound = packed(&without, capacity).bound;
    let kept = capacity.with_groups_less(split.len());
    let kept = kept.map(|capacity| packed(&without, &capacity));
    let best = match kept {
        Some(kept) if kept.loops.len() < apart.loops.len() => kept,
        _ => apart,
    };
    Fewest {
        proved: best.loops.len() <= bound,
        loops: best.loops,
        bound,
    }
}

/// The groups of a block, each once.
fn groups(units: &[Unit], block: &Block) -> impl Iterator<Item = usize> {
    let units = block.units.iter().filter_map(|unit| units.get(*unit));
    let groups: BTreeSet<usize> = units.filter_map(|unit| unit.group).collect();
    groups.into_iter()
}

/// Groups that are in more than one block.
fn in_several(units: &[Unit], blocks: &[Block]) -> BTreeSet<usize> {
    let mut seen = BTreeSet::new();
    let all = blocks.iter().flat_map(|block| groups(units, block));
    all.filter(|group| !seen.insert(*group)).collect()
}

/// Packs blocks of these sizes on the fewest loops.
fn packed(blocks: &[Sizes], capacity: &Capacity) -> Fewest {
    let mut alike: BTreeMap<Sizes, Vec<usize>> = BTreeMap::new();
    let mut loops: Vec<Vec<usize>> = Vec::new();
    for (index, sizes) in blocks.iter().enumerate() {
        if capacity.takes(sizes) {
            alike.entry(*sizes).or_default().push(index);
        } else {
            loops.push(vec![index]);
        }
    }
    let items: Vec<Item> = alike
        .iter()
        .map(|(sizes, list)| Item {
            sizes: *sizes,
            count: list.len(),
        })
        .collect();
    let bin = Bin {
        capacity: capacity.0,
        cost: 1,
    };
    let Some(packing) = pack(&items, &[bin], Effort::default()) else {
        return Fewest {
            loops,
            proved: false,
            bound: 1,
        };
    };
    let alone = loops.len();
    let mut lists: Vec<std::vec::IntoIter<usize>> =
        alike.into_values().map(Vec::into_iter).collect();
    for filled in &packing.bins {
        let mut held = Vec::new();
        for (list, count) in lists.iter_mut().zip(&filled.counts) {
            held.extend(list.by_ref().take(*count));
        }
        held.sort_unstable();
        loops.push(held);
    }
    Fewest {
        loops,
        proved: packing.proved(),
        bound: alone + usize::try_from(packing.bound).unwrap_or(0),
    }
}

/// The best placing found on the fewest loops, with more where drop or distance ask for it; and
/// how many more those are.
pub(super) fn place(ground: &Ground, fewest: &Fewest) -> (Placed, usize) {
    let base = with_least_cable(ground, best(ground, fewest.loops.clone()));
    let mut trial = base.clone();
    for _ in 0..MORE {
        if trial.score.fault == 0 || trial.loops.len() >= ground.blocks.len() {
            break;
        }
        let mut loops = trial.loops.clone();
        loops.push(Vec::new());
        trial = ground.improved(ground.placed(loops));
        if trial.score.fault == 0 && trial.score.excess == 0 {
            // One that was opened and stayed empty is none.
            trial.loops.retain(|blocks| !blocks.is_empty());
            let more = trial.loops.len().saturating_sub(base.loops.len());
            return (trial, more);
        }
    }
    (base, 0)
}

/// The best placing found on exactly `count` loops, whether or not they take the blocks.
pub(super) fn place_on(ground: &Ground, fewest: &Fewest, count: usize) -> Placed {
    let mut loops = if fewest.loops.len() <= count {
        let mut loops = fewest.loops.clone();
        loops.resize(count, Vec::new());
        loops
    } else {
        level(ground.blocks, &ground.capacity, count)
    };
    while let Some((from, to)) = lopsided(&loops) {
        let moved = loops.get_mut(from).and_then(Vec::pop);
        if let (Some(list), Some(block)) = (loops.get_mut(to), moved) {
            list.push(block);
        }
    }
    let filled = ground.placed(loops);
    let improved = ground.improved(filled.clone());
    let all_used = improved.loops.iter().all(|blocks| !blocks.is_empty());
    if all_used || improved.score.excess < filled.score.excess {
        improved
    } else {
        filled
    }
}

/// A loop with two blocks or more, and one with none.
fn lopsided(loops: &[Vec<usize>]) -> Option<(usize, usize)> {
    let to = loops.iter().position(Vec::is_empty)?;
    let (from, fullest) = loops
        .iter()
        .enumerate()
        .max_by_key(|(_, list)| list.len())?;
    (fullest.len() > 1).then_some((from, to))
}

/// The sharing with the least cable there is, where the blocks are few enough to prove it and
/// nothing else is worse for it.
fn with_least_cable(ground: &Ground, known: Placed) -> Placed {
    if ground.settings.topology == Topology::Line {
        return known;
    }
    let Some(least) = exact::least(ground, known.loops.len()) else {
        return known;
    };
    let found = ground.placed(least.loops);
    let rank = |placed: &Placed| (placed.score.excess, placed.score.fault, placed.score.spread);
    if rank(&found) <= rank(&known) && ground.laid(&found) < ground.laid(&known) {
        return found;
    }
    known
}

/// The better of two starts, improved: as packed, and as the routes run.
fn best(ground: &Ground, packed: Vec<Vec<usize>>) -> Placed {
    let count = packed.len();
    let first = ground.improved(ground.placed(packed));
    let Some(along) = along_routes(ground, count) else {
        return first;
    };
    let second = ground.improved(ground.placed(along));
    if second.score < first.score {
        second
    } else {
        first
    }
}

/// Blocks in the order of a line through the site, each loop filled before the next is begun;
/// `None` when that takes more loops than `count`.
fn along_routes(ground: &Ground, count: usize) -> Option<Vec<Vec<usize>>> {
    let order = order_along(ground.routes, ground)?;
    let mut loops: Vec<Vec<usize>> = Vec::new();
    let mut sizes: Sizes = [0; SIZES];
    for block in order {
        let more = added(&sizes, &ground.blocks.get(block)?.sizes);
        match loops.last_mut() {
            Some(last) if ground.capacity.takes(&more) => {
                last.push(block);
                sizes = more;
            }
            _ => {
                sizes = ground.blocks.get(block)?.sizes;
                loops.push(vec![block]);
            }
        }
    }
    if loops.len() > count {
        return None;
    }
    loops.resize(count, Vec::new());
    Some(loops)
}

fn order_along(routes: &Routes, ground: &Ground) -> Option<Vec<usize>> {
    let root = ground.roots.first()?;
    let first_point = |block: &Block| {
        let unit = ground.units.get(*block.units.first()?)?;
        Some(Arc::clone(&unit.at))
    };
    let points: Vec<_> = ground.blocks.iter().filter_map(first_point).collect();
    let line = routes.line(root, &points);
    let mut stops = vec![root.index];
    stops.extend(line.stretches.iter().map(|stretch| stretch.to.index));
    let rank = |block: usize| {
        let at = ground.blocks.get(block).and_then(first_point)?;
        stops.iter().position(|stop| *stop == at.index)
    };
    let mut order: Vec<usize> = (0..ground.blocks.len()).collect();
    order.sort_by_key(|block| (rank(*block).is_none(), rank(*block), *block));
    Some(order)
}

/// Blocks on `count` loops, the largest first, each on the loop that it leaves least full.
fn level(blocks: &[Block], capacity: &Capacity, count: usize) -> Vec<Vec<usize>> {
    let mut order: Vec<usize> = (0..blocks.len()).collect();
    let share = |index: &usize| blocks.get(*index).map_or(0, |b| capacity.share(&b.sizes));
    order.sort_by_key(|index| (std::cmp::Reverse(share(index)), *index));
    let mut loops: Vec<(Sizes, Vec<usize>)> = vec![([0; SIZES], Vec::new()); count];
    for index in order {
        let Some(block) = blocks.get(index) else {
            continue;
        };
        let emptiest = loops
            .iter_mut()
            .min_by_key(|(sizes, _)| capacity.share(&added(sizes, &block.sizes)));
        if let Some((sizes, list)) = emptiest {
            *sizes = added(sizes, &block.sizes);
            list.push(index);
        }
    }
    loops.into_iter().map(|(_, list)| list).collect()
}

//! Loads that may be cut, each cut at a price: every way to cut is packed by itself.

use feedpoint::choose::packing::{Load, Packing, Unit, pack};

/// A chain of parts that may be cut between any two neighbours.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chain {
    /// Power of each part, in deciwatts.
    pub parts: Vec<u64>,
    /// Outputs that each connected piece takes.
    pub outputs: usize,
}

/// A packing of chains with where they are cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Split {
    /// The pieces in the order in which `packing` counts its loads: (chain, first part, last part).
    pub pieces: Vec<(usize, usize, usize)>,
    /// The drivers.
    pub packing: Packing,
    /// Drivers and cuts together.
    pub price_minor: u64,
    /// No packing costs less.
    pub bound_minor: u64,
    /// Whether none is cheaper.
    pub optimal: bool,
}

/// Ways to cut that are compared at most.
const WAYS: usize = 4_096;

/// Cuts and packs chains at least price. Exact when there are at most 4096 ways to cut; past that
/// the ways with fewest cuts are compared, and the bound is that of the uncut total. `None` when
/// even the single parts don't fit.
#[must_use]
pub fn split(units: &[Unit], chains: &[Chain], cut_price_minor: u64) -> Option<Split> {
    let ways = ways(chains);
    let mut best: Option<Split> = None;
    let mut bound: Option<u64> = None;
    for way in &ways.list {
        let cuts: u64 = way.iter().map(|places| places.len()).map(count).sum();
        let extra = cuts.saturating_mul(cut_price_minor);
        let pieces = pieces(chains, way);
        let loads: Vec<Load> = pieces
            .iter()
            .map(|&(chain, from, to)| load(chains, chain, from, to))
            .collect();
        if best
            .as_ref()
            .is_some_and(|best| least(units, &loads).saturating_add(extra) >= best.price_minor)
        {
            continue;
        }
        let Some(packing) = pack(units, &loads) else {
            continue;
        };
        let lower = packing.bound_minor.saturating_add(extra);
        bound = Some(bound.map_or(lower, |bound| bound.min(lower)));
        let price = packing.price_minor.saturating_add(extra);
        if best.as_ref().is_none_or(|best| price < best.price_minor) {
            best = Some(Split {
                pieces,
                packing,
                price_minor: price,
                bound_minor: 0,
                optimal: false,
            });
        }
    }
    let mut best = best?;
    let whole: Vec<Load> = chains
        .iter()
        .enumerate()
        .map(|(i, chain)| load(chains, i, 0, chain.parts.len()))
        .collect();
    let lower = if ways.complete {
        bound.unwrap_or(0)
    } else {
        least(units, &whole)
    };
    best.bound_minor = lower.min(best.price_minor);
    best.optimal = best.bound_minor == best.price_minor;
    Some(best)
}

fn count(number: usize) -> u64 {
    u64::try_from(number).unwrap_or(u64::MAX)
}

struct Ways {
    /// For each way, the places of the cuts in each chain.
    list: Vec<Vec<Vec<usize>>>,
    complete: bool,
}

/// All ways to cut, fewest cuts first; equal chains are cut in one order only.
fn ways(chains: &[Chain]) -> Ways {
    let mut list: Vec<Vec<Vec<usize>>> = vec![Vec::new()];
    let mut complete = true;
    for (index, chain) in chains.iter().enumerate() {
        let same = index.checked_sub(1).and_then(|before| chains.get(before)) == Some(chain);
        let mut next = Vec::new();
        for way in &list {
            for cuts in subsets(chain.parts.len().saturating_sub(1)) {
                if same && way.last().is_some_and(|before| *before > cuts) {
                    continue;
                }
                let mut longer = way.clone();
                longer.push(cuts);
                next.push(longer);
            }
        }
        next.sort_by_key(|way| way.iter().map(Vec::len).sum::<usize>());
        if next.len() > WAYS {
            next.truncate(WAYS);
            complete = false;
        }
        list = next;
    }
    Ways { list, complete }
}

/// All sets of cut places in a chain with so many boundaries, 1 being after the first part; for
/// long chains only those of few cuts.
fn subsets(boundaries: usize) -> Vec<Vec<usize>> {
    let mut sets: Vec<Vec<usize>> = vec![Vec::new()];
    for place in 1..=boundaries {
        let with: Vec<Vec<usize>> = sets
            .iter()
            .map(|set| set.iter().copied().chain([place]).collect())
            .collect();
        sets.extend(with);
        sets.sort_by_key(Vec::len);
        sets.truncate(WAYS);
    }
    sets
}

fn pieces(chains: &[Chain], way: &[Vec<usize>]) -> Vec<(usize, usize, usize)> {
    chains
        .iter()
        .zip(way)
        .enumerate()
        .flat_map(|(index, (chain, cuts))| {
            let starts = std::iter::once(0).chain(cuts.iter().copied());
            let ends = cuts.iter().copied().chain([chain.parts.len()]);
            starts
                .zip(ends)
                .map(move |(from, to)| (index, from, to))
                .collect::<Vec<_>>()
        })
        .collect()
}

/// The load of parts `from` up to, not including, `to`.
fn load(chains: &[Chain], chain: usize, from: usize, to: usize) -> Load {
    chains.get(chain).map_or(
        Load {
            power: 0,
            outputs: 0,
        },
        |chain| Load {
            power: chain
                .parts
                .iter()
                .skip(from)
                .take(to.saturating_sub(from))
                .sum(),
            outputs: chain.outputs,
        },
    )
}

/// Price below which no packing of these loads can come: cheapest power times the total.
fn least(units: &[Unit], loads: &[Load]) -> u64 {
    let total: u64 = loads.iter().map(|load| load.power).sum();
    units
        .iter()
        .filter(|unit| unit.usable > 0)
        .map(|unit| {
            let exact = u128::from(unit.price_minor) * u128::from(total);
            u64::try_from(exact.div_ceil(u128::from(unit.usable))).unwrap_or(u64::MAX)
        })
        .min()
        .unwrap_or(0)
}

//! Column generation: the linear relaxation of a packing, and the bound it proves.

use super::attainable::Cover;
use super::master::{Basic, Master};
use super::pricing::{self, Apart};
use super::{Bin, Effort, Filled, Item, within};
use crate::quantity::number::real;
use num_traits::ToPrimitive;

/// What the relaxation says.
pub(super) struct Relaxed {
    /// No packing costs less: proved in whole numbers from the last prices.
    pub bound: u64,
    /// What those prices say each bin can hold at most, and what all items come to.
    pub cover: Option<Cover>,
    /// Columns in use, with their shares.
    pub shares: Vec<(Filled, f64)>,
}

/// Rounds of pricing after which the bound is taken as it stands.
const ROUNDS: usize = 4_000;

/// Prices of rows are turned into whole numbers with this many units to the dearest bin.
const UNITS: u64 = 1 << 40;

/// Relaxes the packing of `items` into `bins`, adding the columns it finds to `pool`. Every item
/// with a count must fit some bin.
pub(super) fn relax(
    items: &[Item],
    bins: &[Bin],
    apart: &Apart,
    pool: &mut Vec<Filled>,
    effort: Effort,
) -> Relaxed {
    let rows: Vec<usize> = (0..items.len())
        .filter(|row| items.get(*row).is_some_and(|item| item.count > 0))
        .collect();
    let singles = pool.len();
    pool.extend(rows.iter().filter_map(|row| single(*row, items, bins)));
    let start: Vec<(usize, f64)> = (singles..pool.len())
        .map(|index| (index, cost(pool, index, bins)))
        .collect();
    let demand: Vec<f64> = rows
        .iter()
        .filter_map(|row| items.get(*row))
        .map(|item| real(item.count))
        .collect();
    let mut master = Master::new(&demand, &start);
    let (mut bound, mut cover) = (0, None);
    for _ in 0..ROUNDS {
        let prices = master.prices();
        if let Some(entered) = enter_known(&mut master, &prices, &rows, pool, bins) {
            if entered {
                continue;
            }
            break;
        }
        let worth = worths(&prices, &rows, items.len(), bins);
        let found = fillings(items, &worth, bins, apart, effort);
        let paid = paid(items, &worth, &found);
        bound = bound.max(proved(&paid, bins));
        cover = Some(paid);
        let before = pool.len();
        pool.extend(found.into_iter().filter_map(|f| f.improving));
        if pool.len() == before {
            break;
        }
    }
    let shares = master
        .shares()
        .into_iter()
        .filter_map(|(index, share)| Some((pool.get(index)?.clone(), share)))
        .collect();
    Relaxed {
        bound,
        cover,
        shares,
    }
}

/// One of an item alone, in the cheapest bin it fits.
fn single(row: usize, items: &[Item], bins: &[Bin]) -> Option<Filled> {
    let item = items.get(row)?;
    let (bin, _) = bins
        .iter()
        .enumerate()
        .filter(|(_, bin)| within(&item.sizes, &bin.capacity))
        .min_by_key(|(index, bin)| (bin.cost, *index))?;
    let mut counts = vec![0; items.len()];
    *counts.get_mut(row)? = 1;
    Some(Filled { bin, counts })
}

fn cost(pool: &[Filled], index: usize, bins: &[Bin]) -> f64 {
    pool.get(index)
        .and_then(|filled| bins.get(filled.bin))
        .and_then(|bin| bin.cost.to_f64())
        .unwrap_or(f64::INFINITY)
}

/// Brings in a surplus or the known column that saves most. `None` when none saves; `Some(false)`
/// when the one that would save can't be brought in.
fn enter_known(
    master: &mut Master,
    prices: &[f64],
    rows: &[usize],
    pool: &[Filled],
    bins: &[Bin],
) -> Option<bool> {
    let dearest = bins
        .iter()
        .filter_map(|bin| bin.cost.to_f64())
        .fold(1.0, f64::max);
    let tiny = 1e-9 * dearest;
    if let Some((row, _)) = prices.iter().enumerate().find(|(_, p)| **p < -tiny) {
        let mut column = vec![0.0; prices.len()];
        if let Some(entry) = column.get_mut(row) {
            *entry = -1.0;
        }
        return Some(master.enter(Basic::Surplus(row), 0.0, &column));
    }
    let saving = |index: usize, filled: &Filled| {
        let worth: f64 = rows
            .iter()
            .zip(prices)
            .filter_map(|(row, price)| Some(real(*filled.counts.get(*row)?) * price))
            .sum();
        worth - cost(pool, index, bins)
    };
    let (index, filled, _) = pool
        .iter()
        .enumerate()
        .map(|(index, filled)| (index, filled, saving(index, filled)))
        .filter(|(_, _, saving)| *saving > tiny)
        .max_by(|a, b| a.2.total_cmp(&b.2).then(b.0.cmp(&a.0)))?;
    let column: Vec<f64> = rows
        .iter()
        .map(|row| real(filled.counts.get(*row).copied().unwrap_or(0)))
        .collect();
    Some(master.enter(Basic::Column(index), cost(pool, index, bins), &column))
}

/// Prices of rows as whole worths of items.
fn worths(prices: &[f64], rows: &[usize], items: usize, bins: &[Bin]) -> Vec<u64> {
    let units = UNITS / dearest(bins);
    // No row is worth more than a bin of its own.
    let most = dearest(bins).to_f64().unwrap_or(0.0);
    let mut worth = vec![0; items];
    for (row, price) in rows.iter().zip(prices) {
        if let Some(entry) = worth.get_mut(*row) {
            *entry = (price.clamp(0.0, most) * units.to_f64().unwrap_or(0.0))
                .floor()
                .to_u64()
                .unwrap_or(0);
        }
    }
    worth
}

fn dearest(bins: &[Bin]) -> u64 {
    bins.iter().map(|bin| bin.cost).max().unwrap_or(1).max(1)
}

/// The best filling of one kind of bin.
struct Found {
    /// Its greatest worth, proved.
    most: u64,
    /// The filling, when it is worth more than the bin costs.
    improving: Option<Filled>,
}

fn fillings(
    items: &[Item],
    worth: &[u64],
    bins: &[Bin],
    apart: &Apart,
    effort: Effort,
) -> Vec<Found> {
    let units = UNITS / dearest(bins);
    bins.iter()
        .enumerate()
        .map(|(index, bin)| {
            let best = pricing::best(items, worth, &bin.capacity, apart, effort.fillings);
            let paid = bin.cost.saturating_mul(units);
            // Fractions of a unit were cut off each worth: less than this is no improvement.
            let improves = best.value > paid.saturating_add(paid >> 28);
            Found {
                most: best.bound,
                improving: improves.then_some(Filled {
                    bin: index,
                    counts: best.counts,
                }),
            }
        })
        .collect()
}

/// What these worths say each bin can hold, and what all items come to.
fn paid(items: &[Item], worth: &[u64], found: &[Found]) -> Cover {
    Cover {
        most: found.iter().map(|found| u128::from(found.most)).collect(),
        needed: items
            .iter()
            .zip(worth)
            .filter_map(|(item, worth)| Some(u128::from(*worth) * item.count.to_u128()?))
            .fold(0, u128::saturating_add),
    }
}

/// The bound which they prove: scaled down until no filling is worth more than its bin, they are
/// prices that every packing pays.
fn proved(paid: &Cover, bins: &[Bin]) -> u64 {
    bins.iter()
        .zip(&paid.most)
        .filter(|(_, most)| **most > 0)
        .map(|(bin, most)| {
            let scaled = paid.needed.saturating_mul(u128::from(bin.cost));
            scaled.div_ceil(*most)
        })
        .min()
        .and_then(|bound| bound.to_u64())
        .unwrap_or(0)
}

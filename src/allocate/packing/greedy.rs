//! Greedy fillings: the first bound from above, and the first columns.

use super::{Bin, Filled, Item, SIZES, Sizes, cost_of, less, within};
use num_traits::ToPrimitive;

/// The cheapest packing among several greedy ones. Items must each fit some bin.
pub(super) fn pack(items: &[Item], bins: &[Bin]) -> Vec<Filled> {
    let mut best: Vec<Filled> = Vec::new();
    for kind in 0..bins.len() {
        for order in orders(items, bins) {
            let filled = shrunk(first_fit(items, bins, &order, kind), items, bins);
            if best.is_empty() || cost_of(&filled, bins) < cost_of(&best, bins) {
                best = filled;
            }
        }
    }
    best
}

/// Items by falling largest share of a bin, by falling sum of shares, and by each share.
fn orders(items: &[Item], bins: &[Bin]) -> Vec<Vec<usize>> {
    let mut largest: Sizes = [0; SIZES];
    for bin in bins {
        for (most, capacity) in largest.iter_mut().zip(&bin.capacity) {
            *most = (*most).max(*capacity);
        }
    }
    let shares = |item: &Item| {
        let mut shares = [0.0; SIZES];
        for ((share, size), most) in shares.iter_mut().zip(&item.sizes).zip(&largest) {
            if *most > 0 {
                *share = size.to_f64().unwrap_or(0.0) / most.to_f64().unwrap_or(1.0);
            }
        }
        shares
    };
    let keys: [fn([f64; SIZES]) -> f64; SIZES + 2] = [
        |s| s.into_iter().fold(0.0, f64::max),
        |s| s.into_iter().sum(),
        |s| s[0],
        |s| s[1],
        |s| s[2],
        |s| s[3],
    ];
    keys.iter()
        .map(|key| {
            let mut order: Vec<(f64, usize)> = items
                .iter()
                .enumerate()
                .map(|(index, item)| (key(shares(item)), index))
                .collect();
            order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
            order.into_iter().map(|(_, index)| index).collect()
        })
        .collect()
}

/// First fit into bins of one kind; what does not fit that kind goes into the first kind it fits.
fn first_fit(items: &[Item], bins: &[Bin], order: &[usize], kind: usize) -> Vec<Filled> {
    let mut open: Vec<(Sizes, Filled)> = Vec::new();
    for index in order {
        let Some(item) = items.get(*index) else {
            continue;
        };
        for _ in 0..item.count {
            let place = open.iter_mut().find(|(left, _)| within(&item.sizes, left));
            if let Some((left, filled)) = place {
                put(left, filled, *index, item);
            } else if let Some((mut left, mut filled)) = opened(items, bins, item, kind) {
                put(&mut left, &mut filled, *index, item);
                open.push((left, filled));
            }
        }
    }
    open.into_iter().map(|(_, filled)| filled).collect()
}

fn opened(items: &[Item], bins: &[Bin], item: &Item, kind: usize) -> Option<(Sizes, Filled)> {
    let preferred = bins.get(kind).filter(|b| within(&item.sizes, &b.capacity));
    let (kind, bin) = match preferred {
        Some(bin) => (kind, bin),
        None => bins
            .iter()
            .enumerate()
            .find(|(_, b)| within(&item.sizes, &b.capacity))?,
    };
    let filled = Filled {
        bin: kind,
        counts: vec![0; items.len()],
    };
    Some((bin.capacity, filled))
}

fn put(left: &mut Sizes, filled: &mut Filled, index: usize, item: &Item) {
    if let Some(rest) = less(left, &item.sizes, 1) {
        *left = rest;
    }
    if let Some(count) = filled.counts.get_mut(index) {
        *count += 1;
    }
}

/// Each bin as the cheapest kind that holds what is in it.
fn shrunk(mut filled: Vec<Filled>, items: &[Item], bins: &[Bin]) -> Vec<Filled> {
    for one in &mut filled {
        let used = used(&one.counts, items);
        let cheapest = bins
            .iter()
            .enumerate()
            .filter(|(_, bin)| within(&used, &bin.capacity))
            .min_by_key(|(index, bin)| (bin.cost, *index));
        if let Some((index, _)) = cheapest {
            one.bin = index;
        }
    }
    filled
}

fn used(counts: &[usize], items: &[Item]) -> Sizes {
    let mut used: Sizes = [0; SIZES];
    for (count, item) in counts.iter().zip(items) {
        for (sum, size) in used.iter_mut().zip(&item.sizes) {
            *sum += size * count.to_u128().unwrap_or(0);
        }
    }
    used
}

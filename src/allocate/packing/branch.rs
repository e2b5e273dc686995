//! The search: relaxation at the root, diving for packings, and branching on pairs of items that
//! are together in one bin or apart (Ryan and Foster's branching).

use super::attainable::{self, Cover};
use super::generate::{Relaxed, relax};
use super::pricing::Apart;
use super::{Bin, Effort, Filled, Item, Packing, SIZES, cost_of, greedy, within};

/// Items past this many are not branched on, one by one.
const UNITS: usize = 150;

/// A packing is dived for at one in so many nodes.
const DIVE_EVERY: usize = 8;

/// Searches for the cheapest packing. Every item must fit some bin.
pub(super) fn search(items: &[Item], bins: &[Bin], effort: Effort) -> Option<Packing> {
    let mut best = greedy::pack(items, bins);
    let covers = attainable::covers(items, bins);
    let mut pool = best.clone();
    let root = relax(items, bins, &Apart::new(), &mut pool, effort);
    let bound = raised(&root, &covers, cost_of(&best, bins), bins);
    if cost_of(&best, bins) > bound {
        let dived = dive(items, bins, &Apart::new(), &mut pool, effort);
        if cost_of(&dived, bins) < cost_of(&best, bins) {
            best = dived;
        }
    }
    let mut proved = bound;
    let count: usize = items.iter().map(|item| item.count).sum();
    if cost_of(&best, bins) > bound && count <= UNITS {
        let units = Units::of(items);
        let mut tree = Tree {
            units: &units,
            bins,
            covers: &covers,
            effort,
            nodes: effort.branches,
            floor: bound,
            cost: cost_of(&best, bins),
            best: None,
            cut_off: false,
            pool: pool.iter().map(|filled| units.split(filled)).collect(),
        };
        tree.visit(units.alone(), &mut Vec::new());
        let (found, cut_off) = (tree.best.take(), tree.cut_off);
        if let Some(found) = found {
            best = found
                .iter()
                .map(|one| units.joined(one, items.len()))
                .collect();
        }
        if !cut_off {
            proved = cost_of(&best, bins);
        }
    }
    let cost = cost_of(&best, bins);
    Some(Packing {
        bins: best,
        cost,
        bound: proved.min(cost),
    })
}

/// The bound of a relaxation raised to the next cost that can be met; at most `known`.
fn raised(relaxed: &Relaxed, covers: &[Cover], known: u64, bins: &[Bin]) -> u64 {
    let mut covers = covers.to_vec();
    covers.extend(relaxed.cover.clone());
    attainable::at_least(relaxed.bound, known, bins, &covers)
}

/// Fixes the column with the greatest share, relaxes what is left, and so on.
fn dive(
    items: &[Item],
    bins: &[Bin],
    apart: &Apart,
    pool: &mut Vec<Filled>,
    effort: Effort,
) -> Vec<Filled> {
    let mut left = items.to_vec();
    let mut packed = Vec::new();
    while left.iter().any(|item| item.count > 0) {
        let relaxed = relax(&left, bins, apart, pool, effort);
        let Some(chosen) = greatest(&relaxed, &left) else {
            break;
        };
        for (item, count) in left.iter_mut().zip(&chosen.counts) {
            item.count -= *count;
        }
        packed.push(chosen);
    }
    packed
}

/// The column with the greatest share, cut down to what is left to pack.
fn greatest(relaxed: &Relaxed, left: &[Item]) -> Option<Filled> {
    let cut = |filled: &Filled| Filled {
        bin: filled.bin,
        counts: filled
            .counts
            .iter()
            .zip(left)
            .map(|(count, item)| (*count).min(item.count))
            .collect(),
    };
    relaxed
        .shares
        .iter()
        .map(|(filled, share)| (cut(filled), *share))
        .filter(|(filled, _)| filled.counts.iter().any(|count| *count > 0))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(filled, _)| filled)
}

/// Items one by one.
struct Units {
    sizes: Vec<(usize, [u128; SIZES])>,
}

/// A bin's kind and the units in it.
type Held = (usize, Vec<usize>);

impl Units {
    fn of(items: &[Item]) -> Self {
        let sizes = items
            .iter()
            .enumerate()
            .flat_map(|(index, item)| std::iter::repeat_n((index, item.sizes), item.count))
            .collect();
        Units { sizes }
    }

    fn alone(&self) -> Vec<Vec<usize>> {
        (0..self.sizes.len()).map(|unit| vec![unit]).collect()
    }

    /// A filling by item as one by unit: the first units of each item.
    fn split(&self, filled: &Filled) -> Held {
        let mut left = filled.counts.clone();
        let mut held = Vec::new();
        for (unit, (item, _)) in self.sizes.iter().enumerate() {
            if let Some(count) = left.get_mut(*item).filter(|count| **count > 0) {
                *count -= 1;
                held.push(unit);
            }
        }
        (filled.bin, held)
    }

    /// A filling by unit as one by item.
    fn joined(&self, held: &Held, items: usize) -> Filled {
        let mut counts = vec![0; items];
        for (item, _) in held.1.iter().filter_map(|unit| self.sizes.get(*unit)) {
            if let Some(count) = counts.get_mut(*item) {
                *count += 1;
            }
        }
        Filled {
            bin: held.0,
            counts,
        }
    }

    fn merged(&self, group: &[usize]) -> Item {
        let mut sizes = [0; SIZES];
        for (_, unit) in group.iter().filter_map(|unit| self.sizes.get(*unit)) {
            for (sum, size) in sizes.iter_mut().zip(unit) {
                *sum += size;
            }
        }
        Item { sizes, count: 1 }
    }
}

/// The tree of branches.
struct Tree<'a> {
    units: &'a Units,
    bins: &'a [Bin],
    covers: &'a [Cover],
    effort: Effort,
    nodes: usize,
    floor: u64,
    cost: u64,
    best: Option<Vec<Held>>,
    cut_off: bool,
    pool: Vec<Held>,
}

impl Tree<'_> {
    /// Visits the node where each of `groups` is kept together and the pairs of units in `split`
    /// apart.
    fn visit(&mut self, groups: Vec<Vec<usize>>, split: &mut Vec<(usize, usize)>) {
        if self.cost <= self.floor {
            return;
        }
        if self.nodes == 0 {
            self.cut_off = true;
            return;
        }
        self.nodes -= 1;
        let items: Vec<Item> = groups
            .iter()
            .map(|group| self.units.merged(group))
            .collect();
        let fits = |item: &Item| self.bins.iter().any(|b| within(&item.sizes, &b.capacity));
        if !items.iter().all(fits) {
            return;
        }
        let apart = apart(&groups, split);
        let mut pool = self.columns(&groups, &apart);
        let known = pool.len();
        let relaxed = relax(&items, self.bins, &apart, &mut pool, self.effort);
        if raised(&relaxed, self.covers, self.cost, self.bins) >= self.cost {
            self.keep(&groups, pool.get(known..).unwrap_or(&[]));
            return;
        }
        if self.nodes.is_multiple_of(DIVE_EVERY) {
            let packed = dive(&items, self.bins, &apart, &mut pool, self.effort);
            self.offer(&groups, &packed);
        }
        self.keep(&groups, pool.get(known..).unwrap_or(&[]));
        match undecided(&relaxed, groups.len()) {
            Some((first, second)) => self.branch(groups, split, first, second),
            // Whole already, or no pair tells: the bound below the cost stays unproved.
            None => self.cut_off |= self.cost > relaxed.bound,
        }
    }

    fn branch(
        &mut self,
        groups: Vec<Vec<usize>>,
        split: &mut Vec<(usize, usize)>,
        first: usize,
        second: usize,
    ) {
        let (Some(one), Some(other)) = (groups.get(first), groups.get(second)) else {
            return;
        };
        let pair = one.first().copied().zip(other.first().copied());
        let mut joined = one.clone();
        joined.extend_from_slice(other);
        let mut together: Vec<Vec<usize>> = Vec::with_capacity(groups.len());
        for (index, group) in groups.iter().enumerate() {
            if index == first {
                together.push(joined.clone());
            } else if index != second {
                together.push(group.clone());
            }
        }
        self.visit(together, split);
        if let Some(pair) = pair {
            split.push(pair);
            self.visit(groups, split);
            split.pop();
        }
    }

    /// Columns of the pool that respect a node's decisions, by group.
    fn columns(&self, groups: &[Vec<usize>], apart: &Apart) -> Vec<Filled> {
        self.pool
            .iter()
            .filter_map(|(bin, held)| {
                let counts = groups
                    .iter()
                    .map(|group| {
                        let inside = group.iter().filter(|unit| held.contains(unit)).count();
                        (inside == 0 || inside == group.len()).then_some(usize::from(inside > 0))
                    })
                    .collect::<Option<Vec<usize>>>()?;
                let clash = |(group, count): (usize, &usize)| {
                    *count > 0
                        && apart.get(group).is_some_and(|others| {
                            others
                                .iter()
                                .any(|o| counts.get(*o).is_some_and(|c| *c > 0))
                        })
                };
                let clashes = counts.iter().enumerate().any(clash);
                (!clashes).then_some(Filled { bin: *bin, counts })
            })
            .collect()
    }

    /// Remembers columns for other nodes.
    fn keep(&mut self, groups: &[Vec<usize>], found: &[Filled]) {
        self.pool
            .extend(found.iter().map(|filled| held(groups, filled)));
    }

    /// Takes a packing if it is cheaper.
    fn offer(&mut self, groups: &[Vec<usize>], packed: &[Filled]) {
        let cost = cost_of(packed, self.bins);
        if cost < self.cost {
            self.cost = cost;
            self.best = Some(packed.iter().map(|filled| held(groups, filled)).collect());
        }
    }
}

fn held(groups: &[Vec<usize>], filled: &Filled) -> Held {
    let units = groups
        .iter()
        .zip(&filled.counts)
        .filter(|(_, count)| **count > 0)
        .flat_map(|(group, _)| group.iter().copied())
        .collect();
    (filled.bin, units)
}

/// For each group, the groups it may not share a bin with.
fn apart(groups: &[Vec<usize>], split: &[(usize, usize)]) -> Apart {
    let of = |unit: usize| groups.iter().position(|group| group.contains(&unit));
    let mut apart: Apart = vec![Vec::new(); groups.len()];
    for (a, b) in split.iter().filter_map(|(a, b)| Some((of(*a)?, of(*b)?))) {
        for (one, other) in [(a, b), (b, a)] {
            if let Some(list) = apart.get_mut(one) {
                list.push(other);
            }
        }
    }
    apart
}

/// The pair of groups whose being together is least decided.
fn undecided(relaxed: &Relaxed, groups: usize) -> Option<(usize, usize)> {
    let mut together = vec![vec![0.0_f64; groups]; groups];
    for (filled, share) in &relaxed.shares {
        let inside: Vec<usize> = (0..groups)
            .filter(|group| filled.counts.get(*group).is_some_and(|count| *count > 0))
            .collect();
        for (position, first) in inside.iter().enumerate() {
            for second in inside.iter().skip(position + 1) {
                if let Some(sum) = together
                    .get_mut(*first)
                    .and_then(|row| row.get_mut(*second))
                {
                    *sum += share;
                }
            }
        }
    }
    let mut pairs = together.iter().enumerate().flat_map(|(first, row)| {
        row.iter()
            .enumerate()
            .map(move |(second, sum)| (first, second, (sum - 0.5).abs()))
    });
    let mut best: Option<(usize, usize, f64)> = None;
    for pair in pairs.by_ref().filter(|pair| pair.2 < 0.499) {
        if best.is_none_or(|known| pair.2 < known.2 - 1e-9) {
            best = Some(pair);
        }
    }
    best.map(|(first, second, _)| (first, second))
}

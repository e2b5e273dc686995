//! Exact packing: items of a few sizes each into bins of as many capacities, at the least cost of
//! bins. Loops (gear, control devices, current, groups) and circuits (current, inrush, leakage) are
//! both this problem.
//!
//! A bound is proved by column generation (each column one way to fill a bin) and closed by
//! greedy fillings, by diving, and by branching on pairs of items. Work is limited by counts of
//! nodes, never by time, so the same problem has the same answer everywhere.

mod attainable;
mod branch;
mod generate;
mod greedy;
mod master;
mod pricing;

/// How many sizes an item has; one that nothing is counted in is 0.
pub const SIZES: usize = 4;

/// Sizes or capacities, in whole numbers of whatever the caller counts in.
pub type Sizes = [u128; SIZES];

/// A kind of item and how many there are of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// Its sizes.
    pub sizes: Sizes,
    /// How many there are, all to be packed.
    pub count: usize,
}

/// A kind of bin, of which there are as many as wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bin {
    /// Its capacities.
    pub capacity: Sizes,
    /// What one costs; at least 1.
    pub cost: u64,
}

/// A bin in use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Filled {
    /// Index of its kind.
    pub bin: usize,
    /// How many of each item are in it.
    pub counts: Vec<usize>,
}

/// A packing and what is proved of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packing {
    /// The bins in use.
    pub bins: Vec<Filled>,
    /// Their cost.
    pub cost: u64,
    /// No packing costs less than this.
    pub bound: u64,
}

impl Packing {
    /// Whether this is proved the cheapest.
    #[must_use]
    pub fn proved(&self) -> bool {
        self.cost <= self.bound
    }
}

/// How hard to try.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// Nodes of the branching on pairs.
    pub branches: usize,
    /// Nodes of each search for the best filling of a bin.
    pub fillings: usize,
}

impl Default for Effort {
    fn default() -> Self {
        Effort {
            branches: 300,
            fillings: 100_000,
        }
    }
}

/// The cheapest packing found of `items` into `bins`. `None` when an item fits no bin.
#[must_use]
pub fn pack(items: &[Item], bins: &[Bin], effort: Effort) -> Option<Packing> {
    let fits_somewhere = |item: &Item| bins.iter().any(|bin| within(&item.sizes, &bin.capacity));
    if !items.iter().all(|i| i.count == 0 || fits_somewhere(i)) {
        return None;
    }
    if items.iter().all(|item| item.count == 0) {
        return Some(Packing {
            bins: Vec::new(),
            cost: 0,
            bound: 0,
        });
    }
    branch::search(items, bins, effort)
}

/// Whether `sizes` fit in `capacity`.
fn within(sizes: &Sizes, capacity: &Sizes) -> bool {
    sizes.iter().zip(capacity).all(|(s, c)| s <= c)
}

/// What is left of `capacity` after `count` of `sizes`; `None` when they do not fit.
fn less(capacity: &Sizes, sizes: &Sizes, count: usize) -> Option<Sizes> {
    let count = u128::try_from(count).ok()?;
    let mut left = *capacity;
    for (room, size) in left.iter_mut().zip(sizes) {
        *room = room.checked_sub(size.checked_mul(count)?)?;
    }
    Some(left)
}

/// The cost of some bins.
fn cost_of(filled: &[Filled], bins: &[Bin]) -> u64 {
    filled
        .iter()
        .filter_map(|f| bins.get(f.bin))
        .map(|bin| bin.cost)
        .sum()
}

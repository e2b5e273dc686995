//! Which costs can be met at all: whole numbers of each kind of bin, enough of them for the items
//! as a whole. This raises a bound that lies between two such costs.

use super::{Bin, Item, SIZES, Sizes};
use num_traits::ToPrimitive;

/// A sum that the bins of every packing must reach: Σ n·most ≥ needed, where `most` is what one
/// bin of each kind can hold of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cover {
    /// By kind of bin.
    pub most: Vec<u128>,
    /// In all.
    pub needed: u128,
}

/// The covers that follow from each size: capacities against the sum over all items.
pub(super) fn covers(items: &[Item], bins: &[Bin]) -> Vec<Cover> {
    let mut needed: Sizes = [0; SIZES];
    for item in items {
        for (sum, size) in needed.iter_mut().zip(&item.sizes) {
            *sum = sum.saturating_add(size.saturating_mul(item.count.to_u128().unwrap_or(0)));
        }
    }
    needed
        .iter()
        .enumerate()
        .map(|(size, needed)| Cover {
            most: bins
                .iter()
                .filter_map(|bin| bin.capacity.get(size).copied())
                .collect(),
            needed: *needed,
        })
        .collect()
}

/// Combinations tried before giving up on raising a bound.
const COMBINATIONS: usize = 2_000_000;

/// The least cost from `bound` up to `known` of any numbers of bins that meet every cover; `known`
/// when there is none below it, `bound` when there are too many to try.
pub(super) fn at_least(bound: u64, known: u64, bins: &[Bin], covers: &[Cover]) -> u64 {
    let costs: Vec<u64> = bins.iter().map(|bin| bin.cost).collect();
    let mut search = Search {
        costs: &costs,
        covers,
        bound,
        best: known,
        left: COMBINATIONS,
    };
    search.extend(0, 0, &mut Vec::new());
    if search.left == 0 {
        bound.min(known)
    } else {
        search.best
    }
}

struct Search<'a> {
    costs: &'a [u64],
    covers: &'a [Cover],
    bound: u64,
    best: u64,
    left: usize,
}

impl Search<'_> {
    fn extend(&mut self, kind: usize, cost: u64, numbers: &mut Vec<u128>) {
        let Some(each) = self.costs.get(kind) else {
            if cost >= self.bound && self.covered(numbers) {
                self.best = self.best.min(cost);
            }
            return;
        };
        let (mut number, mut total) = (0, cost);
        while total < self.best && self.left > 0 {
            self.left -= 1;
            numbers.push(number);
            self.extend(kind + 1, total, numbers);
            numbers.pop();
            number += 1;
            total = total.saturating_add((*each).max(1));
        }
    }

    fn covered(&self, numbers: &[u128]) -> bool {
        self.covers.iter().all(|cover| {
            let held = numbers
                .iter()
                .zip(&cover.most)
                .fold(0_u128, |sum, (n, most)| {
                    sum.saturating_add(n.saturating_mul(*most))
                });
            held >= cover.needed
        })
    }
}

#[cfg(test)]
mod tests {
    use super::{Cover, at_least};
    use crate::allocate::packing::{Bin, SIZES};

    fn bins(costs: &[u64]) -> Vec<Bin> {
        let bin = |cost: &u64| Bin {
            capacity: [1; SIZES],
            cost: *cost,
        };
        costs.iter().map(bin).collect()
    }

    #[test]
    fn one_cost_rounds_up_to_its_multiple() {
        assert_eq!(at_least(1, 100, &bins(&[7]), &[]), 7);
        assert_eq!(at_least(14, 100, &bins(&[7]), &[]), 14);
        assert_eq!(at_least(15, 100, &bins(&[7]), &[]), 21);
    }

    #[test]
    fn two_costs_leave_gaps() {
        // 6 and 10 make 6, 10, 12, 16, 18, 20 …
        assert_eq!(at_least(7, 100, &bins(&[6, 10]), &[]), 10);
        assert_eq!(at_least(13, 100, &bins(&[6, 10]), &[]), 16);
        assert_eq!(at_least(13, 15, &bins(&[6, 10]), &[]), 15);
    }

    #[test]
    fn what_does_not_hold_enough_is_no_answer() {
        // Two of the first hold 6, three 9; one of each 8.
        let cover = Cover {
            most: vec![3, 5],
            needed: 7,
        };
        assert_eq!(at_least(1, 100, &bins(&[6, 10]), &[cover]), 16);
    }
}

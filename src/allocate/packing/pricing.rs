//! The most valuable way to fill one bin: a bounded knapsack with several capacities, by depth-first
//! search under the bound of a single weighted capacity.

use super::{Item, SIZES, Sizes, less, within};
use num_traits::ToPrimitive;

/// Pairs of items that may not share a bin, by index, both ways.
pub(super) type Apart = Vec<Vec<usize>>;

/// The best filling found.
#[derive(Debug, Clone)]
pub(super) struct Best {
    /// How many of each item.
    pub counts: Vec<usize>,
    /// What they are worth.
    pub value: u64,
    /// No filling is worth more.
    pub bound: u64,
}

/// An item that is worth packing, with its weight in the weighted capacity.
struct Candidate {
    index: usize,
    sizes: Sizes,
    most: usize,
    worth: u64,
    weight: f64,
}

/// The filling of `capacity` with the greatest sum of `worth`, in at most `nodes` nodes.
pub(super) fn best(
    items: &[Item],
    worth: &[u64],
    capacity: &Sizes,
    apart: &Apart,
    nodes: usize,
) -> Best {
    let candidates = weighted(items, worth, capacity);
    let mut search = Search {
        candidates: &candidates,
        apart,
        chosen: Vec::new(),
        best: Vec::new(),
        value: 0,
        nodes,
        cut_off: 0,
    };
    search.descend(0, capacity, 1.0, 0);
    let mut counts = vec![0; items.len()];
    for (index, count) in &search.best {
        if let Some(entry) = counts.get_mut(*index) {
            *entry = *count;
        }
    }
    Best {
        counts,
        value: search.value,
        bound: search.value.max(search.cut_off),
    }
}

/// Candidates by falling worth per weight, where the weighted capacity is 1. The weights of the sizes
/// are those of a small set which give the lowest bound at the root.
fn weighted(items: &[Item], worth: &[u64], capacity: &Sizes) -> Vec<Candidate> {
    MIXES
        .iter()
        .map(|mix| candidates(items, worth, capacity, mix))
        .map(|list| {
            let bound = fractional(&list, 1.0);
            (list, bound)
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map_or(Vec::new(), |(list, _)| list)
}

/// Shares of the capacities in the weighted one; each sums to 1.
const MIXES: [[f64; SIZES]; 18] = [
    [1.0, 0.0, 0.0, 0.0],
    [0.0, 1.0, 0.0, 0.0],
    [0.0, 0.0, 1.0, 0.0],
    [0.0, 0.0, 0.0, 1.0],
    [0.5, 0.5, 0.0, 0.0],
    [0.5, 0.0, 0.5, 0.0],
    [0.0, 0.5, 0.5, 0.0],
    [0.5, 0.0, 0.0, 0.5],
    [0.0, 0.0, 0.5, 0.5],
    [0.34, 0.33, 0.33, 0.0],
    [0.34, 0.0, 0.33, 0.33],
    [0.75, 0.0, 0.25, 0.0],
    [0.25, 0.0, 0.75, 0.0],
    [0.0, 0.75, 0.25, 0.0],
    [0.0, 0.25, 0.75, 0.0],
    [0.15, 0.15, 0.7, 0.0],
    [0.7, 0.15, 0.15, 0.0],
    [0.25, 0.0, 0.0, 0.75],
];

fn candidates(
    items: &[Item],
    worth: &[u64],
    capacity: &Sizes,
    mix: &[f64; SIZES],
) -> Vec<Candidate> {
    let mut list: Vec<Candidate> = items
        .iter()
        .zip(worth)
        .enumerate()
        .filter(|(_, (item, worth))| **worth > 0 && item.count > 0 && within(&item.sizes, capacity))
        .map(|(index, (item, worth))| Candidate {
            index,
            sizes: item.sizes,
            most: item.count,
            worth: *worth,
            weight: weight(&item.sizes, capacity, mix),
        })
        .collect();
    // Cross-multiplied, so that a weight of zero counts as infinitely dense.
    list.sort_by(|a, b| {
        (approx(b.worth) * a.weight)
            .total_cmp(&(approx(a.worth) * b.weight))
            .then(a.index.cmp(&b.index))
    });
    list
}

fn weight(sizes: &Sizes, capacity: &Sizes, mix: &[f64; SIZES]) -> f64 {
    sizes
        .iter()
        .zip(capacity)
        .zip(mix)
        .filter(|((_, room), _)| **room > 0)
        .map(|((size, room), share)| share * ratio(*size, *room))
        .sum()
}

fn ratio(size: u128, room: u128) -> f64 {
    size.to_f64().unwrap_or(f64::INFINITY) / room.to_f64().unwrap_or(f64::INFINITY)
}

fn approx(worth: u64) -> f64 {
    worth.to_f64().unwrap_or(f64::INFINITY)
}

/// The most that `list`, in its order, can be worth in the weighted `room` when items may be cut.
fn fractional(list: &[Candidate], room: f64) -> f64 {
    let mut room = room.max(0.0);
    let mut value = 0.0;
    for candidate in list {
        let all = candidate.weight * approx_count(candidate.most);
        if all <= room {
            room -= all;
            value += approx(candidate.worth) * approx_count(candidate.most);
        } else {
            return value + approx(candidate.worth) * room / candidate.weight;
        }
    }
    value
}

fn approx_count(count: usize) -> f64 {
    crate::quantity::number::real(count)
}

struct Search<'a> {
    candidates: &'a [Candidate],
    apart: &'a Apart,
    chosen: Vec<(usize, usize)>,
    best: Vec<(usize, usize)>,
    value: u64,
    nodes: usize,
    cut_off: u64,
}

impl Search<'_> {
    /// Tries each count of the candidate at a position, then the rest. What is not taken is passed over
    /// without going deeper: there may be thousands.
    fn descend(&mut self, from: usize, left: &Sizes, room: f64, value: u64) {
        if value > self.value {
            self.value = value;
            self.best.clone_from(&self.chosen);
        }
        for (position, candidate) in self.candidates.iter().enumerate().skip(from) {
            let bound = self.bound(position, room, value);
            if bound <= self.value {
                return;
            }
            if self.nodes == 0 {
                self.cut_off = self.cut_off.max(bound);
                return;
            }
            self.nodes -= 1;
            for count in (1..=self.most(candidate, left)).rev() {
                let Some(rest) = less(left, &candidate.sizes, count) else {
                    continue;
                };
                let room = room - candidate.weight * approx_count(count);
                let times = count.to_u64().unwrap_or(u64::MAX);
                let worth = candidate.worth.saturating_mul(times);
                self.chosen.push((candidate.index, count));
                self.descend(position + 1, &rest, room, value.saturating_add(worth));
                self.chosen.pop();
            }
        }
    }

    /// The most that may be reached from here, rounded up past the rounding of the arithmetic.
    fn bound(&self, position: usize, room: f64, value: u64) -> u64 {
        let rest = self.candidates.get(position..).unwrap_or(&[]);
        let more = fractional(rest, room + 1e-9);
        value.saturating_add((more * (1.0 + 1e-9)).ceil().to_u64().unwrap_or(u64::MAX))
    }

    fn most(&self, candidate: &Candidate, left: &Sizes) -> usize {
        let kept_apart = self
            .apart
            .get(candidate.index)
            .is_some_and(|others| self.chosen.iter().any(|(index, _)| others.contains(index)));
        if kept_apart {
            return 0;
        }
        left.iter()
            .zip(&candidate.sizes)
            .filter(|(_, size)| **size > 0)
            .filter_map(|(room, size)| (room / size).to_usize())
            .fold(candidate.most, usize::min)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_of_items_go_through_a_small_stack() {
        let gone_through = || {
            // Two large ones never share a bin; the small one, which is worth least, comes last.
            let large = |size: u128| Item {
                sizes: [500_000 + size, 1, 0, 0],
                count: 1,
            };
            let mut items: Vec<Item> = (1..20_000).map(large).collect();
            items.push(Item {
                sizes: [400_000, 1, 0, 0],
                count: 1,
            });
            let mut worth = vec![1_000_000; items.len()];
            worth[items.len() - 1] = 1;
            let apart = vec![Vec::new(); items.len()];
            let found = best(&items, &worth, &[1_000_000, 9, 1, 1], &apart, 100_000);
            assert_eq!(found.value, 1_000_001);
            assert_eq!(found.counts.iter().sum::<usize>(), 2);
        };
        let small = std::thread::Builder::new().stack_size(128 << 10);
        small.spawn(gone_through).unwrap().join().unwrap();
    }
}

//! Which costs are tried, in which order: budgets between the lower bound and the best answer.

use super::cover::possible_costs;
use super::search::Ground;

/// Which budget to try next.
pub(super) struct Budgets {
    /// Costs that may be met, rising, all below the best so far.
    costs: Vec<u64>,
    /// Whether these are all that can be met, or only spread between the bounds.
    listed: bool,
    /// No answer costs less.
    pub lower: u64,
    /// Index of the first cost not refuted.
    first: usize,
    /// How many costs the next try takes in.
    stride: usize,
    /// Index of the cost that a search left open.
    open_from: Option<usize>,
}

impl Budgets {
    pub fn new(ground: &Ground, total: super::Size, lower: u64, best: u64) -> Budgets {
        let possible = if lower < best {
            possible_costs(ground.work, ground.cover, total, lower, best)
        } else {
            Some(Vec::new())
        };
        let listed = possible.is_some();
        let costs = possible.unwrap_or_else(|| spread(lower, best));
        Budgets {
            lower: if listed {
                costs.first().copied().unwrap_or(best)
            } else {
                lower
            },
            costs,
            listed,
            first: 0,
            stride: 1,
            open_from: None,
        }
    }

    /// Index of the cost that the next try is allowed.
    fn target(&self) -> Option<usize> {
        let last = self.costs.len().checked_sub(1)?;
        match self.open_from {
            None => (self.first <= last).then(|| last.min(self.first + self.stride - 1)),
            // Between the open budget and the best answer: halve the distance.
            Some(open) => {
                let from = open + self.stride;
                (from <= last).then(|| from + (last - from) / 2)
            }
        }
    }

    pub fn next(&self) -> Option<u64> {
        self.costs.get(self.target()?).copied()
    }

    /// The highest cost below that of the best answer.
    pub fn last(&self, best: u64) -> u64 {
        match self.costs.last() {
            Some(last) if self.listed => *last,
            _ => best.saturating_sub(1),
        }
    }

    /// No answer costs as little as this.
    pub fn refuted_up_to(&mut self, cost: u64) {
        let later = self.costs.iter().position(|possible| *possible > cost);
        self.first = self.first.max(later.unwrap_or(self.costs.len()));
        self.open_from = None;
        self.stride = 1;
        self.lower = match self.costs.get(self.first) {
            Some(next) if self.listed => *next,
            _ => self.lower.max(cost + 1),
        };
    }

    pub fn found(&mut self, cost: u64) {
        self.costs.retain(|possible| *possible < cost);
        self.stride = 1;
    }

    pub fn refuted(&mut self) {
        let Some(target) = self.target() else {
            return;
        };
        let refuted = self.costs.get(target).copied().unwrap_or(self.lower);
        self.first = target + 1;
        self.open_from = None;
        self.stride *= 2;
        self.lower = match self.costs.get(self.first) {
            Some(next) if self.listed => *next,
            _ => refuted + 1,
        };
    }

    pub fn open(&mut self) {
        let Some(target) = self.target() else {
            return;
        };
        if self.stride > 1 && self.open_from.is_none() {
            self.stride = 1;
        } else {
            let open = self.open_from.unwrap_or(target);
            self.open_from = Some(open);
            self.stride = target - open + 1;
        }
    }

    /// Whether there is no answer below `best`: a budget left open says nothing of those above it.
    pub fn settled(&self, best: u64) -> bool {
        self.lower(best) >= best
    }

    /// The cost below which there is no answer, given that one of `best` was found.
    pub fn lower(&self, best: u64) -> u64 {
        if self.first >= self.costs.len() && (self.listed || self.costs.is_empty()) {
            best.max(self.lower)
        } else {
            self.lower.min(best)
        }
    }
}

/// Evenly spread budgets, when possible costs are too many to list.
fn spread(lower: u64, best: u64) -> Vec<u64> {
    let gap = best - lower;
    let mut costs: Vec<u64> = (0..64_u64).map(|part| lower + gap / 64 * part).collect();
    costs.push(best - 1);
    costs.dedup();
    costs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn budgets(listed: bool) -> Budgets {
        Budgets {
            costs: vec![10, 20, 30, 40, 50],
            listed,
            lower: 10,
            first: 0,
            stride: 1,
            open_from: None,
        }
    }

    #[test]
    fn after_each_refuted_budget_twice_as_many_costs_are_taken_in() {
        let mut budgets = budgets(true);
        assert_eq!(budgets.next(), Some(10));
        budgets.refuted();
        assert_eq!((budgets.lower, budgets.next()), (20, Some(30)));
        budgets.refuted();
        assert_eq!((budgets.lower, budgets.next()), (40, Some(50)));
        assert!(!budgets.settled(60));
        budgets.refuted();
        assert_eq!(budgets.next(), None);
        assert!(budgets.settled(60));
    }

    #[test]
    fn above_a_budget_left_open_half_of_the_way_to_the_best_answer_is_tried() {
        let mut budgets = budgets(true);
        budgets.refuted();
        // Of two costs that were taken in together the first is tried by itself.
        budgets.open();
        assert_eq!(budgets.next(), Some(20));
        budgets.open();
        assert_eq!(budgets.next(), Some(40));
        budgets.open();
        assert_eq!(budgets.next(), Some(50));
        budgets.open();
        assert_eq!(budgets.next(), None);
        assert_eq!(budgets.lower(60), 20);
        assert!(!budgets.settled(60));
    }

    #[test]
    fn what_costs_as_much_as_an_answer_is_not_tried() {
        let mut budgets = budgets(true);
        budgets.refuted_up_to(25);
        assert_eq!((budgets.lower, budgets.next()), (30, Some(30)));
        budgets.found(40);
        assert_eq!((budgets.next(), budgets.last(40)), (Some(30), 30));
        budgets.refuted_up_to(30);
        assert_eq!((budgets.lower, budgets.next()), (31, None));
        assert_eq!(budgets.lower(40), 40);
    }

    /// Costs that are only spread between the bounds refute no more than themselves.
    #[test]
    fn between_costs_that_are_not_listed_there_may_be_others() {
        let mut budgets = budgets(false);
        assert_eq!(budgets.last(60), 59);
        budgets.refuted();
        assert_eq!(budgets.lower, 11);
        budgets.refuted_up_to(25);
        assert_eq!((budgets.lower, budgets.next()), (26, Some(30)));
        for _ in 0..3 {
            budgets.refuted();
        }
        assert_eq!((budgets.next(), budgets.lower(60)), (None, 51));
        assert!(!budgets.settled(60));
    }

    #[test]
    fn budgets_are_spread_evenly_up_to_the_last_below_the_best() {
        let costs = spread(100, 1_000);
        assert_eq!(
            (costs.len(), costs[0], costs[1], costs[63]),
            (65, 100, 114, 982)
        );
        assert_eq!(costs[64], 999);
        assert_eq!(spread(100, 103), [100, 102]);
    }
}

//! Looks for a filling within a budget: the largest thing left goes into each kind of container,
//! completed in every way that the budget allows.

use super::Container;
use super::candidate::Candidate;
use super::cover::Cover;
use super::pattern;
use super::relaxation::Relaxation;
use super::work::{DEEPEST, Work, float};
use std::collections::HashMap;

/// Ways tried to complete one container, times the number of different things: with many things
/// fewer ways each, so that a step takes about as long.
const COMPLETIONS: usize = 16_000;

/// What a search came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Outcome {
    /// A filling within the budget.
    Found(Vec<Container>),
    /// There is none.
    Refuted,
    /// The steps ran out first.
    Open,
}

/// What every search for one problem needs.
pub(super) struct Ground<'a> {
    /// The problem.
    pub work: &'a Work,
    /// Values of things.
    pub relaxation: &'a Relaxation,
    /// Least cost of room.
    pub cover: &'a Cover,
}

/// Searches for a filling that costs at most `budget`, in at most `steps` steps.
pub(super) fn within(ground: &Ground, budget: u64, steps: usize) -> Outcome {
    if ground.work.is_deep() {
        return Outcome::Open;
    }
    let mut search = Search {
        ground,
        budget,
        steps,
        complete: true,
        failed: HashMap::new(),
        path: Vec::new(),
    };
    let left = ground.work.available();
    if search.holds(ground.work.counts(), left, 0) {
        Outcome::Found(search.path)
    } else if search.complete {
        Outcome::Refuted
    } else {
        Outcome::Open
    }
}

struct Search<'a> {
    ground: &'a Ground<'a>,
    budget: u64,
    steps: usize,
    complete: bool,
    /// Least cost already spent with which what remained could not be held.
    failed: HashMap<Vec<usize>, u64>,
    path: Vec<Container>,
}

impl Search<'_> {
    fn holds(&mut self, remains: Vec<usize>, left: Vec<usize>, spent: u64) -> bool {
        if remains.iter().all(|&count| count == 0) {
            return spent <= self.budget;
        }
        let slack = self.slack(&remains, &left, spent);
        if slack < 0.0 {
            return false;
        }
        let key = self.key(&remains, &left);
        if self.failed.get(&key).is_some_and(|&cost| spent >= cost) {
            return false;
        }
        // Containers that stay nearly empty make more than it takes.
        let is_deep = self.path.len() >= usize::from(DEEPEST);
        self.steps = self.steps.saturating_sub(1);
        if self.steps == 0 || is_deep {
            self.complete = false;
            return false;
        }
        for step in self.steps_from(&remains, &left, slack) {
            if self.take(&step, &remains, &left, spent) {
                return true;
            }
            if self.steps == 0 {
                return false;
            }
        }
        self.failed.insert(key, spent);
        false
    }

    fn take(&mut self, step: &Candidate, remains: &[usize], left: &[usize], spent: u64) -> bool {
        let cost = self
            .ground
            .work
            .kinds
            .get(step.kind)
            .map_or(0, |kind| kind.cost);
        let mut remains = remains.to_vec();
        step.contents.take_from(&mut remains);
        let mut left = left.to_vec();
        if let Some(count) = left.get_mut(step.kind) {
            *count = count.saturating_sub(1);
        }
        self.path.push(step.container());
        let held = self.holds(remains, left, spent.saturating_add(cost));
        if !held {
            self.path.pop();
        }
        held
    }

    /// What may still be wasted; negative when the budget can't be kept.
    fn slack(&self, remains: &[usize], left: &[usize], spent: u64) -> f64 {
        let size = self.ground.work.size_of_all(remains);
        let Some(budget) = self.budget.checked_sub(spent) else {
            return -1.0;
        };
        if self.ground.cover.least(size) > budget {
            return -1.0;
        }
        let rounding = 1e-9 * float(self.budget) + 1e-6;
        float(budget) - self.ground.relaxation.least(remains, left) + rounding
    }

    fn key(&self, remains: &[usize], left: &[usize]) -> Vec<usize> {
        let limited = self.ground.work.kinds.iter().zip(left);
        remains
            .iter()
            .copied()
            .chain(
                limited
                    .filter(|(kind, _)| kind.limited)
                    .map(|(_, &left)| left),
            )
            .collect()
    }

    fn steps_from(&mut self, remains: &[usize], left: &[usize], slack: f64) -> Vec<Candidate> {
        let work = self.ground.work;
        let relaxation = self.ground.relaxation;
        let mut steps = Vec::new();
        let kinds = work.kinds.iter().zip(left).zip(&relaxation.rents);
        for (index, ((kind, _), rent)) in kinds.enumerate().filter(|(_, ((_, n), _))| **n > 0) {
            let cost = float(kind.cost) + rent;
            let found = pattern::completions(
                work,
                kind.room,
                remains,
                &relaxation.values,
                cost - slack,
                (COMPLETIONS / remains.len().max(1)).min(400),
            );
            self.complete &= found.complete;
            let fillings = found.fillings.into_iter();
            steps.extend(fillings.map(|it| Candidate::new(relaxation, index, cost, it)));
        }
        steps.sort_by(|a, b| {
            a.unused
                .total_cmp(&b.unused)
                .then_with(|| b.contents.cmp(&a.contents))
                .then(a.kind.cmp(&b.kind))
        });
        steps
    }
}

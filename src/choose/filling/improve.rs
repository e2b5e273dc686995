//! From first answers to the best one: budgets between the lower bound and the best answer so far
//! are tried, tightest first, until one is met and all below it are refuted.

use super::Container;
use super::cover::{Cover, possible_costs};
use super::exact;
use super::exchange;
use super::greedy;
use super::halves;
use super::master;
use super::pairs;
use super::purchase;
use super::relaxation::{self, Filled, Relaxation};
use super::rework::rework;
use super::roomy;
use super::search::{Ground, Outcome, within};
use super::work::Work;
use num_traits::ToPrimitive;

/// Targets for which every filling is gone through, at most.
const TARGETS: usize = 6;

/// How much work is put into an answer.
struct Effort {
    /// Steps spent on one budget.
    steps: usize,
    /// Budgets tried.
    budgets: usize,
    /// Whether parts of the answer are filled again.
    rework: bool,
    /// Fillings combined in an integer programme, from the best few on.
    fillings: &'static [usize],
}

/// For the problem as given.
const THOROUGH: Effort = Effort {
    steps: 4_000,
    budgets: 6,
    rework: true,
    fillings: &[250],
};
/// For a part of it.
const BRIEF: Effort = Effort {
    steps: 400,
    budgets: 6,
    rework: false,
    fillings: &[],
};

/// The best answer found, and the cost below which there is none.
pub(super) fn best(work: &Work) -> Option<(Vec<Container>, u64)> {
    answer(work, &THOROUGH)
}

/// A good answer to a part of a problem, and the cost below which there is none.
fn settle(work: &Work) -> Option<(Vec<Container>, u64)> {
    answer(work, &BRIEF)
}

fn answer(work: &Work, effort: &Effort) -> Option<(Vec<Container>, u64)> {
    let total = work.size();
    let cover = Cover::new(work, total);
    let room = cover.least(total);
    if let Some(containers) = roomy::filled(work, room) {
        return Some((containers, room));
    }
    if let Some(containers) = pairs::filled(work) {
        let cost = work.cost(&containers);
        return Some((containers, cost));
    }
    let mut pool = Vec::new();
    let relaxation = relaxation::relax(work, &mut pool);
    let lower = lower_bound(&relaxation).max(room);
    let start = greedy::answers(work, &relaxation)
        .into_iter()
        .min_by_key(|containers| work.cost(containers));
    let ground = Ground {
        work,
        relaxation: &relaxation,
        cover: &cover,
    };
    let start = match start {
        Some(start) => start,
        // Only limited stock can leave no first answer: any filling at all is then looked for.
        None => match within(&ground, u64::MAX, effort.steps * 10) {
            Outcome::Found(containers) => containers,
            Outcome::Refuted | Outcome::Open => return None,
        },
    };
    Some(refine(&ground, &mut pool, start, lower, effort))
}

fn lower_bound(relaxation: &Relaxation) -> u64 {
    let rounding = 1e-9 * relaxation.bound + 1e-6;
    (relaxation.bound - rounding).ceil().to_u64().unwrap_or(0)
}

/// Tries budgets between `lower` and the cost of `start`, other ways in between.
fn refine(
    ground: &Ground,
    pool: &mut Vec<Filled>,
    start: Vec<Container>,
    lower: u64,
    effort: &Effort,
) -> (Vec<Container>, u64) {
    let work = ground.work;
    let total = work.size();
    let mut best = greedy::shrunk(work, start);
    let mut budgets = Budgets::new(ground, total, lower, work.cost(&best));
    try_budgets(
        ground,
        &mut best,
        &mut budgets,
        effort.steps,
        effort.budgets,
    );
    if effort.rework && !budgets.settled(work.cost(&best)) {
        // Along one dimension what is found and what is proved lie so close that more work on it
        // costs more than it brings.
        if !work.is_flat() && exchange::takes(work) {
            best = purchased(ground, pool, best, &mut budgets);
        }
        if !budgets.settled(work.cost(&best)) {
            best = reworked(ground, best, &mut budgets);
        }
    }
    for &fillings in effort.fillings {
        if budgets.settled(work.cost(&best)) {
            break;
        }
        let combined = master::combine(work, ground.relaxation, work.cost(&best), fillings);
        let better = combined.containers.map(|found| greedy::shrunk(work, found));
        if let Some(better) = better.filter(|found| work.cost(found) < work.cost(&best)) {
            best = better;
            budgets.found(work.cost(&best));
        }
        if combined.proved {
            let cost = work.cost(&best);
            return (best, cost);
        }
    }
    if effort.rework && !budgets.settled(work.cost(&best)) {
        let settled = purchase::settle(
            ground,
            pool,
            budgets.lower,
            work.cost(&best),
            &purchase::THOROUGH,
        );
        if let Some(found) = settled.found {
            best = found;
        }
        return (best, settled.lower);
    }
    let cost = work.cost(&best);
    (best, budgets.lower(cost))
}

/// The answer, or a cheaper purchase that was filled.
fn purchased(
    ground: &Ground,
    pool: &mut Vec<Filled>,
    best: Vec<Container>,
    budgets: &mut Budgets,
) -> Vec<Container> {
    let work = ground.work;
    let cost = work.cost(&best);
    let settled = purchase::settle(ground, pool, budgets.lower, cost, &purchase::BRIEF);
    if settled.lower > budgets.lower {
        budgets.refuted_up_to(settled.lower - 1);
    }
    let Some(found) = settled.found else {
        return best;
    };
    budgets.found(work.cost(&found));
    found
}

/// The answer bettered by filling parts of it again, and proved where that can be done.
fn reworked(ground: &Ground, mut best: Vec<Container>, budgets: &mut Budgets) -> Vec<Container> {
    let work = ground.work;
    if !work.is_flat() {
        best = halves::matched(work, best, budgets.lower);
    }
    let refill = |part: &Work| settle(part).map(|(containers, _)| containers);
    best = rework(work, ground.relaxation, best, budgets.lower, refill);
    budgets.found(work.cost(&best));
    if !work.is_flat() {
        best = proved(ground, best, budgets);
    }
    best
}

/// The answer proved the best, or a better one, where so few fillings come into question that all
/// can be gone through: for every budget up to it, or for the lower ones of them.
fn proved(ground: &Ground, mut best: Vec<Container>, budgets: &mut Budgets) -> Vec<Container> {
    let work = ground.work;
    let mut target = budgets.last(work.cost(&best));
    for _ in 0..TARGETS {
        if budgets.settled(work.cost(&best)) {
            break;
        }
        let last = budgets.last(work.cost(&best));
        target = match exact::within(work, ground.relaxation, target) {
            exact::Outcome::Found(found) => {
                best = greedy::shrunk(work, found);
                budgets.found(work.cost(&best));
                budgets.last(work.cost(&best))
            }
            exact::Outcome::Refuted => {
                budgets.refuted_up_to(target);
                u64::midpoint(target, last)
            }
            exact::Outcome::TooMany if target > budgets.lower => {
                u64::midpoint(budgets.lower, target)
            }
            exact::Outcome::TooMany | exact::Outcome::Open => break,
        };
    }
    best
}

fn try_budgets(
    ground: &Ground,
    best: &mut Vec<Container>,
    budgets: &mut Budgets,
    steps: usize,
    times: usize,
) {
    for _ in 0..times {
        let Some(budget) = budgets.next() else {
            return;
        };
        match within(ground, budget, steps) {
            Outcome::Found(found) => {
                *best = greedy::shrunk(ground.work, found);
                budgets.found(ground.work.cost(best));
            }
            Outcome::Refuted => budgets.refuted(),
            Outcome::Open => budgets.open(),
        }
    }
}

/// Which budget to try next.
struct Budgets {
    /// Costs that may be met, rising, all below the best so far.
    costs: Vec<u64>,
    /// Whether these are all that can be met, or only spread between the bounds.
    listed: bool,
    /// No answer costs less.
    lower: u64,
    /// Index of the first cost not refuted.
    first: usize,
    /// How many costs the next try takes in.
    stride: usize,
    /// Index of the cost that a search left open.
    open_from: Option<usize>,
}

impl Budgets {
    fn new(ground: &Ground, total: super::Size, lower: u64, best: u64) -> Budgets {
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

    fn next(&self) -> Option<u64> {
        self.costs.get(self.target()?).copied()
    }

    /// The highest cost below that of the best answer.
    fn last(&self, best: u64) -> u64 {
        match self.costs.last() {
            Some(last) if self.listed => *last,
            _ => best.saturating_sub(1),
        }
    }

    /// No answer costs as little as this.
    fn refuted_up_to(&mut self, cost: u64) {
        let later = self.costs.iter().position(|possible| *possible > cost);
        self.first = self.first.max(later.unwrap_or(self.costs.len()));
        self.open_from = None;
        self.stride = 1;
        self.lower = match self.costs.get(self.first) {
            Some(next) if self.listed => *next,
            _ => self.lower.max(cost + 1),
        };
    }

    fn found(&mut self, cost: u64) {
        self.costs.retain(|possible| *possible < cost);
        self.stride = 1;
    }

    fn refuted(&mut self) {
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

    fn open(&mut self) {
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
    fn settled(&self, best: u64) -> bool {
        self.lower(best) >= best
    }

    /// The cost below which there is no answer, given that one of `best` was found.
    fn lower(&self, best: u64) -> u64 {
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

//! From first answers to the best one: budgets between the lower bound and the best answer so far
//! are tried, tightest first, until one is met and all below it are refuted.

use super::Container;
use super::budgets::Budgets;
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
/// To compare problems, of which only the best is solved.
const COMPARING: Effort = Effort {
    fillings: &[],
    ..THOROUGH
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
    answer(work, &THOROUGH, None)
}

/// An answer with a price below `price`, as far as less work than is put into [`best`] finds one, and
/// the cost below which there is none. Where bounds tell that there is none, no work is put into it.
pub(super) fn cheaper(work: &Work, price: u64) -> Option<(Vec<Container>, u64)> {
    let below = price.saturating_mul(work.weight);
    let (containers, lower) = answer(work, &COMPARING, Some(below))?;
    (work.cost(&containers) < below).then_some((containers, lower))
}

/// A good answer to a part of a problem, and the cost below which there is none.
fn settle(work: &Work) -> Option<(Vec<Container>, u64)> {
    answer(work, &BRIEF, None)
}

/// `None`: there is no answer, or what bounds tell is none that costs less than `below`.
fn answer(work: &Work, effort: &Effort, below: Option<u64>) -> Option<(Vec<Container>, u64)> {
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
    let none =
        |below| possible_costs(work, &cover, total, lower, below).is_some_and(|it| it.is_empty());
    if below.is_some_and(|below| lower >= below || none(below)) {
        return None;
    }
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

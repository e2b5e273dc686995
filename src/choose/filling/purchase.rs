//! Purchases one by one: so many containers of each kind, cheapest first.
//!
//! With the purchase fixed, the relaxation is far tighter, so most purchases are refuted by it
//! alone; the first that can be filled is the answer.

use super::Container;
use super::cover::Cover;
use super::exchange;
use super::master;
use super::relaxation::{Filled, relax};
use super::search::{Ground, Outcome, within};
use super::work::{Work, float, ratio};
use num_traits::ToPrimitive;

/// How much work is put into purchases.
pub(super) struct Effort {
    /// Purchases looked at, at most.
    purchases: usize,
    /// Rounds of exchanges for one of them, and for all.
    rounds: usize,
    all_rounds: usize,
    /// Whether one is searched too, before and after the exchanges.
    search: bool,
}

/// To come by a good answer.
pub(super) const BRIEF: Effort = Effort {
    purchases: 60,
    rounds: 40,
    all_rounds: 1_200,
    search: false,
};
/// To come by the best.
pub(super) const THOROUGH: Effort = Effort {
    purchases: 400,
    rounds: 1_500,
    all_rounds: 6_000,
    search: true,
};

/// Purchases listed, at most.
const LISTED: usize = 4_000;
/// Steps in listing them.
const LISTING: usize = 500_000;
/// Steps in searching one.
const STEPS: usize = 6_000;
/// Fillings combined for one.
const FILLINGS: usize = 1_000;

/// What the purchases came to.
pub(super) struct Settled {
    /// A filling of the cheapest purchase that could be filled, if that is cheaper than `below`.
    pub found: Option<Vec<Container>>,
    /// No answer costs less.
    pub lower: u64,
}

/// Looks for the cheapest purchase from `from` up to `below` that can be filled.
pub(super) fn settle(
    ground: &Ground,
    pool: &mut Vec<Filled>,
    from: u64,
    below: u64,
    effort: &Effort,
) -> Settled {
    let work = ground.work;
    let mut left = effort.all_rounds;
    let (purchases, all_below) = cheapest(work, from, below);
    let mut open = purchases.get(effort.purchases).map(|(cost, _)| *cost);
    if all_below < below {
        open.get_or_insert(all_below);
    }
    let mut sure = true;
    for (cost, counts) in purchases.iter().take(effort.purchases) {
        let bought = work.bought(counts);
        let rounds = effort.rounds.min(left);
        let tried = filled(&bought, pool, rounds, effort.search);
        if tried == Outcome::Open {
            left -= rounds;
        }
        match tried {
            Outcome::Found(found) => {
                let lower = if sure { *cost } else { open.unwrap_or(*cost) };
                return Settled {
                    found: Some(found),
                    lower,
                };
            }
            Outcome::Refuted => {}
            Outcome::Open => {
                if sure {
                    open = Some(*cost);
                }
                sure = false;
            }
        }
    }
    Settled {
        found: None,
        lower: open.unwrap_or(below),
    }
}

/// Whether all containers that can be had hold everything.
pub(super) fn fits(work: &Work) -> Outcome {
    let bought = work.bought(&work.available());
    filled(&bought, &mut Vec::new(), BRIEF.rounds, true)
}

/// Whether a purchase can be filled.
fn filled(bought: &Work, pool: &mut Vec<Filled>, rounds: usize, search: bool) -> Outcome {
    let costs = bought.kinds.iter().map(|kind| {
        let count = kind.available.to_u64().unwrap_or(u64::MAX);
        kind.cost.saturating_mul(count)
    });
    let cost = costs.fold(0, u64::saturating_add);
    let relaxation = relax(bought, pool);
    if relaxation.bound > float(cost) * (1.0 + 1e-9) + 1e-6 {
        return Outcome::Refuted;
    }
    if search {
        let ground = Ground {
            work: bought,
            relaxation: &relaxation,
            cover: &Cover::new(bought, bought.size()),
        };
        let outcome = within(&ground, cost, STEPS);
        if outcome != Outcome::Open {
            return outcome;
        }
    }
    if let Some(found) = exchange::filled(bought, rounds) {
        return Outcome::Found(found);
    }
    if !search {
        return Outcome::Open;
    }
    let combined = master::combine(bought, &relaxation, cost, FILLINGS);
    match combined.containers {
        Some(found) => Outcome::Found(found),
        None if combined.proved => Outcome::Refuted,
        None => Outcome::Open,
    }
}

/// Purchases with room for everything, by cost, and the cost below which these are all: `below`,
/// or less when there are too many.
fn cheapest(work: &Work, from: u64, below: u64) -> (Vec<(u64, Vec<usize>)>, u64) {
    let mut below = below;
    while below > from {
        match list(work, from, below) {
            Some(purchases) => return (purchases, below),
            None => below = from + (below - from) / 2,
        }
    }
    (Vec::new(), from)
}

/// Purchases with room for everything, by cost; `None` when there are too many.
pub(super) fn list(work: &Work, from: u64, below: u64) -> Option<Vec<(u64, Vec<usize>)>> {
    let total = work.size();
    let mut listing = Listing {
        work,
        worth: worth(work, total),
        from,
        below,
        steps: LISTING,
        counts: Vec::new(),
        found: Vec::new(),
    };
    listing.walk(0, [float(total[0]), float(total[1])]);
    (listing.steps > 0 && listing.found.len() <= LISTED).then(|| {
        listing.found.sort();
        listing.found
    })
}

struct Listing<'a> {
    work: &'a Work,
    /// What a unit of room in each dimension costs at least.
    worth: [f64; 2],
    from: u64,
    below: u64,
    steps: usize,
    counts: Vec<usize>,
    found: Vec<(u64, Vec<usize>)>,
}

impl Listing<'_> {
    fn walk(&mut self, spent: u64, lacks: [f64; 2]) {
        self.steps = self.steps.saturating_sub(1);
        let [first, second] = lacks.map(|lack| lack.max(0.0));
        let least = first * self.worth[0] + second * self.worth[1];
        if self.steps == 0
            || self.found.len() > LISTED
            || float(spent) + least * (1.0 - 1e-9) >= float(self.below)
        {
            return;
        }
        let Some(kind) = self.work.kinds.get(self.counts.len()) else {
            if spent >= self.from && lacks[0] <= 0.0 && lacks[1] <= 0.0 {
                self.found.push((spent, self.counts.clone()));
            }
            return;
        };
        let (cost, available) = (kind.cost, kind.available);
        let room = [float(kind.room[0]), float(kind.room[1])];
        let (mut spent, mut lacks) = (spent, lacks);
        for count in 0..=available {
            self.counts.push(count);
            self.walk(spent, lacks);
            self.counts.pop();
            spent = spent.saturating_add(cost);
            lacks = [lacks[0] - room[0], lacks[1] - room[1]];
            if spent >= self.below {
                break;
            }
        }
    }
}

/// Prices of room in the two dimensions, such that no kind gives more room than it costs, and the
/// room for everything costs most: the best corner of that region.
fn worth(work: &Work, total: super::Size) -> [f64; 2] {
    let prices = |of: fn(super::Size) -> u64| {
        work.kinds
            .iter()
            .filter(move |kind| of(kind.room) > 0)
            .map(move |kind| float(kind.cost) / float(of(kind.room)))
            .fold(f64::INFINITY, f64::min)
    };
    let (first, second) = (prices(|size| size[0]), prices(|size| size[1]));
    let mut corners = vec![[first, 0.0], [0.0, second]];
    for (index, a) in work.kinds.iter().enumerate() {
        for b in work.kinds.iter().skip(index + 1) {
            let [a0, a1] = a.room.map(float);
            let [b0, b1] = b.room.map(float);
            let determinant = a0 * b1 - a1 * b0;
            if determinant.abs() > 0.0 {
                let (ca, cb) = (float(a.cost), float(b.cost));
                corners.push([
                    (ca * b1 - cb * a1) / determinant,
                    (a0 * cb - b0 * ca) / determinant,
                ]);
            }
        }
    }
    let bought =
        |corner: &[f64; 2]| corner[0] * ratio(total[0], 1) + corner[1] * ratio(total[1], 1);
    let sound = |corner: &[f64; 2]| {
        corner
            .iter()
            .all(|price| price.is_finite() && *price >= 0.0)
            && work.kinds.iter().all(|kind| {
                let room = kind.room.map(float);
                corner[0] * room[0] + corner[1] * room[1] <= float(kind.cost) * (1.0 + 1e-12)
            })
    };
    corners
        .into_iter()
        .filter(sound)
        .max_by(|a, b| bought(a).total_cmp(&bought(b)))
        .unwrap_or([0.0, 0.0])
}

#[cfg(test)]
mod tests;

//! The cheapest set of containers that holds every thing: drivers with what hangs on them, reels
//! and bars with the pieces cut from them.
//!
//! A container of a kind holds any things whose sizes add up to no more than its room, in each of
//! two dimensions (watts and outputs; length and nothing). Lowest price comes first, then fewest
//! containers. The answer is proved against a lower bound: the pattern relaxation (Gilmore and
//! Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9,
//! 1961) sharpened by the prices that a purchase can have at all, the cheapest of which are filled by
//! exchanges; where few fillings come into question all of them are gone through; where no container
//! holds more than two things, they are matched instead, exactly. Work is limited by counted steps,
//! never by time, so the answer is the same on every machine.

mod budgets;
mod candidate;
mod contents;
mod cover;
mod draws;
mod exact;
mod exchange;
mod greedy;
mod halves;
mod improve;
mod master;
mod memory;
mod pairs;
mod pattern;
mod purchase;
mod relaxation;
mod rework;
mod roomy;
mod search;
mod table;
mod work;

pub use contents::Contents;
use work::Work;

/// Room or size in two dimensions; a dimension that does not matter is 0 in every size.
pub type Size = [u64; 2];

/// A kind of container.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Kind {
    /// What fits into one.
    pub room: Size,
    /// What one costs.
    pub price: u64,
    /// How many can be had; `None` for no limit.
    pub available: Option<usize>,
}

/// Things of one size.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Thing {
    /// Room that one takes.
    pub size: Size,
    /// How many there are.
    pub count: usize,
}

/// A filled container.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Container {
    /// Index of its kind.
    pub kind: usize,
    /// How many of each thing it holds, by place in the list of things.
    pub contents: Contents,
}

/// All things in containers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Filling {
    /// The containers, by kind, then by what they hold.
    pub containers: Vec<Container>,
    /// What they cost.
    pub price: u64,
    /// No filling costs less than this.
    pub bound: u64,
    /// Whether no filling is cheaper, nor as cheap with fewer containers.
    pub optimal: bool,
}

/// Fills the cheapest containers. `None` when a thing fits into no kind, or no way was found to
/// hold everything in the containers that can be had.
#[must_use]
pub fn fill(kinds: &[Kind], things: &[Thing]) -> Option<Filling> {
    filled(kinds, things, None)
}

/// Fills containers that cost less than `price`. `None` also when bounds tell that there are none, or
/// none were found: less work is put into it than into [`fill`].
#[must_use]
pub fn fill_below(kinds: &[Kind], things: &[Thing], price: u64) -> Option<Filling> {
    filled(kinds, things, Some(price))
}

fn filled(kinds: &[Kind], things: &[Thing], below: Option<u64>) -> Option<Filling> {
    memory::remembered((kinds, things, below), || worked_out(kinds, things, below))
}

fn worked_out(kinds: &[Kind], things: &[Thing], below: Option<u64>) -> Option<Filling> {
    let work = Work::new(kinds, things)?;
    if work.things.is_empty() {
        return Some(Filling {
            containers: Vec::new(),
            price: 0,
            bound: 0,
            optimal: true,
        });
    }
    let (containers, lower) = match below {
        None => improve::best(&work)?,
        Some(price) => improve::cheaper(&work, price)?,
    };
    let cost = work.cost(&containers);
    Some(Filling {
        price: work.price_of(cost),
        bound: work.price_of(lower.min(cost)),
        optimal: lower >= cost,
        containers: work.give_back(containers),
    })
}

/// Whether things fit into given containers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Held {
    /// They do, so.
    Yes(Vec<Container>),
    /// They don't.
    No,
    /// No way was found, and none was refuted.
    Unknown,
}

/// Whether `things` fit into as many containers of each kind as are `available`, whatever they cost.
#[must_use]
pub fn held(kinds: &[Kind], things: &[Thing]) -> Held {
    let Some(work) = Work::new(kinds, things) else {
        return Held::No;
    };
    match purchase::fits(&work) {
        search::Outcome::Found(containers) => Held::Yes(work.give_back(containers)),
        search::Outcome::Refuted => Held::No,
        search::Outcome::Open => Held::Unknown,
    }
}

#[cfg(test)]
mod tests;

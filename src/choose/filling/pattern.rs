//! What one container can hold: the most valuable filling, and all fillings worth trying.

use super::table;
use super::work::{Work, WorkThing, fitting, float, holds, less, ratio};
use super::{Contents, Size};

/// Steps of branching for one most valuable filling, before a table over its room is made.
const STEPS: usize = 3_000;
/// Steps of listing everything that is worth enough.
const LISTING: usize = 5_000_000;
/// Values closer than this count as equal.
const CLOSE: f64 = 1e-9;

/// The most valuable filling of a container.
pub(super) struct Best {
    /// How many of each thing.
    pub contents: Contents,
    /// Its value.
    pub value: f64,
    /// No filling is worth more; equals `value` when the search was completed.
    pub ceiling: f64,
}

/// Most valuable filling of `room` with at most `most` of each thing.
pub(super) fn best(work: &Work, room: Size, most: &[usize], values: &[f64]) -> Best {
    let mut entries: Vec<Entry> = work
        .things
        .iter()
        .zip(most.iter().zip(values))
        .enumerate()
        .filter(|(_, (thing, (most, value)))| {
            **most > 0 && **value > CLOSE && holds(room, thing.size)
        })
        .map(|(index, (thing, (&most, &value)))| Entry::new(index, thing, most, value, room))
        .collect();
    entries.sort_by(|a, b| b.density().total_cmp(&a.density()));
    let mut knapsack = Knapsack::new(room);
    let ceiling = knapsack.ceiling(&entries, room);
    knapsack.descend(&entries, room, 0.0);
    let mut best = knapsack.best;
    best.ceiling = if knapsack.steps > 0 {
        best.value
    } else if let Some((value, counts)) = by_table(room, &entries) {
        let places = entries.iter().map(|entry| entry.index);
        best.contents = places.zip(counts).collect();
        best.value = value;
        value
    } else {
        ceiling
    };
    best
}

/// The same by a table over the room.
fn by_table(room: Size, entries: &[Entry]) -> Option<(f64, Vec<usize>)> {
    let entries: Vec<table::Entry> = entries
        .iter()
        .map(|entry| table::Entry {
            size: entry.size,
            most: entry.most,
            value: entry.value,
        })
        .collect();
    table::best(room, &entries)
}

struct Entry {
    index: usize,
    size: Size,
    most: usize,
    value: f64,
    /// Share of the whole room, both dimensions together.
    weight: f64,
}

impl Entry {
    fn new(index: usize, thing: &WorkThing, most: usize, value: f64, room: Size) -> Entry {
        Entry {
            index,
            size: thing.size,
            most: fitting(room, thing.size, most),
            value,
            weight: ratio(thing.size[0], room[0]) + ratio(thing.size[1], room[1]),
        }
    }

    fn density(&self) -> f64 {
        self.value / self.weight.max(f64::MIN_POSITIVE)
    }
}

struct Knapsack {
    room: Size,
    steps: usize,
    best: Best,
    chosen: Vec<(usize, usize)>,
}

impl Knapsack {
    /// Nothing tried yet.
    fn new(room: Size) -> Knapsack {
        Knapsack {
            room,
            steps: STEPS,
            best: Best {
                contents: Contents::default(),
                value: 0.0,
                ceiling: 0.0,
            },
            chosen: Vec::new(),
        }
    }

    /// Tries each count of the first entry, then the rest. What is not taken is passed over without
    /// going deeper: there may be thousands.
    fn descend(&mut self, mut entries: &[Entry], left: Size, value: f64) {
        self.steps = self.steps.saturating_sub(1);
        if value > self.best.value + CLOSE {
            self.keep(value);
        }
        while let Some((first, rest)) = entries.split_first() {
            if self.steps == 0 || value + self.ceiling(entries, left) <= self.best.value + CLOSE {
                return;
            }
            for count in (1..=fitting(left, first.size, first.most)).rev() {
                self.chosen.push((first.index, count));
                let worth = value + first.value * crate::quantity::number::real(count);
                self.descend(rest, less(left, first.size, count), worth);
                self.chosen.pop();
            }
            self.steps = self.steps.saturating_sub(1);
            entries = rest;
        }
    }

    fn keep(&mut self, value: f64) {
        self.best.value = value;
        self.best.contents = self.chosen.iter().copied().collect();
    }

    /// No filling of `left` is worth more: the two dimensions added into one, things divisible
    /// (Dantzig, Operations Research 5, 1957).
    fn ceiling(&self, entries: &[Entry], left: Size) -> f64 {
        let mut weight = ratio(left[0], self.room[0]) + ratio(left[1], self.room[1]);
        let mut value = 0.0;
        for entry in entries {
            let most = crate::quantity::number::real(entry.most);
            if entry.weight * most <= weight {
                value += entry.value * most;
                weight -= entry.weight * most;
            } else {
                return value + entry.value * weight / entry.weight;
            }
        }
        value
    }
}

/// Fillings of one container that hold the first thing left.
pub(super) struct Completions {
    /// How many of each thing, in each filling.
    pub fillings: Vec<Contents>,
    /// Whether these are all.
    pub complete: bool,
}

/// All fillings of `room` from what `remains` to which nothing more could be added, which hold at
/// least one of the first thing that remains, and are worth at least `least`; up to `limit`.
pub(super) fn completions(
    work: &Work,
    room: Size,
    remains: &[usize],
    values: &[f64],
    least: f64,
    limit: usize,
) -> Completions {
    let first = remains.iter().position(|&count| count > 0).unwrap_or(0);
    let mut walk = Walk::new(work, remains, values, least, limit);
    walk.visit(first, Some(first), room, 0.0);
    walk.came_to()
}

/// All fillings of `room`, full or not, that are worth at least `least`; up to `limit`.
pub(super) fn worthwhile(
    work: &Work,
    room: Size,
    values: &[f64],
    least: f64,
    limit: usize,
) -> Completions {
    let remains = work.counts();
    let mut walk = Walk::new(work, &remains, values, least, limit);
    walk.steps = LISTING;
    walk.only_full = false;
    walk.visit(0, None, room, 0.0);
    walk.came_to()
}

/// For each place in the order of things: best value per unit of either dimension, and total
/// value, among the things from there on.
fn best_rest(work: &Work, remains: &[usize], values: &[f64]) -> Vec<[f64; 3]> {
    let mut rest = vec![[0.0; 3]];
    for ((thing, &count), &value) in work.things.iter().zip(remains).zip(values).rev() {
        let after = rest.last().copied().unwrap_or_default();
        let density = |size: u64, so_far: f64| {
            if count == 0 || value <= 0.0 {
                so_far
            } else if size == 0 {
                f64::INFINITY
            } else {
                so_far.max(value / float(size))
            }
        };
        rest.push([
            density(thing.size[0], after[0]),
            density(thing.size[1], after[1]),
            after[2] + value * crate::quantity::number::real(count),
        ]);
    }
    rest.reverse();
    rest
}

struct Walk<'a> {
    work: &'a Work,
    remains: &'a [usize],
    values: &'a [f64],
    best_rest: Vec<[f64; 3]>,
    least: f64,
    steps: usize,
    limit: usize,
    /// Whether those are left out to which something could be added.
    only_full: bool,
    /// What was taken so far, place and count.
    chosen: Vec<(usize, usize)>,
    found: Vec<Contents>,
}

impl<'a> Walk<'a> {
    fn new(
        work: &'a Work,
        remains: &'a [usize],
        values: &'a [f64],
        least: f64,
        limit: usize,
    ) -> Walk<'a> {
        Walk {
            work,
            remains,
            values,
            best_rest: best_rest(work, remains, values),
            least,
            steps: limit.saturating_mul(40),
            limit,
            only_full: true,
            chosen: Vec::new(),
            found: Vec::new(),
        }
    }

    fn came_to(self) -> Completions {
        Completions {
            complete: self.steps > 0 && self.found.len() < self.limit,
            fillings: self.found,
        }
    }

    /// From a place on; at least one is taken of the thing that comes `first`. What is not taken is
    /// passed over without going deeper: there may be thousands.
    fn visit(&mut self, from: usize, first: Option<usize>, left: Size, value: f64) {
        for place in from.. {
            self.steps = self.steps.saturating_sub(1);
            if self.steps == 0 || self.found.len() >= self.limit {
                return;
            }
            let (Some(thing), Some(&remains), Some(&worth)) = (
                self.work.things.get(place),
                self.remains.get(place),
                self.values.get(place),
            ) else {
                if value >= self.least - CLOSE && (!self.only_full || self.is_full(left)) {
                    self.found.push(self.chosen.iter().copied().collect());
                }
                return;
            };
            if value + self.ceiling(place, left) < self.least - CLOSE {
                return;
            }
            let size = thing.size;
            for count in (1..=fitting(left, size, remains)).rev() {
                self.chosen.push((place, count));
                let value = value + worth * crate::quantity::number::real(count);
                self.visit(place + 1, first, less(left, size, count), value);
                self.chosen.pop();
            }
            if Some(place) == first {
                return;
            }
        }
    }

    fn ceiling(&self, place: usize, left: Size) -> f64 {
        self.best_rest.get(place).map_or(0.0, |rest| {
            let along = |left: u64, density: f64| {
                if density == 0.0 {
                    0.0
                } else if density.is_infinite() {
                    f64::INFINITY
                } else {
                    float(left) * density
                }
            };
            along(left[0], rest[0])
                .min(along(left[1], rest[1]))
                .min(rest[2])
        })
    }

    /// Whether nothing that remains could be added.
    fn is_full(&self, left: Size) -> bool {
        let mut chosen = self.chosen.iter().peekable();
        let things = self.work.things.iter().zip(self.remains).enumerate();
        let could_be_added = |(place, (thing, remains)): (usize, (&WorkThing, &usize))| {
            let taken = chosen.next_if(|(taken, _)| *taken == place);
            taken.map_or(0, |(_, count)| *count) < *remains && holds(left, thing.size)
        };
        !things.into_iter().any(could_be_added)
    }
}

#[cfg(test)]
mod tests;

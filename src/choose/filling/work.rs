//! A filling problem made ready: dominated kinds left out, equal things merged, largest first, and
//! price with number of containers as one whole number.

use super::{Container, Contents, Kind, Size, Thing};
use num_traits::ToPrimitive;
use std::cmp::Reverse;

/// A kind of container in the running.
#[derive(Clone)]
pub(super) struct WorkKind {
    /// What fits.
    pub room: Size,
    /// Price times [`Work::weight`] plus 1: lowest price first, then fewest containers.
    pub cost: u64,
    /// How many can be had; never more than there are things.
    pub available: usize,
    /// Whether that can bind.
    pub limited: bool,
    given: usize,
}

/// Things of one size.
#[derive(Clone)]
pub(super) struct WorkThing {
    /// Room that one takes.
    pub size: Size,
    /// How many there are.
    pub count: usize,
    given: Vec<(usize, usize)>,
}

/// Containers through which a search goes one in the other: a level takes stack and a copy of what is
/// left, and of thousands a search would see next to nothing.
pub(super) const DEEPEST: u16 = 1_000;

/// The problem.
pub(super) struct Work {
    /// Kinds that are not dominated.
    pub kinds: Vec<WorkKind>,
    /// Things, largest share of the roomiest container first.
    pub things: Vec<WorkThing>,
    /// More than the number of containers of any sensible answer.
    pub weight: u64,
}

impl Work {
    /// `None` when a thing fits into no kind.
    pub fn new(kinds: &[Kind], things: &[Thing]) -> Option<Work> {
        let total: usize = things.iter().map(|thing| thing.count).sum();
        let weight = total.to_u64()?.checked_add(1)?;
        let mut work = Work {
            kinds: undominated(kinds, total, weight),
            things: merged(things),
            weight,
        };
        let fits = |thing: &WorkThing| work.kinds.iter().any(|kind| holds(kind.room, thing.size));
        if !work.things.iter().all(fits) {
            return None;
        }
        let largest = work.largest_room();
        work.things
            .sort_by(|a, b| share(b.size, largest).total_cmp(&share(a.size, largest)));
        Some(work)
    }

    /// Whether the second dimension matters to nothing.
    pub fn is_flat(&self) -> bool {
        self.things.iter().all(|thing| thing.size[1] == 0)
    }

    /// The largest room of any kind, dimension by dimension.
    fn largest_room(&self) -> Size {
        self.kinds.iter().fold([0, 0], |most, kind| {
            [most[0].max(kind.room[0]), most[1].max(kind.room[1])]
        })
    }

    /// Whether it takes more than [`DEEPEST`] containers, so that no search goes through them one by
    /// one.
    pub fn is_deep(&self) -> bool {
        let all = self.size();
        let room = self.largest_room();
        let more = |(all, room): (u64, u64)| room > 0 && all / room >= u64::from(DEEPEST);
        all.into_iter().zip(room).any(more)
    }

    /// How many there are of each thing.
    pub fn counts(&self) -> Vec<usize> {
        self.things.iter().map(|thing| thing.count).collect()
    }

    /// The problem of filling again what `emptied` held, while `kept` stay as they are.
    pub fn part(&self, emptied: &[Container], kept: &[Container]) -> Work {
        let kinds = self.kinds.iter().enumerate().map(|(index, kind)| {
            let used = kept.iter().filter(|c| c.kind == index).count();
            WorkKind {
                available: kind.available.saturating_sub(used),
                ..kind.clone()
            }
        });
        let mut held = vec![0; self.things.len()];
        for container in emptied {
            container.contents.give_to(&mut held);
        }
        let things = self
            .things
            .iter()
            .zip(held)
            .map(|(thing, count)| WorkThing {
                count,
                ..thing.clone()
            });
        Work {
            kinds: kinds.collect(),
            things: things.collect(),
            weight: self.weight,
        }
    }

    /// How many of each kind can be had.
    pub fn available(&self) -> Vec<usize> {
        self.kinds.iter().map(|kind| kind.available).collect()
    }

    /// The same things in no more than these containers.
    pub fn bought(&self, counts: &[usize]) -> Work {
        let kinds = self
            .kinds
            .iter()
            .zip(counts)
            .map(|(kind, &count)| WorkKind {
                available: kind.available.min(count),
                limited: true,
                ..kind.clone()
            });
        Work {
            kinds: kinds.collect(),
            things: self.things.clone(),
            weight: self.weight,
        }
    }

    /// Room that everything takes.
    pub fn size(&self) -> Size {
        let things = self.things.iter();
        things.fold([0, 0], |sum, thing| add(sum, thing.size, thing.count))
    }

    /// Room taken by so many of each thing, those of which there are none too.
    pub fn size_of_all(&self, counts: &[usize]) -> Size {
        self.things
            .iter()
            .zip(counts)
            .fold([0, 0], |sum, (thing, &count)| add(sum, thing.size, count))
    }

    /// Room taken by what is held together.
    pub fn size_of(&self, contents: &Contents) -> Size {
        contents
            .each()
            .filter_map(|(place, count)| Some((self.things.get(place)?, count)))
            .fold([0, 0], |sum, (thing, count)| add(sum, thing.size, count))
    }

    /// Cost of containers: price and number as one.
    pub fn cost(&self, containers: &[Container]) -> u64 {
        containers
            .iter()
            .filter_map(|container| self.kinds.get(container.kind))
            .map(|kind| kind.cost)
            .sum()
    }

    /// The price within a cost.
    pub fn price_of(&self, cost: u64) -> u64 {
        cost / self.weight
    }

    /// The same containers in terms of the problem as given.
    pub fn give_back(&self, mut containers: Vec<Container>) -> Vec<Container> {
        containers.sort_by_key(|container| (container.kind, Reverse(container.contents.clone())));
        let mut left: Vec<Vec<(usize, usize)>> = self
            .things
            .iter()
            .map(|thing| thing.given.iter().rev().copied().collect())
            .collect();
        containers
            .into_iter()
            .map(|container| Container {
                kind: self.kinds.get(container.kind).map_or(0, |kind| kind.given),
                contents: take(&mut left, &container.contents),
            })
            .collect()
    }
}

/// Takes so many of each merged thing from what is left of the given ones.
fn take(left: &mut [Vec<(usize, usize)>], counts: &Contents) -> Contents {
    let mut taken = Vec::new();
    for (place, count) in counts.each() {
        let Some(stack) = left.get_mut(place) else {
            continue;
        };
        let mut wanted = count;
        while let Some((given, there)) = stack.pop() {
            let now = wanted.min(there);
            taken.push((given, now));
            wanted -= now;
            if there > now {
                stack.push((given, there - now));
                break;
            }
            if wanted == 0 {
                break;
            }
        }
    }
    taken.into_iter().collect()
}

/// Kinds for which no other unlimited kind has as much room for no more money.
fn undominated(kinds: &[Kind], total: usize, weight: u64) -> Vec<WorkKind> {
    kinds
        .iter()
        .enumerate()
        .filter(|(index, kind)| {
            !kinds.iter().enumerate().any(|(other, better)| {
                let strictly = better.price < kind.price || better.room != kind.room;
                other != *index
                    && better.available.is_none()
                    && better.price <= kind.price
                    && holds(better.room, kind.room)
                    && (strictly || other < *index)
            })
        })
        .map(|(given, kind)| WorkKind {
            room: kind.room,
            cost: kind.price.saturating_mul(weight).saturating_add(1),
            available: kind.available.unwrap_or(total).min(total),
            limited: kind.available.is_some_and(|available| available < total),
            given,
        })
        .collect()
}

fn merged(things: &[Thing]) -> Vec<WorkThing> {
    let mut merged: Vec<WorkThing> = Vec::new();
    for (given, thing) in things.iter().enumerate() {
        if thing.count == 0 {
            continue;
        }
        if let Some(same) = merged.iter_mut().find(|other| other.size == thing.size) {
            same.count += thing.count;
            same.given.push((given, thing.count));
        } else {
            merged.push(WorkThing {
                size: thing.size,
                count: thing.count,
                given: vec![(given, thing.count)],
            });
        }
    }
    merged
}

/// Whether a room holds a size.
pub(super) fn holds(room: Size, size: Size) -> bool {
    size[0] <= room[0] && size[1] <= room[1]
}

/// `sum` with `count` sizes more.
pub(super) fn add(sum: Size, size: Size, count: usize) -> Size {
    let count = count.to_u64().unwrap_or(u64::MAX);
    [0, 1].map(|k: usize| {
        let (sum, size) = if k == 0 {
            (sum[0], size[0])
        } else {
            (sum[1], size[1])
        };
        sum.saturating_add(size.saturating_mul(count))
    })
}

/// Room left after `count` sizes; callers see to it that they fit.
pub(super) fn less(room: Size, size: Size, count: usize) -> Size {
    let taken = add([0, 0], size, count);
    [
        room[0].saturating_sub(taken[0]),
        room[1].saturating_sub(taken[1]),
    ]
}

/// How many of a size fit into a room, at most `most`.
pub(super) fn fitting(room: Size, size: Size, most: usize) -> usize {
    let along = |room: u64, size: u64| {
        room.checked_div(size)
            .and_then(|n| n.to_usize())
            .unwrap_or(usize::MAX)
    };
    most.min(along(room[0], size[0]))
        .min(along(room[1], size[1]))
}

/// The larger share that a size takes of a room.
pub(super) fn share(size: Size, room: Size) -> f64 {
    ratio(size[0], room[0]).max(ratio(size[1], room[1]))
}

/// `a / b` as a real number; 0 when `b` is 0.
pub(super) fn ratio(a: u64, b: u64) -> f64 {
    if b == 0 { 0.0 } else { float(a) / float(b) }
}

/// A whole number as a real one.
pub(super) fn float(value: u64) -> f64 {
    value.to_f64().unwrap_or(f64::INFINITY)
}

//! What room costs at least, and what a purchase can cost at all.

use super::Size;
use super::work::{Work, add, holds};
use num_traits::ToPrimitive;
use std::collections::BTreeMap;

/// Entries of the table of least costs along one dimension.
const ENTRIES: u64 = 16_384;
/// Prices listed at most.
const PRICES: usize = 20_000;

/// Least cost of containers with so much room together, by room.
pub(super) struct Cover {
    along: [Vec<u64>; 2],
    step: [u64; 2],
}

impl Cover {
    /// Tables for up to `total` room.
    pub fn new(work: &Work, total: Size) -> Cover {
        let step = [total[0] / ENTRIES + 1, total[1] / ENTRIES + 1];
        let rooms = |pick: fn(Size) -> u64, step: u64| -> Vec<(u64, u64)> {
            work.kinds
                .iter()
                .map(|kind| (pick(kind.room).div_ceil(step), kind.cost))
                .collect()
        };
        Cover {
            along: [
                table(&rooms(|size| size[0], step[0]), total[0] / step[0]),
                table(&rooms(|size| size[1], step[1]), total[1] / step[1]),
            ],
            step,
        }
    }

    /// Containers with room for this much cost no less.
    pub fn least(&self, size: Size) -> u64 {
        let at = |table: &[u64], units: u64| {
            units
                .to_usize()
                .and_then(|units| table.get(units))
                .copied()
                .unwrap_or(0)
        };
        at(&self.along[0], size[0] / self.step[0]).max(at(&self.along[1], size[1] / self.step[1]))
    }
}

fn table(rooms: &[(u64, u64)], most: u64) -> Vec<u64> {
    let mut least: Vec<u64> = vec![0];
    for units in 1..=most {
        let cheapest = rooms
            .iter()
            .filter(|(room, _)| *room > 0)
            .filter_map(|(room, cost)| {
                let before = units.saturating_sub(*room).to_usize()?;
                least.get(before).map(|spent| spent.saturating_add(*cost))
            })
            .min();
        least.push(cheapest.unwrap_or(u64::MAX));
    }
    least
}

/// The costs, rising, that a purchase with room for `total` can have from `from` up to `below`;
/// `None` when there are too many to list.
pub(super) fn possible_costs(
    work: &Work,
    cover: &Cover,
    total: Size,
    from: u64,
    below: u64,
) -> Option<Vec<u64>> {
    // For each cost, the roomiest purchases: one with no more room than another of the same cost
    // in both dimensions says nothing new.
    let mut known: BTreeMap<u64, Vec<Size>> = BTreeMap::from([(0, vec![[0, 0]])]);
    for kind in &work.kinds {
        let mut next = BTreeMap::<u64, Vec<Size>>::new();
        for (cost, rooms) in &known {
            for count in 0..=kind.available {
                let Some(cost) = count
                    .to_u64()
                    .and_then(|count| kind.cost.checked_mul(count))
                    .and_then(|more| more.checked_add(*cost))
                    .filter(|cost| *cost < below)
                else {
                    break;
                };
                for room in rooms {
                    let room = add(*room, kind.room, count);
                    let lacks = [
                        total[0].saturating_sub(room[0]),
                        total[1].saturating_sub(room[1]),
                    ];
                    if cost.saturating_add(cover.least(lacks)) < below {
                        roomiest(next.entry(cost).or_default(), room);
                    }
                }
            }
            if next.len() > PRICES {
                return None;
            }
        }
        known = next;
    }
    let enough = |rooms: &Vec<Size>| rooms.iter().any(|room| holds(*room, total));
    Some(
        known
            .into_iter()
            .filter(|(cost, rooms)| *cost >= from && enough(rooms))
            .map(|(cost, _)| cost)
            .collect(),
    )
}

fn roomiest(front: &mut Vec<Size>, room: Size) {
    if !front.iter().any(|other| holds(*other, room)) {
        front.retain(|other| !holds(room, *other));
        front.push(room);
    }
}

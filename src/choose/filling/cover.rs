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

#[cfg(test)]
mod tests {
    use super::super::purchase;
    use super::super::{Kind, Thing};
    use super::*;
    use proptest::prelude::*;
    use std::collections::BTreeSet;

    /// Kinds with a limit or none, and things that fit into each of them.
    fn work(kinds: &[(u64, u64, u64, Option<usize>)], sizes: &[(u64, u64)]) -> Work {
        let kinds: Vec<Kind> = kinds
            .iter()
            .map(|&(room, outputs, price, available)| Kind {
                room: [room, outputs],
                price,
                available,
            })
            .collect();
        let thing = |&(size, outputs): &(u64, u64)| Thing {
            size: [size, outputs],
            count: 1,
        };
        let things: Vec<Thing> = sizes.iter().map(thing).collect();
        Work::new(&kinds, &things).expect("each fits")
    }

    /// Every purchase of no more than can be had, with its cost and room.
    fn every_purchase(work: &Work) -> Vec<(u64, Vec<usize>, Size)> {
        let mut all = vec![(0, Vec::new(), [0, 0])];
        for kind in &work.kinds {
            let one_more = |(cost, counts, room): (u64, Vec<usize>, Size)| {
                (0..=kind.available).map(move |count| {
                    let with = counts.iter().copied().chain([count]).collect();
                    let cost = cost + kind.cost * u64::try_from(count).unwrap();
                    (cost, with, add(room, kind.room, count))
                })
            };
            all = all.into_iter().flat_map(one_more).collect();
        }
        all
    }

    proptest! {
        #![proptest_config(crate::cases::cases(200))]
        #[test]
        fn purchases_with_room_for_everything_are_those_that_a_list_of_all_has(
            kinds in prop::collection::vec(
                (20_u64..60, 2_u64..5, 5_u64..40, prop::option::of(1_usize..4)), 1..4),
            sizes in prop::collection::vec((3_u64..20, 1_u64..3), 1..7),
            cut in (0_u64..100, 1_u64..100),
        ) {
            let work = work(&kinds, &sizes);
            let total = work.size();
            let all = every_purchase(&work);
            let dearest = all.iter().map(|(cost, ..)| *cost).max().unwrap_or(0);
            let from = dearest * cut.0 / 100;
            let below = from + dearest * cut.1 / 100;
            let mut wanted: Vec<(u64, Vec<usize>)> = all
                .iter()
                .filter(|(cost, _, room)| (from..below).contains(cost) && holds(*room, total))
                .map(|(cost, counts, _)| (*cost, counts.clone()))
                .collect();
            wanted.sort();
            let listed = purchase::list(&work, from, below).expect("few enough");
            prop_assert_eq!(&listed, &wanted);
            let cover = Cover::new(&work, total);
            let costs: BTreeSet<u64> = wanted.iter().map(|(cost, _)| *cost).collect();
            let found = possible_costs(&work, &cover, total, from, below).expect("few enough");
            prop_assert_eq!(found, costs.into_iter().collect::<Vec<_>>());
            // What a side costs by itself, limits apart.
            for (side, room) in total.into_iter().enumerate() {
                let mut one = [0, 0];
                one[side] = room;
                let enough = all.iter().filter(|(_, _, has)| has[side] >= room);
                if let Some(least) = enough.map(|(cost, ..)| *cost).min() {
                    prop_assert!(cover.least(one) <= least);
                    let limited = work.kinds.iter().any(|kind| kind.limited);
                    prop_assert!(limited || cover.least(one) == least);
                }
            }
        }
    }

    #[test]
    fn where_room_is_counted_in_steps_its_cost_is_not_overrated() {
        let work = work(&[(700_000, 4, 11, None)], &[(600_000, 1), (700_000, 1)]);
        let cover = Cover::new(&work, work.size());
        let one = work.kinds[0].cost;
        assert_eq!(cover.least([1_300_000, 0]), 2 * one);
        assert_eq!(cover.least([650_000, 2]), one);
        assert!(cover.least([699_999, 0]) <= one);
        assert_eq!(cover.least([0, 0]), 0);
    }
}

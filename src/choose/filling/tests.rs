//! Small fillings against every way of filling.

use super::*;
use proptest::prelude::*;
use std::collections::HashMap;

/// Kinds of so much room, so many outputs and this price, as many of each as are wanted.
pub(super) fn unlimited(kinds: &[(u64, u64, u64)]) -> Vec<Kind> {
    let kind = |&(room, outputs, price): &(u64, u64, u64)| Kind {
        room: [room, outputs],
        price,
        available: None,
    };
    kinds.iter().map(kind).collect()
}

/// A thing of each size.
pub(super) fn one_of_each(sizes: &[Size]) -> Vec<Thing> {
    let thing = |size: &Size| Thing {
        size: *size,
        count: 1,
    };
    sizes.iter().map(thing).collect()
}

/// The least that things of these sizes cost, price and number as one, by trying everything.
pub(super) fn least_cost(work: &Work, kinds: &[Kind], sizes: &[Size]) -> u64 {
    let (price, count) = brute_force(kinds, sizes).expect("each fits each kind");
    price * work.weight + u64::try_from(count).unwrap()
}

/// Least cost by trying everything: the first thing left goes with every subset of the others.
fn brute_force(kinds: &[Kind], sizes: &[Size]) -> Option<(u64, usize)> {
    fn cost(
        mask: usize,
        fits: &[Option<u64>],
        known: &mut HashMap<usize, Option<(u64, usize)>>,
    ) -> Option<(u64, usize)> {
        if mask == 0 {
            return Some((0, 0));
        }
        if let Some(answer) = known.get(&mask) {
            return *answer;
        }
        let first = mask & mask.wrapping_neg();
        let mut best = None;
        let mut subset = mask;
        while subset > 0 {
            if subset & first != 0
                && let Some(price) = fits[subset]
                && let Some((rest, count)) = cost(mask ^ subset, fits, known)
            {
                let total = (price + rest, count + 1);
                best = Some(best.map_or(total, |b: (u64, usize)| b.min(total)));
            }
            subset = (subset - 1) & mask;
        }
        known.insert(mask, best);
        best
    }
    let fits: Vec<Option<u64>> = (0..1_usize << sizes.len())
        .map(|mask| {
            let mut sum = [0, 0];
            for (index, size) in sizes.iter().enumerate() {
                if mask >> index & 1 == 1 {
                    sum = [sum[0] + size[0], sum[1] + size[1]];
                }
            }
            kinds
                .iter()
                .filter(|kind| kind.room[0] >= sum[0] && kind.room[1] >= sum[1])
                .map(|kind| kind.price)
                .min()
        })
        .collect();
    cost((1 << sizes.len()) - 1, &fits, &mut HashMap::new())
}

fn check_whole(kinds: &[Kind], things: &[Thing], filling: &Filling) {
    let mut price = 0;
    let mut held = vec![0; things.len()];
    for container in &filling.containers {
        let kind = &kinds[container.kind];
        price += kind.price;
        let mut sum = [0, 0];
        for (place, count) in container.contents.each() {
            let thing = &things[place];
            sum[0] += thing.size[0] * u64::try_from(count).unwrap();
            sum[1] += thing.size[1] * u64::try_from(count).unwrap();
            held[place] += count;
        }
        assert!(sum[0] <= kind.room[0] && sum[1] <= kind.room[1]);
    }
    assert_eq!(price, filling.price);
    assert!(filling.bound <= filling.price);
    assert!(
        things
            .iter()
            .zip(&held)
            .all(|(thing, held)| thing.count == *held)
    );
}

/// A container of the first kind for each thing.
fn apart(work: &Work) -> Vec<Container> {
    let each = work.counts().into_iter().enumerate();
    let one = |place: usize| Container {
        kind: 0,
        contents: Contents::of(place, 1),
    };
    each.flat_map(|(place, count)| std::iter::repeat_n(one(place), count))
        .collect()
}

/// Whether from a container for each thing, `better` comes to the cheapest of all.
pub(super) fn comes_to_the_cheapest(
    kinds: &[Kind],
    sizes: &[Size],
    better: impl Fn(&Work, Vec<Container>, u64) -> Vec<Container>,
) -> bool {
    let work = Work::new(kinds, &one_of_each(sizes)).expect("each fits each kind");
    let least = least_cost(&work, kinds, sizes);
    let found = better(&work, apart(&work), least);
    let mut held = vec![0; work.things.len()];
    for container in &found {
        container.contents.give_to(&mut held);
    }
    held == work.counts() && work.cost(&found) == least
}

proptest! {
    #![proptest_config(crate::cases::cases(150))]
    #[test]
    fn small_fillings_are_the_cheapest_of_all(
        kinds in prop::collection::vec((20_u64..60, 2_u64..5, 5_u64..40), 1..4),
        sizes in prop::collection::vec([3_u64..20, 1_u64..3], 1..9),
    ) {
        let (kinds, things) = (unlimited(&kinds), one_of_each(&sizes));
        let filling = fill(&kinds, &things).expect("every thing fits every kind");
        check_whole(&kinds, &things, &filling);
        prop_assert!(filling.optimal);
        prop_assert_eq!(
            Some((filling.price, filling.containers.len())),
            brute_force(&kinds, &sizes)
        );
        // Nothing costs less than the least, and the least costs less than what is dearer.
        prop_assert_eq!(fill_below(&kinds, &things, filling.price), None);
        let dearer = fill_below(&kinds, &things, filling.price + 1).expect("the cheapest");
        check_whole(&kinds, &things, &dearer);
        prop_assert_eq!(dearer.price, filling.price);
    }
}

#[test]
fn a_thing_that_fits_nothing_has_no_filling() {
    let kinds = [Kind {
        room: [10, 1],
        price: 5,
        available: None,
    }];
    assert_eq!(
        fill(
            &kinds,
            &[Thing {
                size: [11, 1],
                count: 1
            }]
        ),
        None
    );
    assert_eq!(
        fill(
            &[],
            &[Thing {
                size: [1, 1],
                count: 1
            }]
        ),
        None
    );
}

#[test]
fn nothing_needs_no_container() {
    let filling = fill(&[], &[]).expect("nothing fits");
    assert!(filling.optimal && filling.containers.is_empty());
}

#[test]
fn limited_stock_is_not_overdrawn() {
    let kinds = [
        Kind {
            room: [10, 0],
            price: 10,
            available: Some(2),
        },
        Kind {
            room: [6, 0],
            price: 9,
            available: None,
        },
    ];
    let things = [Thing {
        size: [5, 0],
        count: 6,
    }];
    let filling = fill(&kinds, &things).expect("there is enough");
    check_whole(&kinds, &things, &filling);
    assert_eq!(filling.price, 2 * 10 + 2 * 9);
    let scarce = [Kind {
        room: [10, 0],
        price: 10,
        available: Some(2),
    }];
    assert_eq!(fill(&scarce, &things), None);
}

#[test]
fn thousands_of_containers_are_filled_on_a_small_stack() {
    let filled = || {
        let kind = Kind {
            room: [1_000, 4],
            price: 7,
            available: None,
        };
        let things: Vec<Thing> = (0..700)
            .map(|index| Thing {
                size: [501 + index % 400, 1],
                count: 2,
            })
            .collect();
        let answer = fill(&[kind], &things).unwrap();
        // No two go into one.
        assert_eq!(answer.containers.len(), 1_400);
        assert_eq!(answer.price, 9_800);
    };
    let small = std::thread::Builder::new().stack_size(512 << 10);
    small.spawn(filled).unwrap().join().unwrap();
}

/// By hand: a thousand containers of ten are filled by 10,000, of four outputs by 4,000.
#[test]
fn a_filling_is_deep_from_a_thousand_containers_in_either_dimension() {
    let deep = |size: Size, count: usize| {
        let kind = Kind {
            room: [10, 4],
            price: 1,
            available: None,
        };
        Work::new(&[kind], &[Thing { size, count }]).is_some_and(|work| work.is_deep())
    };
    assert!(!deep([10, 0], 999) && deep([10, 0], 1_000));
    assert!(!deep([0, 4], 999) && deep([0, 4], 1_000));
    assert!(!deep([1, 1], 3_999) && deep([1, 1], 4_000));
}

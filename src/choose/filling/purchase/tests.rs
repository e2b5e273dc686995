//! Purchases against going through every number of every kind.

use super::super::tests::{one_of_each, unlimited};
use super::super::{Kind, Size, Thing};
use super::*;
use proptest::prelude::*;

/// What a purchase that need not be whole costs at least: of one kind, or of two that give just
/// enough in both dimensions.
fn least(work: &Work, total: Size) -> f64 {
    let [first, second] = total.map(float);
    let mut least = f64::INFINITY;
    for a in &work.kinds {
        let [a0, a1] = a.room.map(float);
        least = least.min(float(a.cost) * (first / a0).max(second / a1));
        for b in &work.kinds {
            let [b0, b1] = b.room.map(float);
            // So much of b, by Cramer's rule, and a for the rest.
            let much = (a0 * second - a1 * first) / (a0 * b1 - a1 * b0);
            let rest = (first - much * b0) / a0;
            if much >= 0.0 && rest >= 0.0 {
                least = least.min(float(a.cost) * rest + float(b.cost) * much);
            }
        }
    }
    least
}

proptest! {
    #![proptest_config(crate::cases::cases(300))]
    #[test]
    fn prices_of_room_come_to_what_the_cheapest_purchase_in_parts_costs(
        kinds in prop::collection::vec((20_u64..60, 1_u64..6, 5_u64..40), 1..5),
        total in (100_u64..1_000, 4_u64..60),
    ) {
        let work = Work::new(&unlimited(&kinds), &one_of_each(&[[1, 1]])).expect("it fits each");
        let total = [total.0, total.1];
        let [first, second] = worth(&work, total);
        let bought = first * float(total[0]) + second * float(total[1]);
        let least = least(&work, total);
        prop_assert!((bought / least - 1.0).abs() < 1e-9, "{} of {}", bought, least);
        for kind in &work.kinds {
            let room = first * float(kind.room[0]) + second * float(kind.room[1]);
            prop_assert!(room <= float(kind.cost) * (1.0 + 1e-9));
        }
    }
}

fn kind(room: Size, price: u64, available: usize) -> Kind {
    Kind {
        room,
        price,
        available: Some(available),
    }
}

/// Every number of every kind, with what it costs and the room that it gives.
fn every_purchase(work: &Work) -> Vec<(u64, Size, Vec<usize>)> {
    let mut all = vec![(0, [0, 0], Vec::new())];
    for kind in &work.kinds {
        let more = |(cost, room, counts): &(u64, Size, Vec<usize>)| {
            let (cost, room, counts) = (*cost, *room, counts.clone());
            (0..=kind.available).map(move |count| {
                let times = u64::try_from(count).unwrap();
                let room = [0, 1].map(|k| room[k] + kind.room[k] * times);
                let counts = [counts.as_slice(), &[count]].concat();
                (cost + kind.cost * times, room, counts)
            })
        };
        all = all.iter().flat_map(more).collect();
    }
    all
}

proptest! {
    #![proptest_config(crate::cases::cases(300))]
    #[test]
    fn every_purchase_with_room_for_everything_is_listed_once_and_no_other(
        kinds in prop::collection::vec((20_u64..60, 1_u64..6, 5_u64..40, 0_usize..4), 1..5),
        count in 1_usize..12,
        (from, below) in (0_u64..100, 0_u64..400),
    ) {
        let kinds: Vec<Kind> = kinds
            .into_iter()
            .map(|(room, outputs, price, available)| kind([room, outputs], price, available))
            .collect();
        let work = Work::new(&kinds, &[Thing { size: [11, 1], count }]).expect("it fits each");
        let (from, below) = (from * work.weight, below * work.weight);
        let total = work.size();
        let mut expected: Vec<(u64, Vec<usize>)> = every_purchase(&work)
            .into_iter()
            .filter(|(cost, room, _)| {
                (from..below).contains(cost) && room[0] >= total[0] && room[1] >= total[1]
            })
            .map(|(cost, _, counts)| (cost, counts))
            .collect();
        expected.sort();
        prop_assert_eq!(list(&work, from, below), Some(expected));
    }
}

/// Eight kinds of which ten each can be had are 11⁸ purchases: those are listed that cost less than
/// some of them, and that is told.
#[test]
fn of_more_purchases_than_can_be_listed_the_cheaper_ones_are() {
    let kinds: Vec<Kind> = (0..8)
        .map(|number| kind([100 + number, 8 - number], 10 + number, 10))
        .collect();
    let thing = Thing {
        size: [10, 1],
        count: 40,
    };
    let work = Work::new(&kinds, &[thing]).expect("it fits each");
    let dearest = 2_000 * work.weight;
    assert_eq!(list(&work, 0, dearest), None);
    let (purchases, below) = cheapest(&work, 0, dearest);
    assert!(!purchases.is_empty() && below < dearest, "{below}");
    assert_eq!(list(&work, 0, below), Some(purchases));
    assert_eq!(list(&work, 0, 2 * below + 1), None);
    // From the cheapest of these on it is the same.
    let from = list(&work, 0, below).unwrap()[0].0;
    let (later, below) = cheapest(&work, from, dearest);
    assert_eq!(later[0].0, from);
    assert!(later.iter().all(|(cost, _)| (from..below).contains(cost)));
    assert_eq!(cheapest(&work, dearest, dearest), (Vec::new(), dearest));
}

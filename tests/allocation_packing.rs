//! Packing into bins against every way to part the items: cost, proof and bound of small jobs, and one
//! whose proof wants branching.

use crate::made::cases::cases;

use feedpoint::allocate::packing::{Bin, Effort, Item, Packing, Sizes, pack};
use proptest::prelude::*;

fn plus(one: &Sizes, other: &Sizes) -> Sizes {
    std::array::from_fn(|place| one[place] + other[place])
}

/// The cheapest bin for some sizes together.
fn price(sizes: &Sizes, bins: &[Bin]) -> Option<u64> {
    let holds = |bin: &&Bin| sizes.iter().zip(&bin.capacity).all(|(s, c)| s <= c);
    bins.iter().filter(holds).map(|bin| bin.cost).min()
}

/// The least cost over every partition of the items.
fn brute_force(items: &[Sizes], parts: &mut Vec<Sizes>, bins: &[Bin]) -> Option<u64> {
    let Some((first, rest)) = items.split_first() else {
        return parts.iter().map(|part| price(part, bins)).sum();
    };
    let mut best: Option<u64> = None;
    for part in 0..=parts.len() {
        let before = parts.get(part).copied();
        match before {
            Some(before) => parts[part] = plus(&before, first),
            None => parts.push(*first),
        }
        let found = brute_force(rest, parts, bins);
        best = best.into_iter().chain(found).min();
        match before {
            Some(before) => parts[part] = before,
            None => drop(parts.pop()),
        }
    }
    best
}

/// Every item once, no bin over, the cost as stated.
fn check(packing: &Packing, items: &[Item], bins: &[Bin]) {
    let mut packed = vec![0; items.len()];
    let mut cost = 0;
    for filled in &packing.bins {
        let bin = &bins[filled.bin];
        let mut sum = [0; 4];
        for ((item, count), packed) in items.iter().zip(&filled.counts).zip(&mut packed) {
            *packed += count;
            for _ in 0..*count {
                sum = plus(&sum, &item.sizes);
            }
        }
        assert!(sum.iter().zip(&bin.capacity).all(|(s, c)| s <= c));
        cost += bin.cost;
    }
    assert!(packed.iter().zip(items).all(|(n, item)| *n == item.count));
    assert_eq!(cost, packing.cost);
}

fn sizes(most: u128) -> impl Strategy<Value = Sizes> {
    [0..most, 0..most, 0..most, 0..most]
}

proptest! {
    #![proptest_config(cases(300))]
    #[test]
    fn a_small_packing_is_the_cheapest_of_all_and_proved(
        items in prop::collection::vec((sizes(8), 1_usize..3), 1..6),
        bins in prop::collection::vec((sizes(12), 1_u64..9), 1..4),
    ) {
        let items: Vec<Item> = items
            .into_iter()
            .map(|(sizes, count)| Item { sizes, count })
            .collect();
        let bins: Vec<Bin> = bins
            .into_iter()
            .map(|(capacity, cost)| Bin { capacity: plus(&capacity, &[4; 4]), cost })
            .collect();
        let each: Vec<Sizes> = items
            .iter()
            .flat_map(|item| std::iter::repeat_n(item.sizes, item.count))
            .collect();
        let best = brute_force(&each, &mut Vec::new(), &bins);
        let found = pack(&items, &bins, Effort::default());
        prop_assert_eq!(found.as_ref().map(|packing| packing.cost), best);
        if let Some(packing) = found {
            check(&packing, &items, &bins);
            prop_assert_eq!(packing.bound, packing.cost, "it is proved");
        }
    }
}

/// Three units of 9, each in a size of its own, and three of 2 in all of these: no two of unlike kind
/// share a bin of 10. By the fourth size, 4 of 10, only two share one. Halves of pairs would need
/// three bins; three whole units of a kind need two, so it is four.
#[test]
fn pairs_that_do_not_come_out_even_are_proved_to_need_a_bin_more() {
    let large = |place: usize| {
        let mut sizes = [0, 0, 0, 4];
        sizes[place] = 9;
        Item { sizes, count: 1 }
    };
    let small = Item {
        sizes: [2, 2, 2, 4],
        count: 3,
    };
    let items = [large(0), large(1), large(2), small];
    let bins = [Bin {
        capacity: [10; 4],
        cost: 1,
    }];
    let packing = pack(&items, &bins, Effort::default()).expect("each fits");
    check(&packing, &items, &bins);
    assert_eq!((packing.cost, packing.bound), (4, 4));
    // Without a step to branch in, it is not said to be proved.
    let none = Effort {
        branches: 0,
        ..Effort::default()
    };
    let packing = pack(&items, &bins, none).expect("each fits");
    check(&packing, &items, &bins);
    assert_eq!(
        (packing.cost, packing.bound, packing.proved()),
        (4, 3, false)
    );
}

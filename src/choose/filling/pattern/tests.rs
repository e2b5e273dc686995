//! Fillings of one container against going through every number of every thing.

use super::super::{Kind, Thing};
use super::*;
use crate::quantity::number::real;
use proptest::prelude::*;

#[test]
fn thousands_of_things_go_through_a_small_stack() {
    let gone_through = || {
        let kind = Kind {
            room: [1_000_000, 2],
            price: 1,
            available: None,
        };
        let thing = |size: u64| Thing {
            size: [500_000 + size, 1],
            count: 1,
        };
        let mut things: Vec<Thing> = (1..20_000).map(thing).collect();
        things.push(Thing {
            size: [400_000, 1],
            count: 1,
        });
        let work = Work::new(&[kind], &things).unwrap();
        let room = work.kinds[0].room;
        let values = vec![1.0; work.things.len()];
        let counts = work.counts();
        let held = |counts: &Contents| counts.each().map(|(_, count)| count).sum::<usize>();
        let two = best(&work, room, &counts, &values);
        assert_eq!(held(&two.contents), 2);
        let mut walk = Walk::new(&work, &counts, &values, 2.0, 10);
        walk.steps = LISTING;
        walk.visit(0, None, room, 0.0);
        assert!(walk.found.iter().all(|it| held(it) == 2));
        assert_eq!(walk.found.len(), 10);
    };
    let small = std::thread::Builder::new().stack_size(128 << 10);
    small.spawn(gone_through).unwrap().join().unwrap();
}

/// Things that all fit into a container of 100 by 20.
fn work(things: &[(u64, u64, usize)]) -> Work {
    let kind = Kind {
        room: [100, 20],
        price: 1,
        available: None,
    };
    let things: Vec<Thing> = things
        .iter()
        .map(|(first, second, count)| Thing {
            size: [*first, *second],
            count: *count,
        })
        .collect();
    Work::new(&[kind], &things).expect("all fit")
}

/// Every number of every thing that goes into a room, with what it is worth and what is left.
fn every_filling(work: &Work, room: Size, values: &[f64]) -> Vec<(Contents, f64, Size)> {
    let mut all = vec![(Contents::default(), 0.0, room)];
    for (place, (thing, value)) in work.things.iter().zip(values).enumerate() {
        let more = |(contents, worth, left): &(Contents, f64, Size)| {
            let (contents, worth, left) = (contents.clone(), *worth, *left);
            (0..=fitting(left, thing.size, thing.count)).map(move |count| {
                let mut contents = contents.clone();
                contents.add(place, count);
                let worth = worth + value * real(count);
                (contents, worth, less(left, thing.size, count))
            })
        };
        all = all.iter().flat_map(more).collect();
    }
    all
}

/// Worths of six things or fewer, alike ones among them.
fn values() -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec((0_u32..30).prop_map(f64::from), 6)
}

fn sorted(mut fillings: Vec<Contents>) -> Vec<Contents> {
    fillings.sort();
    fillings
}

proptest! {
    #![proptest_config(crate::cases::cases(300))]
    #[test]
    fn the_best_filling_is_worth_as_much_as_the_best_of_all(
        things in prop::collection::vec((1_u64..40, 0_u64..6, 1_usize..4), 1..6),
        values in values(),
        room in (10_u64..100, 1_u64..20),
    ) {
        let work = work(&things);
        let room = [room.0, room.1];
        let all = every_filling(&work, room, &values);
        let most = all.iter().map(|(_, worth, _)| *worth).fold(0.0, f64::max);
        let found = best(&work, room, &work.counts(), &values);
        prop_assert!((found.value - most).abs() < 1e-6, "{} of {}", found.value, most);
        prop_assert!((found.ceiling - most).abs() < 1e-6, "{} of {}", found.ceiling, most);
        let same = all.iter().find(|(contents, ..)| *contents == found.contents);
        prop_assert!(same.is_some_and(|(_, worth, _)| (worth - most).abs() < 1e-6));
    }

    #[test]
    fn all_fillings_that_are_worth_enough_are_listed_once(
        things in prop::collection::vec((5_u64..60, 0_u64..9, 1_usize..4), 1..5),
        values in values(),
        room in (10_u64..100, 1_u64..20),
        least in 0_u32..60,
    ) {
        let work = work(&things);
        let (room, least) = ([room.0, room.1], f64::from(least));
        let all = every_filling(&work, room, &values);
        let enough = all.iter().filter(|(_, worth, _)| *worth >= least);
        let expected = enough.clone().map(|(contents, ..)| contents.clone()).collect();
        let listed = worthwhile(&work, room, &values, least, 10_000);
        prop_assert!(listed.complete);
        prop_assert_eq!(sorted(listed.fillings), sorted(expected));
        // With one of the first thing in them, and nothing that could still be added.
        let is_full = |contents: &Contents, left: Size| {
            work.things.iter().enumerate().all(|(place, thing)| {
                contents.at(place) == thing.count || !holds(left, thing.size)
            })
        };
        let full = enough.filter(|(contents, _, left)| contents.at(0) > 0 && is_full(contents, *left));
        let expected = full.map(|(contents, ..)| contents.clone()).collect();
        let listed = completions(&work, room, &work.counts(), &values, least, 10_000);
        prop_assert!(listed.complete);
        prop_assert_eq!(sorted(listed.fillings), sorted(expected));
    }
}

/// By hand, after Dantzig: of a room of 100 the things worth most by their size take 40 and 50, and a
/// third of the third is left room for.
#[test]
fn a_filling_in_parts_is_worth_no_less() {
    let work = work(&[(40, 0, 1), (50, 0, 1), (30, 0, 1)]);
    let room = [100, 0];
    let value_of = |size: u64| match size {
        40 => 8.0,
        50 => 5.0,
        _ => 2.0,
    };
    let mut entries: Vec<Entry> = work
        .things
        .iter()
        .enumerate()
        .map(|(index, thing)| Entry::new(index, thing, 1, value_of(thing.size[0]), room))
        .collect();
    entries.sort_by(|a, b| b.density().total_cmp(&a.density()));
    let knapsack = Knapsack::new(room);
    let ceiling = |left: Size| knapsack.ceiling(&entries, left);
    assert!((ceiling(room) - (8.0 + 5.0 + 2.0 / 3.0)).abs() < 1e-9);
    assert!((ceiling([60, 0]) - (8.0 + 5.0 * 0.4)).abs() < 1e-9);
    assert!((ceiling([20, 0]) - 4.0).abs() < 1e-9);
}

/// What can't be worth more is not gone into: without that 30 things would take millions of steps. Their
/// sizes are too large for a table.
#[test]
fn a_filling_that_can_not_become_the_best_is_left() {
    let unit = 1_000_003;
    let kind = Kind {
        room: [165 * unit, 0],
        price: 1,
        available: None,
    };
    let things: Vec<Thing> = (10..40)
        .map(|size| Thing {
            size: [size * unit, 0],
            count: 1,
        })
        .collect();
    let work = Work::new(&[kind], &things).expect("all fit");
    let values = vec![10.0; 30];
    let found = best(&work, work.kinds[0].room, &work.counts(), &values);
    // 10 + 11 + … + 20 = 165.
    assert!((found.value - 110.0).abs() < 1e-9, "{}", found.value);
    assert!(
        (found.ceiling - found.value).abs() < 1e-9,
        "{}",
        found.ceiling
    );
}

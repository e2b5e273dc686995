//! Containers with drawn things that fill them almost to the last: is the way back found?

use super::super::work::holds;
use super::super::{Kind, Thing};
use super::*;

/// Containers with drawn things that fill each of them to the last, and the things in another
/// order.
fn planted(containers: usize, slack: u64) -> Work {
    let mut draws = Draws::new();
    let mut sizes = Vec::new();
    let mut rooms: Vec<[u64; 2]> = Vec::new();
    for _ in 0..containers {
        let mut room = [slack, 0];
        for outputs in [1, 1, 2] {
            let watts = 40 + u64::try_from(draws.below(1_000)).unwrap();
            sizes.push([watts, outputs]);
            room = [room[0] + watts, room[1] + outputs];
        }
        rooms.push(room);
    }
    let thing = |size: &[u64; 2]| Thing {
        size: *size,
        count: 1,
    };
    let kind = |(number, room): (u64, &[u64; 2])| Kind {
        room: *room,
        // Dearer than those before it: none is as good as another.
        price: 1_000 + number + room[0],
        available: Some(1),
    };
    let kinds: Vec<Kind> = (0..).zip(&rooms).map(kind).collect();
    let things: Vec<Thing> = sizes.iter().map(thing).collect();
    Work::new(&kinds, &things).expect("each thing fits")
}

#[test]
fn containers_that_leave_next_to_nothing_are_filled() {
    for (containers, slack) in [(4, 0), (8, 4), (14, 30)] {
        let work = planted(containers, slack);
        let found = filled(&work, 1_000).expect("a way");
        let mut held = vec![0; work.things.len()];
        for container in &found {
            let kind = &work.kinds[container.kind];
            assert!(holds(kind.room, work.size_of(&container.contents)));
            container.contents.give_to(&mut held);
        }
        assert_eq!(held, work.counts());
        let mut kinds: Vec<usize> = found.iter().map(|it| it.kind).collect();
        kinds.dedup();
        assert_eq!(kinds.len(), found.len(), "a container was used twice");
    }
}

#[test]
fn what_fits_nowhere_is_not_forced_in() {
    let mut work = planted(4, 0);
    work.things[0].size[0] += 1;
    assert!(filled(&work, 40).is_none());
    work.things[0].size[0] -= 1;
    assert!(filled(&work, 1_000).is_some());
    work.things[0].size[1] += 1;
    assert!(filled(&work, 40).is_none());
}

#[test]
fn the_same_way_is_found_each_time() {
    let work = planted(8, 4);
    assert_eq!(filled(&work, 1_000), filled(&work, 1_000));
}

/// By hand: of room for 10 by 2, 12 by 3 is 2 beyond in the first dimension and 1 in the second, which
/// count 7 and 5 each.
#[test]
fn what_is_beyond_a_room_counts_by_its_dimension() {
    let bin = Bin {
        kind: 0,
        room: [10, 2],
        held: [0, 0],
    };
    for (held, much) in [
        ([10, 2], 0),
        ([12, 2], 14),
        ([10, 3], 5),
        ([12, 3], 19),
        ([4, 3], 5),
    ] {
        assert_eq!(bin.too_much(held, [7, 5]), much, "{held:?}");
    }
}

/// Nothing is exchanged with one container, nor with more than can be looked after.
#[test]
fn there_are_two_containers_at_least_and_not_too_many() {
    let with = |containers: usize| {
        let kind = Kind {
            room: [10, 2],
            price: 1,
            available: Some(containers),
        };
        let things = [Thing {
            size: [1, 1],
            count: MOST,
        }];
        Exchange::new(&Work::new(&[kind], &things).expect("it fits")).is_some()
    };
    assert!(!with(1));
    assert!(with(2));
    assert!(with(MOST));
}

/// Three containers, of which one holds too much of what the others have room for.
#[test]
fn three_containers_are_filled_anew_where_all_of_it_fits() {
    let sizes = [[6, 1], [4, 1], [7, 1], [3, 1], [5, 1], [5, 1]];
    let with = |within: [usize; 6]| {
        let mut bins: Vec<Bin> = (0..3)
            .map(|_| Bin {
                kind: 0,
                room: [10, 2],
                held: [0, 0],
            })
            .collect();
        let mut things = Vec::new();
        for (place, (size, within)) in sizes.into_iter().zip(within).enumerate() {
            bins[within].held = plus(bins[within].held, size);
            things.push(super::Thing {
                place,
                size,
                within,
            });
        }
        let weights = [1, 1];
        let over = bins.iter().map(|it| it.too_much(it.held, weights)).sum();
        Exchange {
            things,
            bins,
            weights,
            middling: 1,
            over,
        }
    };
    // 6 + 7 and 4 + 3 + 5 + 5 of room for 10 by 2 each, and nothing in the last.
    let mut exchange = with([0, 1, 0, 1, 1, 1]);
    assert_eq!(exchange.over, 3 + 7 + 2);
    exchange.fill_anew([0, 1, 2]);
    assert_eq!(exchange.over, 0);
    for bin in &exchange.bins {
        assert_eq!(bin.held, [10, 2]);
    }
    let mut held = [[0, 0]; 3];
    for thing in &exchange.things {
        held[thing.within] = plus(held[thing.within], thing.size);
    }
    assert_eq!(held, [[10, 2]; 3]);
}

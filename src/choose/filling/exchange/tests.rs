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

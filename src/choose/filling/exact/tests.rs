//! Exact covers against trying every filling.

use super::*;
use crate::choose::filling::relaxation::relax;
use crate::choose::filling::{Size, Thing, tests};
use proptest::prelude::*;

fn column(unused: f64, things: impl IntoIterator<Item = (usize, usize)>) -> Candidate {
    Candidate {
        kind: 0,
        unused,
        contents: things.into_iter().collect(),
    }
}

/// Whether columns hold everything: each is tried for the first thing that is left.
fn brute_force(columns: &[Candidate], remains: &[usize], budget: f64) -> bool {
    let Some(first) = remains.iter().position(|count| *count > 0) else {
        return budget >= 0.0;
    };
    let takes = |column: &&Candidate| column.contents.at(first) > 0;
    columns.iter().filter(takes).any(|column| {
        let mut left = remains.to_vec();
        let fits = column.contents.each().all(|(place, count)| {
            let less = left[place].checked_sub(count);
            less.map(|less| left[place] = less).is_some()
        });
        fits && brute_force(columns, &left, budget - column.unused)
    })
}

proptest! {
    #![proptest_config(crate::cases::cases(400))]
    #[test]
    fn everything_is_held_exactly_where_some_choice_of_fillings_holds_it(
        drawn in prop::collection::vec(
            (0_u32..5, prop::collection::btree_map(0_usize..4, 1_usize..3, 1..3)), 1..9),
        remains in prop::collection::vec(0_usize..4, 4),
        budget in 0_u32..9,
    ) {
        let mut columns: Vec<Candidate> = drawn
            .into_iter()
            .map(|(unused, things)| column(f64::from(unused), things))
            .collect();
        columns.sort_by(|a, b| a.unused.total_cmp(&b.unused));
        let budget = f64::from(budget);
        let mut search = Search::new(&columns, remains.clone());
        let covered = search.is_covered(budget);
        prop_assert_eq!(covered, brute_force(&columns, &remains, budget));
        let mut held = vec![0; remains.len()];
        for index in &search.path {
            columns[*index].contents.give_to(&mut held);
        }
        prop_assert!(!covered || held == remains);
    }
}

proptest! {
    #![proptest_config(crate::cases::cases(200))]
    #[test]
    fn an_answer_is_found_at_the_least_cost_of_all_and_refuted_below_it(
        kinds in prop::collection::vec((20_u64..60, 2_u64..5, 5_u64..40), 1..4),
        sizes in prop::collection::vec((3_u64..20, 1_u64..3, 1_usize..3), 1..5),
    ) {
        let kinds = tests::unlimited(&kinds);
        let things: Vec<Thing> = sizes
            .into_iter()
            .map(|(size, outputs, count)| Thing { size: [size, outputs], count })
            .collect();
        let each: Vec<Size> = things
            .iter()
            .flat_map(|thing| std::iter::repeat_n(thing.size, thing.count))
            .collect();
        let work = Work::new(&kinds, &things).expect("each fits each kind");
        let least = tests::least_cost(&work, &kinds, &each);
        let relaxation = relax(&work, &mut Vec::new());
        let Outcome::Found(found) = within(&work, &relaxation, least) else {
            panic!("not found at {least}");
        };
        prop_assert_eq!(work.cost(&found), least);
        let mut held = vec![0; work.things.len()];
        for container in &found {
            let size = work.size_of(&container.contents);
            prop_assert!(holds(work.kinds[container.kind].room, size));
            container.contents.give_to(&mut held);
        }
        prop_assert_eq!(held, work.counts());
        prop_assert!(matches!(within(&work, &relaxation, least - 1), Outcome::Refuted));
    }
}

/// By hand: two columns hold the first thing and leave 3 and 4 unused, so that it is worth 3. The second
/// of these holds the second thing as well, which can be worth the 1 that is left.
#[test]
fn what_must_be_left_unused_is_raised_thing_by_thing() {
    let columns = [
        column(3.0, [(0, 1)]),
        column(4.0, [(0, 1), (1, 1)]),
        column(5.0, [(1, 1)]),
    ];
    let mut search = Search::new(&columns, vec![1, 1]);
    let lists = [(0, 1, vec![0, 1]), (1, 1, vec![1, 2])];
    for _ in 0..2 {
        assert_eq!(search.unused(&lists, 100.0), 4.0);
    }
    // No further than is needed to see that it is more than it may be.
    assert_eq!(search.unused(&lists, 2.0), 3.0);
    assert_eq!(search.unused(&lists, 100.0), 4.0);
}

/// Two of it for 6 are 3 each, which is less than one for 4; of three things it is three times that.
#[test]
fn a_column_that_holds_a_thing_twice_leaves_half_as_much_unused_for_each() {
    let columns = [column(4.0, [(0, 1)]), column(6.0, [(0, 2)])];
    let mut search = Search::new(&columns, vec![3]);
    assert_eq!(search.unused(&[(0, 3, vec![0, 1])], 100.0), 9.0);
}

//! An answer bettered by taking every container's things apart in two and matching the parts anew.
//!
//! Matching is exact, so one step finds the best of very many exchanges at once.

use super::draws::Draws;
use super::pairs;
use super::work::Work;
use super::{Container, Contents};

/// Ways of taking apart that are tried at most without finding anything better before giving up.
const FRUITLESS: usize = 1_000;
/// The same times the square of the number of containers: one way takes the longer the more there
/// are.
const EFFORT: usize = 750_000;

/// The answer, bettered until it costs no more than `lower` or many ways of taking it apart have not
/// helped.
pub(super) fn matched(work: &Work, mut answer: Vec<Container>, lower: u64) -> Vec<Container> {
    let mut draws = Draws::new();
    let mut fruitless = 0;
    let most = FRUITLESS.min(EFFORT / answer.len().pow(2).max(1));
    while fruitless < most && work.cost(&answer) > lower {
        let parts: Vec<Contents> = answer
            .iter()
            .flat_map(|container| apart(&container.contents, &mut draws))
            .collect();
        let Some(other) = pairs::matched(work, &parts) else {
            break;
        };
        if work.cost(&other) < work.cost(&answer) {
            fruitless = 0;
        } else {
            fruitless += 1;
        }
        // What costs as much is taken too: from there other ways lead on.
        if work.cost(&other) <= work.cost(&answer) {
            answer = other;
        }
    }
    answer
}

/// What a container holds, in two parts, or in one when the coins fall so.
fn apart(contents: &Contents, draws: &mut Draws) -> impl Iterator<Item = Contents> + use<> {
    let mut parts = [Vec::new(), Vec::new()];
    for (place, count) in contents.each() {
        let first = (0..count).filter(|_| draws.heads()).count();
        let [one, other] = &mut parts;
        one.push((place, first));
        other.push((place, count - first));
    }
    let parts = parts.into_iter().map(Contents::from_iter);
    parts.filter(|part| !part.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::choose::filling::tests::{comes_to_the_cheapest, unlimited};
    use crate::choose::filling::{Kind, Thing};
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(crate::cases::cases(100))]
        #[test]
        fn from_a_container_for_each_thing_it_comes_to_the_cheapest_of_all(
            kinds in prop::collection::vec((20_u64..60, 2_u64..5, 5_u64..40), 1..4),
            sizes in prop::collection::vec([3_u64..20, 1_u64..3], 1..8),
        ) {
            prop_assert!(comes_to_the_cheapest(&unlimited(&kinds), &sizes, matched));
        }
    }

    #[test]
    fn what_costs_no_more_than_it_must_is_left_as_it_is() {
        let kind = Kind {
            room: [10, 4],
            price: 3,
            available: None,
        };
        let thing = Thing {
            size: [5, 1],
            count: 2,
        };
        let work = Work::new(&[kind], &[thing]).expect("it fits");
        let one = Container {
            kind: 0,
            contents: Contents::of(0, 1),
        };
        let apart = vec![one.clone(), one];
        let cost = work.cost(&apart);
        assert_eq!(matched(&work, apart.clone(), cost), apart);
        assert_eq!(matched(&work, apart, 0).len(), 1);
    }
}

//! A few containers of an answer emptied and filled again, better, while that helps.

use super::Container;
use super::relaxation::Relaxation;
use super::work::{Work, float};

/// Containers emptied at a time.
const GROUPS: [usize; 3] = [3, 5, 8];
/// How far apart, in the order of waste, the containers of a group are.
const STRIDES: [usize; 4] = [1, 2, 3, 5];
/// Groups tried without finding anything better before giving up.
const FRUITLESS: usize = 60;

/// The answer, bettered where `refill` fills what a few of its containers hold at less cost.
pub(super) fn rework(
    work: &Work,
    relaxation: &Relaxation,
    mut answer: Vec<Container>,
    lower: u64,
    refill: impl Fn(&Work) -> Option<Vec<Container>>,
) -> Vec<Container> {
    let mut fruitless = 0;
    loop {
        by_waste(work, relaxation, &mut answer);
        let mut bettered = false;
        for group in groups(answer.len()) {
            if fruitless >= FRUITLESS || work.cost(&answer) <= lower {
                return answer;
            }
            if let Some(better) = refilled(work, &answer, &group, &refill) {
                answer = better;
                bettered = true;
                fruitless = 0;
                break;
            }
            fruitless += 1;
        }
        if !bettered {
            return answer;
        }
    }
}

/// Most wasteful containers first.
fn by_waste(work: &Work, relaxation: &Relaxation, answer: &mut [Container]) {
    let waste = |container: &Container| {
        let cost = work.kinds.get(container.kind).map_or(0, |kind| kind.cost);
        float(cost) - relaxation.worth(&container.contents)
    };
    answer.sort_by(|a, b| {
        waste(b)
            .total_cmp(&waste(a))
            .then_with(|| a.contents.cmp(&b.contents))
    });
}

/// Places of the containers to empty together.
fn groups(containers: usize) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for size in GROUPS {
        let size = size.min(containers);
        for stride in STRIDES {
            for start in (0..containers).step_by(size.div_ceil(2).max(1)) {
                let mut group: Vec<usize> = (0..size)
                    .map(|step| (start + step * stride) % containers)
                    .collect();
                group.sort_unstable();
                group.dedup();
                if group.len() > 1 && !groups.contains(&group) {
                    groups.push(group);
                }
            }
        }
    }
    groups
}

/// The answer with the containers of the group filled again, if that costs less.
fn refilled(
    work: &Work,
    answer: &[Container],
    group: &[usize],
    refill: impl Fn(&Work) -> Option<Vec<Container>>,
) -> Option<Vec<Container>> {
    let chosen = |index: &usize| group.contains(index);
    let (mut kept, mut emptied) = (Vec::new(), Vec::new());
    for (index, container) in answer.iter().enumerate() {
        if chosen(&index) {
            emptied.push(container.clone());
        } else {
            kept.push(container.clone());
        }
    }
    let part = work.part(&emptied, &kept);
    let better = refill(&part)?;
    if work.cost(&better) >= work.cost(&emptied) {
        return None;
    }
    kept.extend(better);
    Some(kept)
}

#[cfg(test)]
mod tests {
    use super::super::improve::best;
    use super::super::relaxation::relax;
    use super::super::{Kind, tests::comes_to_the_cheapest};
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(crate::cases::cases(60))]
        #[test]
        fn from_a_container_for_each_thing_it_comes_to_the_cheapest_of_all(
            room in 20_u64..60,
            sizes in prop::collection::vec([3_u64..20, 1_u64..3], 2..8),
        ) {
            let kind = Kind { room: [room, 4], price: 7, available: None };
            let again = |work: &Work, apart, lower| {
                let relaxation = relax(work, &mut Vec::new());
                rework(work, &relaxation, apart, lower, |part| {
                    best(part).map(|(containers, _)| containers)
                })
            };
            prop_assert!(comes_to_the_cheapest(&[kind], &sizes, again));
        }
    }

    #[test]
    fn groups_take_each_place_once_and_every_place_is_in_one() {
        assert!(groups(0).is_empty() && groups(1).is_empty());
        for containers in 2..12 {
            let groups = groups(containers);
            for group in &groups {
                let rising = group.iter().zip(group.iter().skip(1)).all(|(a, b)| a < b);
                assert!(rising && group.len() > 1 && group.iter().all(|it| *it < containers));
                assert!(group.len() <= 8.min(containers));
            }
            let all = (0..containers).all(|it| groups.iter().any(|group| group.contains(&it)));
            assert!(all, "{containers}");
            let mut once = groups.clone();
            once.sort();
            once.dedup();
            assert_eq!(once.len(), groups.len());
        }
        // Three side by side, and three with others between.
        assert!(groups(9).contains(&vec![0, 1, 2]) && groups(9).contains(&vec![0, 2, 4]));
    }
}

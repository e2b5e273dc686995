//! Where a section that is longer than any reel is joined.
//!
//! It gets as few joints as its reels allow, each on a cut mark. Of the ways to place them the one
//! whose reels cost least is taken, and among those the one with least current through the joints: a
//! joint at a feed, or where the currents of two feeds meet, carries none, and so costs no light
//! however poor it gets.

use crate::choose::sized::Section;
use crate::solve::strip::State;
use num_traits::ToPrimitive;
use std::cmp::Reverse;

/// Groups of sections for which other ways than the first are tried, at most.
const TRIED: usize = 12;
/// Ways that are priced for that, times the square of how many pieces there are, at most: of many
/// pieces one way or the other changes little, and takes long to price.
const PRICED: usize = 32_400;

/// Ways to make a section of `segments` from reels of at most `most`: lengths of the pieces from its
/// start, least current through the joints first. Empty without a reel.
pub(super) fn ways(section: &Section, segments: u64, most: u64) -> Vec<Vec<u64>> {
    if most == 0 || segments == 0 {
        return Vec::new();
    }
    let joints = segments.div_ceil(most) - 1;
    if joints == 0 {
        return vec![vec![segments]];
    }
    let currents = currents(section, segments);
    let rest = segments - joints * most;
    let whole = |count: u64| std::iter::repeat_n(most, count.to_usize().unwrap_or(0));
    let pieces = joints + 1;
    let even = (0..pieces).map(|index| segments / pieces + u64::from(index < segments % pieces));
    let mut ways: Vec<Vec<u64>> = vec![
        whole(joints).chain([rest]).collect(),
        std::iter::once(rest).chain(whole(joints)).collect(),
        even.collect(),
    ];
    ways.extend(least_current(&currents, joints, most));
    ways.sort_by_key(|way| (through(way, &currents), Reverse(way.clone())));
    ways.dedup();
    ways
}

/// Most current in the plus rail at each cut mark over all states, in microamperes; none at a feed,
/// where each side is fed by itself.
fn currents(section: &Section, segments: u64) -> Vec<u64> {
    let count = segments.to_usize().unwrap_or(0);
    let mut most = vec![0; count + 1];
    for state in section.states.iter() {
        for (mark, current) in most.iter_mut().zip(of_state(section, state, count)) {
            *mark = (*mark).max((current.abs() * 1e6).round().to_u64().unwrap_or(u64::MAX));
        }
    }
    for feed in &section.ladder.feeds {
        if let Some(mark) = most.get_mut(feed.cut) {
            *mark = 0;
        }
    }
    most
}

/// What came in by the feeds up to each cut mark, less what the segments before it took.
fn of_state(section: &Section, state: &State, segments: usize) -> Vec<f64> {
    let mut current = 0.0;
    let mut at = Vec::with_capacity(segments + 1);
    for mark in 0..=segments {
        let before = mark.checked_sub(1);
        let taken = state
            .channels
            .iter()
            .filter_map(|channel| channel.amperes.get(before?));
        current -= taken.sum::<f64>();
        let feeds = section.ladder.feeds.iter().zip(&state.feeds);
        let fed = feeds.filter(|(feed, _)| feed.cut == mark);
        current += fed.map(|(_, currents)| currents.plus.value).sum::<f64>();
        at.push(current);
    }
    at
}

/// Current through all joints of a way.
fn through(way: &[u64], currents: &[u64]) -> u64 {
    let mut place = 0;
    let joints = way.iter().take(way.len().saturating_sub(1)).map(|piece| {
        place += piece;
        at(currents, place)
    });
    joints.fold(0, u64::saturating_add)
}

fn at(currents: &[u64], mark: u64) -> u64 {
    let index = mark.to_usize();
    index
        .and_then(|index| currents.get(index))
        .copied()
        .unwrap_or(0)
}

/// The way with least current through its joints: for each joint in turn, the best place for it after
/// each place of the one before.
fn least_current(currents: &[u64], joints: u64, most: u64) -> Option<Vec<u64>> {
    let segments = currents.len().checked_sub(1)?.to_u64()?;
    // For each place that the last joint can have: current so far, and the places of all joints.
    let mut last: Vec<(u64, Vec<u64>)> = vec![(0, vec![0])];
    for joint in 1..=joints {
        let from = segments
            .saturating_sub((joints + 1 - joint) * most)
            .max(joint);
        let to = (joint * most).min(segments - (joints + 1 - joint));
        let next = (from..=to).filter_map(|mark| {
            let reach = last.iter().filter(|(_, places)| {
                let before = places.last().copied().unwrap_or(0);
                before < mark && mark - before <= most
            });
            let (sum, places) = reach.min_by_key(|(sum, _)| *sum)?;
            let places = places.iter().copied().chain([mark]).collect();
            Some((sum.saturating_add(at(currents, mark)), places))
        });
        last = next.collect();
    }
    let (_, mut places) = last.into_iter().min_by_key(|(sum, _)| *sum)?;
    places.push(segments);
    let pairs = places.iter().zip(places.iter().skip(1));
    Some(pairs.map(|(from, to)| to - from).collect())
}

/// Which of its ways each of `sections` is made by: the first, unless another makes all the reels
/// cheaper. `cost` prices pieces by length; it may leave out those for which no price below a limit is
/// found.
pub(super) fn chosen(
    sections: &[Vec<Vec<u64>>],
    cost: impl Fn(&[u64], Option<u64>) -> Option<u64>,
) -> Vec<Vec<u64>> {
    let mut groups: Vec<&Vec<Vec<u64>>> = Vec::new();
    for ways in sections.iter().filter(|ways| ways.len() > 1) {
        if !groups.contains(&ways) {
            groups.push(ways);
        }
    }
    let mut taken: Vec<usize> = vec![0; groups.len()];
    let made = |taken: &[usize]| -> Vec<Vec<u64>> {
        let way = |ways: &Vec<Vec<u64>>| {
            let group = groups.iter().position(|group| *group == ways);
            let index = group
                .and_then(|group| taken.get(group))
                .copied()
                .unwrap_or(0);
            ways.get(index).cloned().unwrap_or_default()
        };
        sections.iter().map(way).collect()
    };
    let priced = |taken: &[usize], below: Option<u64>| cost(&made(taken).concat(), below);
    let once = made(&taken).concat().len().max(1);
    let mut left = PRICED / once.saturating_mul(once);
    let mut least = if groups.is_empty() || left == 0 {
        None
    } else {
        priced(&taken, None)
    };
    for group in 0..groups.len().min(TRIED) {
        for index in 1..groups.get(group).map_or(0, |ways| ways.len()) {
            let Some(fewer) = left.checked_sub(1) else {
                return made(&taken);
            };
            left = fewer;
            let mut other = taken.clone();
            if let Some(slot) = other.get_mut(group) {
                *slot = index;
            }
            let price = priced(&other, least);
            if let (Some(cheaper), Some(now)) = (price, least)
                && cheaper < now
            {
                least = Some(cheaper);
                taken = other;
            }
        }
    }
    made(&taken)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Fed at both ends: the currents fall to nothing in the middle.
    fn both_ends(segments: u64) -> Vec<u64> {
        (0..=segments)
            .map(|mark| (2 * mark).abs_diff(segments))
            .collect()
    }

    #[test]
    fn a_joint_stands_where_the_currents_of_two_feeds_meet() {
        assert_eq!(least_current(&both_ends(30), 1, 20), Some(vec![15, 15]));
    }

    #[test]
    fn a_joint_stands_at_a_feed_that_the_reels_reach() {
        let mut currents = vec![9; 31];
        currents[12] = 0;
        assert_eq!(least_current(&currents, 1, 20), Some(vec![12, 18]));
        // No reel reaches mark 5 from the end: it is no place for the only joint.
        currents[5] = 0;
        currents[12] = 9;
        let way = least_current(&currents, 1, 20).expect("a way");
        assert!(way.iter().all(|piece| *piece <= 20), "{way:?}");
    }

    #[test]
    fn several_joints_keep_every_piece_within_a_reel() {
        let way = least_current(&both_ends(50), 2, 20).expect("a way");
        assert_eq!(way.iter().sum::<u64>(), 50);
        assert!(way.iter().all(|piece| (1..=20).contains(piece)), "{way:?}");
    }

    /// Every way to make so many segments of so many pieces, none longer than `most`.
    fn every_way(segments: u64, pieces: u64, most: u64) -> Vec<Vec<u64>> {
        if pieces == 0 {
            return if segments == 0 { vec![vec![]] } else { vec![] };
        }
        let first = 1..=most.min(segments);
        let with = |first: u64| {
            let rest = every_way(segments - first, pieces - 1, most).into_iter();
            rest.map(move |rest| std::iter::once(first).chain(rest).collect())
        };
        first.flat_map(with).collect()
    }

    proptest! {
        #![proptest_config(crate::cases::cases(200))]
        #[test]
        fn no_way_has_less_current_through_its_joints(
            currents in prop::collection::vec(0_u64..20, 3..14),
            most in 2_u64..6,
            more in 0_u64..4,
        ) {
            let segments = currents.len().to_u64().unwrap() - 1;
            let joints = (segments.div_ceil(most) - 1 + more).min(segments - 1);
            let all = every_way(segments, joints + 1, most);
            let least = all.iter().map(|way| through(way, &currents)).min();
            let found = least_current(&currents, joints, most).expect("a way");
            prop_assert!(all.contains(&found), "{:?}", found);
            prop_assert_eq!(Some(through(&found, &currents)), least);
        }
    }

    #[test]
    fn cheaper_reels_come_before_less_current() {
        let ways = vec![vec![15, 15], vec![20, 10]];
        let dear_fifteen = |pieces: &[u64], _: Option<u64>| {
            let prices = pieces.iter().map(|piece| if *piece == 15 { 9 } else { 4 });
            Some(prices.sum())
        };
        let sections = [ways.clone(), ways.clone()];
        assert_eq!(chosen(&sections, dear_fifteen), [[20, 10], [20, 10]]);
        assert_eq!(chosen(&sections, |_, _| Some(1)), [[15, 15], [15, 15]]);
    }
}

//! The cheapest purchase by room alone, filled at the first try.
//!
//! Where little has to be wasted, that purchase can nearly always be filled, and no answer can cost
//! less than room for everything does: then there is nothing left to search or to prove.

use super::Container;
use super::pattern;
use super::purchase::list;
use super::work::{Work, float, holds, less, ratio};
use std::cmp::Reverse;

/// Purchases of the least cost that are tried.
const TRIED: usize = 8;

/// A filling that costs `least`, the cost below which there is no room for everything; `None` when
/// none was found, which proves nothing.
pub(super) fn filled(work: &Work, least: u64) -> Option<Vec<Container>> {
    let purchases = list(work, least, least.saturating_add(1))?;
    purchases.iter().take(TRIED).find_map(|(_, counts)| {
        let mut kinds: Vec<usize> = counts
            .iter()
            .enumerate()
            .flat_map(|(kind, &count)| std::iter::repeat_n(kind, count))
            .collect();
        kinds.sort_by_key(|kind| Reverse(work.kinds.get(*kind).map(|kind| kind.room)));
        packed(work, &kinds).or_else(|| {
            kinds.reverse();
            packed(work, &kinds)
        })
    })
}

/// Containers in this order, each with the largest thing left that fits and then as full as can be.
fn packed(work: &Work, kinds: &[usize]) -> Option<Vec<Container>> {
    let total = work.size();
    let worth: Vec<f64> = work
        .things
        .iter()
        .map(|thing| float(thing.size[0]) + ratio(thing.size[1], total[1].max(1)))
        .collect();
    let mut remains = work.counts();
    let mut containers = Vec::new();
    for &kind in kinds {
        let room = work.kinds.get(kind)?.room;
        let first = work
            .things
            .iter()
            .zip(&remains)
            .position(|(thing, &count)| count > 0 && holds(room, thing.size));
        let Some(first) = first else { continue };
        let size = work.things.get(first)?.size;
        *remains.get_mut(first)? -= 1;
        let mut contents = pattern::best(work, less(room, size, 1), &remains, &worth).contents;
        contents.take_from(&mut remains);
        contents.add(first, 1);
        containers.push(Container { kind, contents });
    }
    remains
        .iter()
        .all(|&count| count == 0)
        .then_some(containers)
}

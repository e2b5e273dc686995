//! Where no container holds more than two things: which go together, exactly.
//!
//! Every two things that fit into some container save what they cost apart less what they cost
//! together; the cheapest filling is the matching that saves most (Edmonds, "Maximum matching and
//! a polyhedron with 0,1-vertices", Journal of Research of the National Bureau of Standards 69B,
//! 1965).

use super::Container;
use super::Size;
use super::work::{Work, add, holds};
use petgraph::graph::UnGraph;
use rustworkx_core::max_weight_matching::max_weight_matching;
use std::convert::Infallible;

/// Things paired at most: the work grows with their number's third power.
const THINGS: usize = 300;

/// The cheapest filling; `None` when three things may fit into one container, not every kind can
/// be had as often as wanted, or there are too many things.
pub(super) fn filled(work: &Work) -> Option<Vec<Container>> {
    let things = each(work);
    let limited = work.kinds.iter().any(|kind| kind.limited);
    if limited || things.len() > THINGS || three_may_fit(work) {
        return None;
    }
    let mut graph = UnGraph::<usize, i128>::new_undirected();
    let mut alone = Vec::with_capacity(things.len());
    for &thing in &things {
        graph.add_node(thing);
        alone.push(cheapest(work, size(work, &[thing]))?.1);
    }
    let nodes: Vec<_> = graph.node_indices().collect();
    let each = || nodes.iter().zip(&things).zip(&alone).enumerate();
    for (index, ((a, one), its)) in each() {
        for (_, ((b, other), others)) in each().skip(index + 1) {
            let Some((_, both)) = cheapest(work, size(work, &[*one, *other])) else {
                continue;
            };
            let saved = i128::from(*its) + i128::from(*others) - i128::from(both);
            if saved > 0 {
                graph.add_edge(*a, *b, saved);
            }
        }
    }
    let saved = |edge: petgraph::graph::EdgeReference<i128>| Ok::<_, Infallible>(*edge.weight());
    let Ok(paired) = max_weight_matching(&graph, false, saved, false);
    let mut pairs: Vec<(usize, usize)> = paired
        .into_iter()
        .map(|(a, b)| (a.min(b), a.max(b)))
        .collect();
    pairs.sort_unstable();
    let mut single = vec![true; things.len()];
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (a, b) in pairs {
        for place in [a, b] {
            *single.get_mut(place)? = false;
        }
        groups.push(vec![*things.get(a)?, *things.get(b)?]);
    }
    let left = things.iter().zip(single).filter(|(_, single)| *single);
    groups.extend(left.map(|(thing, _)| vec![*thing]));
    groups
        .into_iter()
        .map(|group| container(work, &group))
        .collect()
}

/// Every single thing, as the place of its like.
fn each(work: &Work) -> Vec<usize> {
    let things = work.things.iter().enumerate();
    things
        .flat_map(|(place, thing)| std::iter::repeat_n(place, thing.count))
        .collect()
}

/// Whether three things may fit into a kind: their least sizes in each dimension do.
fn three_may_fit(work: &Work) -> bool {
    work.kinds.iter().any(|kind| {
        let fit = || {
            work.things
                .iter()
                .filter(|thing| holds(kind.room, thing.size))
        };
        let least_three = |of: fn(Size) -> u64| -> Option<u64> {
            let mut sizes: Vec<u64> = fit()
                .flat_map(|thing| std::iter::repeat_n(of(thing.size), thing.count.min(3)))
                .collect();
            sizes.sort_unstable();
            let three = sizes.get(..3)?;
            Some(three.iter().fold(0, |sum, size| sum.saturating_add(*size)))
        };
        let least = [least_three(|size| size[0]), least_three(|size| size[1])];
        matches!(least, [Some(first), Some(second)] if holds(kind.room, [first, second]))
    })
}

fn size(work: &Work, places: &[usize]) -> Size {
    let things = places.iter().filter_map(|place| work.things.get(*place));
    things.fold([0, 0], |sum, thing| add(sum, thing.size, 1))
}

/// The cheapest kind that holds a size, and its cost.
fn cheapest(work: &Work, size: Size) -> Option<(usize, u64)> {
    let kinds = work.kinds.iter().enumerate();
    let holding = kinds.filter(|(_, kind)| holds(kind.room, size));
    holding
        .map(|(index, kind)| (index, kind.cost))
        .min_by_key(|(index, cost)| (*cost, *index))
}

fn container(work: &Work, places: &[usize]) -> Option<Container> {
    let mut counts = vec![0; work.things.len()];
    for place in places {
        *counts.get_mut(*place)? += 1;
    }
    let (kind, _) = cheapest(work, work.size_of(&counts))?;
    Some(Container { kind, counts })
}

//! Where no container holds more than two things: which go together, exactly.
//!
//! Every two things that fit into some container save what they cost apart less what they cost
//! together; the cheapest filling is the matching that saves most (Edmonds, "Maximum matching and
//! a polyhedron with 0,1-vertices", Journal of Research of the National Bureau of Standards 69B,
//! 1965).

use super::work::{Work, add, holds};
use super::{Container, Contents, Size};
use petgraph::graph::UnGraph;
use rustworkx_core::max_weight_matching::max_weight_matching;
use std::convert::Infallible;

/// Parts matched at most: the work grows with their number's third power.
const PARTS: usize = 300;

/// The cheapest filling; `None` when three things may fit into one container, not every kind can
/// be had as often as wanted, or there are too many things.
pub(super) fn filled(work: &Work) -> Option<Vec<Container>> {
    let things: usize = work.counts().iter().sum();
    if things > PARTS || three_may_fit(work) {
        return None;
    }
    matched(work, &each(work))
}

/// The cheapest way to hold parts, given as how many of each thing, with at most two in a container;
/// `None` when a part fits into no kind, not every kind can be had as often as wanted, or there are
/// too many parts.
pub(super) fn matched(work: &Work, parts: &[Contents]) -> Option<Vec<Container>> {
    if work.kinds.iter().any(|kind| kind.limited) || parts.len() > PARTS {
        return None;
    }
    let sized = parts.iter().map(|part| {
        let size = work.size_of(part);
        Some((size, cheapest(work, size)?.1))
    });
    let sized: Vec<(Size, u64)> = sized.collect::<Option<_>>()?;
    let mut graph = UnGraph::<(), i128>::new_undirected();
    let nodes: Vec<_> = sized.iter().map(|_| graph.add_node(())).collect();
    let each = || nodes.iter().zip(&sized).enumerate();
    for (index, (a, (one, its))) in each() {
        for (_, (b, (other, others))) in each().skip(index + 1) {
            let Some((_, both)) = cheapest(work, add(*one, *other, 1)) else {
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
    let mut single = vec![true; parts.len()];
    let mut containers = Vec::with_capacity(parts.len());
    for (a, b) in pairs {
        for place in [a, b] {
            *single.get_mut(place)? = false;
        }
        let both = parts.get(a)?.each().chain(parts.get(b)?.each());
        containers.push(container(work, both.collect())?);
    }
    let alone = parts.iter().zip(single).filter(|(_, single)| *single);
    for (part, _) in alone {
        containers.push(container(work, part.clone())?);
    }
    Some(containers)
}

/// Every single thing.
fn each(work: &Work) -> Vec<Contents> {
    let things = work.things.iter().enumerate();
    things
        .flat_map(|(place, thing)| std::iter::repeat_n(Contents::of(place, 1), thing.count))
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

/// The cheapest kind that holds a size, and its cost.
fn cheapest(work: &Work, size: Size) -> Option<(usize, u64)> {
    let kinds = work.kinds.iter().enumerate();
    let holding = kinds.filter(|(_, kind)| holds(kind.room, size));
    holding
        .map(|(index, kind)| (index, kind.cost))
        .min_by_key(|(index, cost)| (*cost, *index))
}

fn container(work: &Work, contents: Contents) -> Option<Container> {
    let (kind, _) = cheapest(work, work.size_of(&contents))?;
    Some(Container { kind, contents })
}

//! Cable that joins a point with others along the routes, as a tree.

use super::{Routes, metres};
use crate::model::site::Point;
use crate::quantity::Length;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Cable that joins a point with others, without a ring.
#[derive(Debug, Clone, PartialEq)]
pub struct Tree {
    /// Its stretches from the root outwards: each starts at the root or where an earlier one ends.
    pub stretches: Vec<TreeStretch>,
    /// Its length in all.
    pub length: Length,
    /// Points that no route reaches, in site order.
    pub unreached: Vec<Arc<Point>>,
}

/// A stretch of a [`Tree`].
#[derive(Debug, Clone, PartialEq)]
pub struct TreeStretch {
    /// The end nearer the root.
    pub from: Arc<Point>,
    /// The other end.
    pub to: Arc<Point>,
    /// Its length.
    pub length: Length,
}

/// A stretch of route: indices of its two points, the lower first.
type Stretch = (usize, usize);

impl Routes {
    /// Joins `root` with `others` by the shortest way to each: no point is further from the root
    /// than it must be, at the price of more cable where routes make rings.
    #[must_use]
    pub fn nearest_tree(&self, root: &Point, others: &[Arc<Point>]) -> Tree {
        let mut stretches = BTreeSet::new();
        for other in others {
            let way = self.way(root.index, other.index).unwrap_or_default();
            stretches.extend(way.windows(2).filter_map(stretch));
        }
        self.rooted(root.index, &stretches, others)
    }

    /// Joins `root` with `others` with little cable: the point nearest to what is joined already
    /// comes next, by the shortest way; then each point of the site is tried as a junction. Exact
    /// where the routes have no ring.
    #[must_use]
    pub fn short_tree(&self, root: &Point, others: &[Arc<Point>]) -> Tree {
        let mut best = self.nearest_tree(root, others);
        let mut ends = others.to_vec();
        best = shorter(self.grown_tree(root, &ends, others), best);
        if self.graph.edge_count() < self.graph.node_count() {
            return best;
        }
        for junction in &self.points {
            ends.push(Arc::clone(junction));
            let tree = self.grown_tree(root, &ends, others);
            if tree.length < best.length {
                best = tree;
            } else {
                ends.pop();
            }
        }
        best
    }

    /// The tree that grows from `root` to `ends`, without what leads to none of `others`.
    fn grown_tree(&self, root: &Point, ends: &[Arc<Point>], others: &[Arc<Point>]) -> Tree {
        let mut joined: BTreeSet<usize> = BTreeSet::from([root.index]);
        let mut stretches: BTreeSet<Stretch> = BTreeSet::new();
        let mut open: BTreeSet<usize> = ends.iter().map(|point| point.index).collect();
        open.remove(&root.index);
        while let Some((end, way)) = self.next(&joined, &open) {
            joined.extend(way.iter().copied());
            stretches.extend(way.windows(2).filter_map(stretch));
            open.remove(&end);
        }
        prune(&mut stretches, root.index, others);
        self.rooted(root.index, &stretches, others)
    }

    /// The open point nearest to those joined, with the way to it.
    fn next(
        &self,
        joined: &BTreeSet<usize>,
        open: &BTreeSet<usize>,
    ) -> Option<(usize, Vec<usize>)> {
        let (_, end, start) = joined
            .iter()
            .filter_map(|start| {
                let reach = |end: &usize| Some((self.way_length(*start, *end)?, *end, *start));
                open.iter().filter_map(reach).min()
            })
            .min()?;
        Some((end, self.way(start, end)?))
    }

    /// The stretches in order from the root outwards, with what they do not reach.
    fn rooted(&self, root: usize, stretches: &BTreeSet<Stretch>, others: &[Arc<Point>]) -> Tree {
        let mut reached = vec![root];
        let mut tree = Vec::new();
        let mut total = 0_u64;
        let mut next = 0;
        while let Some(here) = reached.get(next).copied() {
            next += 1;
            for end in stretches.iter().filter_map(|s| other_end(*s, here)) {
                if reached.contains(&end) {
                    continue;
                }
                reached.push(end);
                let Some(length) = self.route_length(here, end) else {
                    continue;
                };
                total = total.saturating_add(length);
                tree.extend(self.stretch(here, end, length));
            }
        }
        let open = others.iter().map(|point| point.index).collect();
        Tree {
            stretches: tree,
            length: metres(total),
            unreached: self.named(&self.cut_off(root, &open)),
        }
    }
}

fn shorter(one: Tree, other: Tree) -> Tree {
    if one.length < other.length {
        one
    } else {
        other
    }
}

/// Takes away stretches that end nowhere.
fn prune(stretches: &mut BTreeSet<Stretch>, root: usize, others: &[Arc<Point>]) {
    let wanted = |point: usize| point == root || others.iter().any(|o| o.index == point);
    loop {
        let ends_nowhere = |point: usize| {
            let touching = stretches.iter().filter(|s| other_end(**s, point).is_some());
            !wanted(point) && touching.count() == 1
        };
        let dead = |s: &&Stretch| ends_nowhere(s.0) || ends_nowhere(s.1);
        let Some(end) = stretches.iter().find(dead).copied() else {
            return;
        };
        stretches.remove(&end);
    }
}

fn stretch(pair: &[usize]) -> Option<Stretch> {
    match pair {
        [a, b] => Some((*a.min(b), *a.max(b))),
        _ => None,
    }
}

fn other_end((a, b): Stretch, here: usize) -> Option<usize> {
    match here {
        _ if here == a => Some(b),
        _ if here == b => Some(a),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{in_metres, site};
    use super::super::{Routes, Tree, TreeStretch};

    fn stretches(tree: &Tree) -> Vec<(usize, usize)> {
        let ends = |s: &TreeStretch| (s.from.index, s.to.index);
        tree.stretches.iter().map(ends).collect()
    }

    #[test]
    fn ok_a_ring_of_routes_makes_no_ring_of_cable() {
        let ring = [(0, 1, 10.0), (1, 2, 10.0), (2, 3, 10.0), (3, 0, 10.0)];
        let site = site(&["a", "b", "c", "d"], &ring);
        let tree = Routes::new(&site).short_tree(&site.points[0], &site.points[1..]);
        assert_eq!(in_metres(tree.length), 30.0);
        assert_eq!(tree.stretches.len(), 3);
    }

    #[test]
    fn ok_a_junction_is_shared_when_that_saves_cable() {
        // Two rooms 10 m beyond a junction 10 m away, and 19 m each by ways of their own.
        let routes = [
            (0, 1, 10.0),
            (1, 2, 10.0),
            (1, 3, 10.0),
            (0, 2, 19.0),
            (0, 3, 19.0),
        ];
        let site = site(&["panel", "junction", "east", "west"], &routes);
        let rooms = &site.points[2..];
        let routes = Routes::new(&site);
        assert_eq!(
            in_metres(routes.nearest_tree(&site.points[0], rooms).length),
            38.0
        );
        assert_eq!(
            in_metres(routes.short_tree(&site.points[0], rooms).length),
            30.0
        );
    }

    #[test]
    fn ok_what_no_route_reaches_is_listed() {
        let site = site(&["a", "b", "c"], &[(0, 1, 5.0)]);
        let routes = Routes::new(&site);
        let tree = routes.short_tree(&site.points[0], &site.points[1..]);
        assert_eq!(stretches(&tree), [(0, 1)]);
        assert_eq!(tree.unreached.len(), 1);
        assert_eq!(routes.shortest(&site.points[0], &site.points[2]), None);
    }
}

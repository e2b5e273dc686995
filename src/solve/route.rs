//! Ways for cable over the site's routes: the shortest between two points, a tree that joins
//! several, and a line through them.
//!
//! Lengths are added in whole micrometres, so that equal ways compare equal on every machine; of
//! equal ways the one through points that stand earlier in the project file is taken.

mod line;
mod tree;

pub use tree::{Tree, TreeStretch};

use crate::model::site::{Point, Site};
use crate::quantity::Length;
use num_traits::ToPrimitive;
use petgraph::algo::dijkstra;
use petgraph::graph::{NodeIndex, UnGraph};
use petgraph::visit::EdgeRef;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock};
use uom::si::length::{meter, micrometer};

/// The routes of a site, ready to be asked.
#[derive(Debug, Clone)]
pub struct Routes {
    graph: UnGraph<(), u64>,
    points: Vec<Arc<Point>>,
    /// Lengths of the shortest ways from each point, by index, once one is asked for: few are ever
    /// asked from most points of a large site.
    ways: Vec<OnceLock<Lengths>>,
}

/// Micrometres to each point by index, [`NO_WAY`] where no route leads.
type Lengths = Box<[u64]>;

/// Longer than any way.
const NO_WAY: u64 = u64::MAX;

impl Routes {
    /// The routes of `site`. Of several routes between two points the shortest counts.
    #[must_use]
    pub fn new(site: &Site) -> Self {
        let mut lengths: BTreeMap<(usize, usize), u64> = BTreeMap::new();
        for route in &site.routes {
            let (a, b) = (route.from.index, route.to.index);
            let length = micrometres(route.length);
            if a != b && a.max(b) < site.points.len() {
                let known = lengths.entry((a.min(b), a.max(b))).or_insert(length);
                *known = length.min(*known);
            }
        }
        let mut graph = UnGraph::with_capacity(site.points.len(), lengths.len());
        for _ in &site.points {
            graph.add_node(());
        }
        for ((a, b), length) in lengths {
            graph.add_edge(NodeIndex::new(a), NodeIndex::new(b), length);
        }
        Routes {
            ways: graph.node_indices().map(|_| OnceLock::new()).collect(),
            graph,
            points: site.points.clone(),
        }
    }

    /// The points of the site.
    #[must_use]
    pub fn points(&self) -> &[Arc<Point>] {
        &self.points
    }

    /// The length of the shortest way between two points; `None` when no route leads there.
    #[must_use]
    pub fn shortest(&self, from: &Point, to: &Point) -> Option<Length> {
        self.way_length(from.index, to.index).map(metres)
    }

    /// The points of the shortest way, both ends included; `None` when no route leads there.
    #[must_use]
    pub fn path(&self, from: &Point, to: &Point) -> Option<Vec<Arc<Point>>> {
        let way = self.way(from.index, to.index)?;
        Some(
            way.iter()
                .filter_map(|index| self.points.get(*index).cloned())
                .collect(),
        )
    }

    fn way_length(&self, from: usize, to: usize) -> Option<u64> {
        let known = |from: usize, to: usize| self.ways.get(from)?.get()?.get(to);
        // The way back is as long.
        let length = match known(from, to).or_else(|| known(to, from)) {
            Some(length) => length,
            None => {
                let lengths = self.ways.get(from)?;
                let lengths = lengths.get_or_init(|| ways_from(&self.graph, from));
                lengths.get(to)?
            }
        };
        Some(*length).filter(|length| *length != NO_WAY)
    }

    /// The length of a route between two points that it joins.
    fn route_length(&self, from: usize, to: usize) -> Option<u64> {
        let route = self
            .graph
            .find_edge(NodeIndex::new(from), NodeIndex::new(to))?;
        self.graph.edge_weight(route).copied()
    }

    /// The points of the shortest way between two, by index.
    fn way(&self, start: usize, end: usize) -> Option<Vec<usize>> {
        let mut left = self.way_length(start, end)?;
        let mut here = end;
        let mut way = vec![end];
        while here != start {
            let (before, length) = self
                .graph
                .edges(NodeIndex::new(here))
                .map(|edge| (edge.target().index(), *edge.weight()))
                .filter(|(node, length)| {
                    let rest = self.way_length(start, *node);
                    rest.and_then(|rest| rest.checked_add(*length)) == Some(left)
                })
                .min()?;
            way.push(before);
            here = before;
            left -= length;
        }
        way.reverse();
        Some(way)
    }

    /// Those of `open` that no route from `root` reaches.
    fn cut_off(&self, root: usize, open: &BTreeSet<usize>) -> BTreeSet<usize> {
        let away = |index: &usize| self.way_length(root, *index).is_none();
        open.iter().copied().filter(away).collect()
    }

    fn named(&self, indices: &BTreeSet<usize>) -> Vec<Arc<Point>> {
        let point = |index: &usize| self.points.get(*index).cloned();
        indices.iter().filter_map(point).collect()
    }

    fn stretch(&self, from: usize, to: usize, length: u64) -> Option<TreeStretch> {
        Some(TreeStretch {
            from: self.points.get(from).cloned()?,
            to: self.points.get(to).cloned()?,
            length: metres(length),
        })
    }
}

/// The lengths of the shortest ways from a point.
fn ways_from(graph: &UnGraph<(), u64>, start: usize) -> Lengths {
    let lengths = dijkstra(graph, NodeIndex::new(start), None, |edge| *edge.weight());
    let to = |node| lengths.get(&node).copied().unwrap_or(NO_WAY);
    graph.node_indices().map(to).collect()
}

/// In whole micrometres, at least one: a way has a direction even where it has no length.
fn micrometres(length: Length) -> u64 {
    length
        .get::<micrometer>()
        .round()
        .to_u64()
        .unwrap_or(0)
        .max(1)
}

fn metres(micrometres: u64) -> Length {
    Length::new::<meter>(micrometres.to_f64().unwrap_or(f64::INFINITY) / 1e6)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::sample;
    use crate::model::site::{PointKind, Route};

    pub(super) fn site(names: &[&str], routes: &[(usize, usize, f64)]) -> Site {
        let point = |(index, name): (usize, &&str)| sample::point(index, name, PointKind::Room);
        let points: Vec<Arc<Point>> = names.iter().enumerate().map(point).collect();
        let route = |(from, to, length): &(usize, usize, f64)| Route {
            from: Arc::clone(&points[*from]),
            to: Arc::clone(&points[*to]),
            length: Length::new::<meter>(*length),
            separated: None,
        };
        let routes = routes.iter().map(route).collect();
        Site { points, routes }
    }

    pub(super) fn in_metres(length: Length) -> f64 {
        length.get::<meter>()
    }

    // Textbook example: shortest path in the six-node graph of E. W. Dijkstra's method as worked
    // in many texts (from memory): a–e is 20 by way of c and f.
    #[test]
    fn ok_shortest_way_of_the_textbook_graph() {
        let site = site(
            &["a", "b", "c", "d", "e", "f"],
            &[
                (0, 1, 7.0),
                (0, 2, 9.0),
                (0, 5, 14.0),
                (1, 2, 10.0),
                (1, 3, 15.0),
                (2, 3, 11.0),
                (2, 5, 2.0),
                (3, 4, 6.0),
                (4, 5, 9.0),
            ],
        );
        let (a, e) = (&site.points[0], &site.points[4]);
        let routes = Routes::new(&site);
        assert_eq!(routes.shortest(a, e).map(in_metres), Some(20.0));
        let names: Vec<String> = routes
            .path(a, e)
            .unwrap()
            .iter()
            .map(|p| p.name.clone())
            .collect();
        assert_eq!(names, ["a", "c", "f", "e"]);
    }

    #[test]
    fn ok_no_length_is_still_a_way() {
        let site = site(&["a", "b", "c"], &[(0, 1, 0.0), (1, 2, 0.0)]);
        let way = Routes::new(&site)
            .path(&site.points[0], &site.points[2])
            .unwrap();
        assert_eq!(way.len(), 3);
    }
}

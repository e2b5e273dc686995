//! Cable that joins a point with others in one line from point to point.

use super::{Routes, Tree, TreeStretch};
use crate::model::site::Point;
use crate::quantity::Length;
use std::collections::BTreeSet;
use std::sync::Arc;
use uom::ConstZero;

impl Routes {
    /// Joins `root` with `others` in one line from point to point, each stretch the shortest way:
    /// the nearest comes next, then parts are turned round while that makes the line shorter.
    #[must_use]
    pub fn line(&self, root: &Point, others: &[Arc<Point>]) -> Tree {
        let mut open: BTreeSet<usize> = others.iter().map(|point| point.index).collect();
        open.remove(&root.index);
        let (mut order, unreached) = (vec![root.index], self.cut_off(root.index, &open));
        open.retain(|index| !unreached.contains(index));
        while let Some(next) = order
            .last()
            .and_then(|last| {
                open.iter()
                    .min_by_key(|end| (self.way_length(*last, **end), **end))
            })
            .copied()
        {
            open.remove(&next);
            order.push(next);
        }
        self.untangle(&mut order);
        let stretches: Vec<TreeStretch> = order
            .windows(2)
            .filter_map(|pair| match pair {
                [from, to] => self.stretch(*from, *to, self.way_length(*from, *to)?),
                _ => None,
            })
            .collect();
        Tree {
            length: stretches
                .iter()
                .fold(Length::ZERO, |sum, stretch| sum + stretch.length),
            stretches,
            unreached: self.named(&unreached),
        }
    }

    /// Turns parts of a line round while that makes it shorter (2-opt); its start stays.
    fn untangle(&self, order: &mut [usize]) {
        let mut shorter = true;
        while shorter {
            shorter = false;
            for first in 1..order.len() {
                for last in first + 1..order.len() {
                    if self.shorter_turned(order, first, last) {
                        turn(order, first, last);
                        shorter = true;
                    }
                }
            }
        }
    }

    /// Whether a line is shorter with the part from `first` to `last` turned round: only the two
    /// stretches at its ends change.
    fn shorter_turned(&self, order: &[usize], first: usize, last: usize) -> bool {
        let at = |place: usize| order.get(place).copied();
        let stretch = |one: Option<usize>, other: Option<usize>| match (one, other) {
            (Some(one), Some(other)) => self.way_length(one, other).unwrap_or(0),
            _ => 0,
        };
        let (before, after) = (first.checked_sub(1).and_then(at), at(last + 1));
        let now = stretch(before, at(first)) + stretch(at(last), after);
        stretch(before, at(last)) + stretch(at(first), after) < now
    }
}

fn turn(order: &mut [usize], first: usize, last: usize) {
    if let Some(part) = order.get_mut(first..=last) {
        part.reverse();
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
    fn ok_a_line_visits_each_point_once() {
        let routes = [(0, 1, 10.0), (0, 2, 3.0), (0, 3, 12.0), (1, 3, 1.0)];
        let site = site(&["a", "b", "c", "d"], &routes);
        let line = Routes::new(&site).line(&site.points[0], &site.points[1..]);
        assert_eq!(stretches(&line), [(0, 2), (2, 1), (1, 3)]);
        assert_eq!(in_metres(line.length), 3.0 + 13.0 + 1.0);
    }
}

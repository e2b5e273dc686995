//! The least cable of a few blocks on a number of loops, found and proved: every way to share the
//! blocks, each loop with the shortest tree that there is.

use super::block::Block;
use super::placing::Ground;
use super::wiring::points;
use crate::model::site::Point;
use crate::quantity::Length;
use std::sync::Arc;
use uom::si::length::meter;

/// Most blocks that are gone through: ways to split their sets are 3 to that power.
const BLOCKS: usize = 10;
/// Most points that trees are found for.
const POINTS: usize = 10;
/// Most points of a site.
const SITE: usize = 200;

/// The blocks of each loop with least cable, and that cable.
pub(super) struct Least {
    pub loops: Vec<Vec<usize>>,
    pub cable: Length,
}

/// The least cable that the blocks of `ground` take on `count` loops, none over its capacity.
/// `None` when there are too many blocks or points to go through, or no such sharing.
pub(super) fn least(ground: &Ground, count: usize) -> Option<Least> {
    let blocks = ground.blocks.len();
    let units = ground.blocks.iter().flat_map(|block| &block.units);
    let points = points(units.filter_map(|unit| ground.units.get(*unit)));
    if blocks > BLOCKS || points.len() > POINTS || ground.routes.points().len() > SITE {
        return None;
    }
    let trees = Trees::new(ground, &points);
    let whole = (1_usize << blocks) - 1;
    // What each set of blocks costs on a loop of its own.
    let alone: Vec<f64> = (0..=whole)
        .map(|set| alone(ground, set, &points, &trees))
        .collect();
    // The least of each set on so many loops, and the set on the last of them.
    let mut best: Vec<(f64, Vec<usize>)> = vec![(f64::INFINITY, Vec::new()); whole + 1];
    *best.first_mut()? = (0.0, Vec::new());
    for _ in 0..count {
        let mut next = vec![(f64::INFINITY, Vec::new()); whole + 1];
        for (set, entry) in next.iter_mut().enumerate() {
            let mut part = set;
            while part > 0 {
                let lowest = set & set.wrapping_neg();
                let cost = alone.get(part).copied().unwrap_or(f64::INFINITY);
                let rest = best.get(set & !part);
                if part & lowest != 0
                    && let Some((before, parts)) = rest
                    && before + cost < entry.0 - 1e-9
                {
                    let mut parts = parts.clone();
                    parts.push(part);
                    *entry = (before + cost, parts);
                }
                part = (part - 1) & set;
            }
        }
        best = next;
    }
    let (metres, parts) = best.pop()?;
    metres.is_finite().then(|| Least {
        loops: parts.iter().map(|part| members(*part, blocks)).collect(),
        cable: Length::new::<meter>(metres),
    })
}

fn members(set: usize, blocks: usize) -> Vec<usize> {
    (0..blocks).filter(|block| set >> block & 1 == 1).collect()
}

/// What a set of blocks takes in cable on one loop; endless when no loop takes it.
fn alone(ground: &Ground, set: usize, points: &[Arc<Point>], trees: &Trees) -> f64 {
    let chosen: Vec<&Block> = members(set, ground.blocks.len())
        .into_iter()
        .filter_map(|block| ground.blocks.get(block))
        .collect();
    let units = chosen.iter().flat_map(|block| &block.units);
    let units = units.filter_map(|unit| ground.units.get(*unit));
    if !ground.capacity.takes(&ground.capacity.sizes(units)) {
        return f64::INFINITY;
    }
    let at = |unit: &usize| ground.units.get(*unit).map(|unit| unit.at.index);
    let mut mask = 0;
    for index in chosen.iter().flat_map(|block| &block.units).filter_map(at) {
        if let Some(place) = points.iter().position(|point| point.index == index) {
            mask |= 1 << place;
        }
    }
    trees.least(mask)
}

/// Lengths of the shortest trees that join each set of points with the nearest root: the dynamic
/// programme of Dreyfus and Wagner (The Steiner problem in graphs, Networks 1, 1971).
struct Trees {
    by_set: Vec<f64>,
}

impl Trees {
    fn new(ground: &Ground, ends: &[Arc<Point>]) -> Trees {
        let site = ground.routes.points();
        let way = |a: &Point, b: &Point| {
            let length = ground.routes.shortest(a, b);
            length.map_or(f64::INFINITY, |length| length.get::<meter>())
        };
        let ways: Vec<Vec<f64>> = site
            .iter()
            .map(|a| site.iter().map(|b| way(a, b)).collect())
            .collect();
        let sets = 1_usize << ends.len();
        // The shortest tree that joins a set of ends with each point of the site.
        let mut trees: Vec<Vec<f64>> = vec![vec![0.0; site.len()]];
        for set in 1..sets {
            let mut joined = vec![f64::INFINITY; site.len()];
            if set.is_power_of_two() {
                let end = (0..).zip(ends).find(|(place, _)| 1 << place == set);
                let end = end.map(|(_, end)| end);
                if let Some(end) = end.and_then(|end| joined.get_mut(end.index)) {
                    *end = 0.0;
                }
            } else {
                let mut part = (set - 1) & set;
                while part > 0 {
                    if let (Some(one), Some(other)) = (trees.get(part), trees.get(set & !part)) {
                        for (sum, (a, b)) in joined.iter_mut().zip(one.iter().zip(other)) {
                            *sum = sum.min(a + b);
                        }
                    }
                    part = (part - 1) & set;
                }
            }
            let led = |from: &Vec<f64>| {
                let sums = from.iter().zip(&joined).map(|(way, tree)| way + tree);
                sums.fold(f64::INFINITY, f64::min)
            };
            let tree = ways.iter().map(led).collect();
            trees.push(tree);
        }
        let nearest = |tree: &Vec<f64>| {
            let roots = ground.roots.iter().filter_map(|root| tree.get(root.index));
            roots.copied().fold(f64::INFINITY, f64::min)
        };
        Trees {
            by_set: trees.iter().map(nearest).collect(),
        }
    }

    fn least(&self, set: usize) -> f64 {
        self.by_set.get(set).copied().unwrap_or(f64::INFINITY)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::allocate::loops::capacity::Capacity;
    use crate::load;
    use crate::model::project::Project;
    use crate::solve::route::Routes;
    use std::cell::Cell;
    use std::path::Path;

    /// Four rooms at the corners of a square of 10 m, the panel in one corner, and a junction in
    /// the middle that is 6 m from each corner.
    fn square() -> Project {
        let mut text = "format: 1\nproject: {title: Square}\nregion: iec\ncatalogues: \
                        [trade.yaml]\npoints:\n  - {point: panel, kind: panel}\n  - {point: \
                        middle, kind: junction}\n  - {point: cupboard, kind: cupboard}\n"
            .to_owned();
        for room in ["a", "b", "c"] {
            text.push_str(&format!("  - {{point: {room}, kind: room}}\n"));
        }
        text.push_str("routes:\n");
        let sides = [("panel", "a"), ("a", "b"), ("b", "c"), ("c", "panel")];
        let corners = ["panel", "a", "b", "c"].map(|corner| (corner, "middle"));
        let sides = sides.iter().map(|side| (side, 10));
        for ((from, to), length) in sides.chain(corners.iter().map(|corner| (corner, 6))) {
            text.push_str(&format!(
                "  - {{from: {from}, to: {to}, length: {length} m}}\n"
            ));
        }
        text.push_str(
            "  - {from: panel, to: cupboard, length: 1 m}\nruns:\n  - {run: shelf, room: a, \
             strip: shelf-24-7, length: 1 m, cupboard: cupboard, to_start: 4 m}\ndevices:\n",
        );
        for room in ["a", "b", "c"] {
            text.push_str(&format!(
                "  - {{device: sensor-{room}, item: ceiling-sensor, room: {room}, count: 10}}\n"
            ));
        }
        let base = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples");
        let loaded = load::project_from_text("square.yaml", &text, &base);
        loaded.expect("a project").project
    }

    fn cable([gear, devices, current]: [u128; 3], count: usize) -> Option<f64> {
        let project = square();
        let sizing = crate::choose::size(&project).expect("sizes");
        let units = crate::allocate::loops::unit::units(&project, &sizing);
        let capacity = Capacity([gear, devices, current, 16]);
        let blocks = crate::allocate::loops::block::blocks(&units, true, &capacity);
        let roots = [Arc::clone(&project.site.points[0])];
        let routes = Routes::new(&project.site);
        let ground = Ground {
            units: &units,
            blocks: &blocks,
            capacity,
            routes: &routes,
            roots: &roots,
            cable: None,
            maximum: Default::default(),
            settings: &project.loops,
            scenes: &project.scenes,
            work: &Cell::new(0),
        };
        least(&ground, count).map(|found| found.cable.get::<meter>())
    }

    // The four corners of a square with sides of 10 m and a middle 6 m away are joined by 24 m
    // through the middle, where three sides would take 30 m; with 1 m to the driver. Textbook
    // example of a Steiner point.
    #[test]
    fn one_loop_goes_through_the_middle() {
        assert_eq!(cable([64, 64, 250_000_000], 1), Some(25.0));
    }

    // One room a loop: 10 m + 1 m to a and the driver, 12 m across to b, 10 m to c.
    #[test]
    fn three_loops_go_straight_to_their_rooms() {
        assert_eq!(cable([64, 12, 250_000_000], 3), Some(33.0));
        assert_eq!(cable([64, 12, 250_000_000], 2), None, "two can't take them");
    }
}

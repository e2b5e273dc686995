//! The routes on which feed cables lie beside mains or bus cable.

use super::rule::Evidence;
use crate::choose::sized::SizedRun;
use crate::model::site::Point;
use crate::solve::route::Routes;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Two points next to each other on a way, the lower index first.
type Stretch = (usize, usize);

/// A route that a feed cable shares.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct SharedWay {
    /// Its ends: `cupboard-a–foyer`.
    pub name: String,
    /// What is said of it: `None` when nothing is.
    pub separated: Option<bool>,
}

/// Which routes carry mains or bus cable.
pub struct SharedWays {
    routes: Routes,
    live: BTreeSet<Stretch>,
    said: BTreeMap<Stretch, (String, Option<bool>)>,
}

impl SharedWays {
    /// Follows bus cable and mains circuits over the routes.
    pub fn of(evidence: &Evidence<'_>) -> SharedWays {
        let project = evidence.project;
        let mut ways = SharedWays {
            routes: Routes::new(&project.site),
            live: BTreeSet::new(),
            said: BTreeMap::new(),
        };
        for route in &project.site.routes {
            let name = format!("{}–{}", route.from.name, route.to.name);
            let separated = route.separated.or(project.wiring.separated);
            let entry = ways.said.entry(stretch(&route.from, &route.to));
            // Of two routes between the same points the one that is less well kept apart counts.
            let known = entry.or_insert((name, separated));
            if known.1 == Some(true) {
                known.1 = separated;
            }
        }
        for bus in &evidence.allocation.loops {
            for part in &bus.tree {
                ways.live.extend(ways.taken(&part.from, &part.to));
            }
        }
        for circuit in &evidence.allocation.circuits {
            for place in &circuit.places {
                let panel = circuit.panel.iter();
                let taken: Vec<Stretch> =
                    panel.flat_map(|panel| ways.taken(panel, place)).collect();
                ways.live.extend(taken);
            }
        }
        ways
    }

    /// Shared routes of some runs on which the cables are not said to be kept apart.
    pub fn not_separated<'r>(&self, runs: impl Iterator<Item = &'r SizedRun>) -> Vec<SharedWay> {
        let mut found = BTreeSet::new();
        for sized in runs {
            for part in self.taken(&sized.cupboard, &sized.run.room) {
                let said = self.said.get(&part);
                let (name, separated) = match said {
                    Some((name, separated)) => (name.clone(), *separated),
                    None => continue,
                };
                if self.live.contains(&part) && separated != Some(true) {
                    found.insert(SharedWay { name, separated });
                }
            }
        }
        found.into_iter().collect()
    }

    fn taken(&self, from: &Arc<Point>, to: &Arc<Point>) -> Vec<Stretch> {
        let way = self.routes.path(from, to).unwrap_or_default();
        let pairs = way.iter().zip(way.iter().skip(1));
        pairs.map(|(a, b)| stretch(a, b)).collect()
    }
}

fn stretch(a: &Point, b: &Point) -> Stretch {
    (a.index.min(b.index), a.index.max(b.index))
}

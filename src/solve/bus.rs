//! The two-wire control bus of one loop: voltage drops, longest distances, cable in all.
//!
//! The bus is a tree of stretches between nodes. Units (control gear and control devices) stand at
//! nodes and draw current; supplies stand at nodes and deliver it. With several supplies, each in
//! turn is taken to feed the whole loop, which is the worst case.

use crate::quantity::{Current, Length, Resistance, Voltage};
use uom::ConstZero;

/// A stretch of bus cable between two nodes.
#[derive(Debug, Clone, PartialEq)]
pub struct BusEdge {
    /// One node.
    pub a: usize,
    /// The other.
    pub b: usize,
    /// Its length.
    pub length: Length,
    /// Resistance of both wires over that length, at working temperature.
    pub resistance: Resistance,
}

/// A unit that draws from the bus.
#[derive(Debug, Clone, PartialEq)]
pub struct BusUnit {
    /// Where it stands.
    pub node: usize,
    /// What it draws.
    pub draw: Current,
}

/// A supply of the bus.
#[derive(Debug, Clone, PartialEq)]
pub struct BusSource {
    /// Where it stands.
    pub node: usize,
    /// Most current it may deliver.
    pub maximum: Current,
}

/// One loop's bus.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Bus {
    /// How many nodes; they are numbered from 0.
    pub nodes: usize,
    /// Stretches: a tree over the nodes.
    pub edges: Vec<BusEdge>,
    /// Units.
    pub units: Vec<BusUnit>,
    /// Supplies.
    pub sources: Vec<BusSource>,
}

/// Figures of one loop's bus.
#[derive(Debug, Clone, PartialEq)]
pub struct BusFigures {
    /// Voltage lost from the worst supply to each unit, all units drawing, in the order of units.
    pub drops: Vec<Voltage>,
    /// The largest of them.
    pub drop: Voltage,
    /// Largest voltage lost when the supplies' whole maximum current is drawn at one unit.
    pub drop_full: Voltage,
    /// Current of each stretch as seen from the first supply, in the order of edges.
    pub currents: Vec<Current>,
    /// Longest cable distance between two units.
    pub longest_between_units: Length,
    /// The same with supplies counted as units.
    pub longest: Length,
    /// Cable in all.
    pub cable: Length,
    /// Current of all units.
    pub current: Current,
}

/// Why a bus has no figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum BusError {
    /// There is more than one way between two nodes.
    #[error("the bus makes a ring at node {0}; it must be a line, a star or a tree")]
    Ring(usize),
    /// A node is named that is not joined to the rest.
    #[error("node {0} of the bus is not joined to the rest")]
    Apart(usize),
}

/// The figures of `bus`. Resistances must already be those at working temperature: both wires,
/// 2·R·length. Without a supply the drops are zero.
///
/// # Errors
/// When the stretches are not one tree over all the nodes.
pub fn figures(bus: &Bus) -> Result<BusFigures, BusError> {
    let branches = Branches::of(bus)?;
    let whole = bus
        .sources
        .iter()
        .fold(Current::ZERO, |sum, source| sum + source.maximum);
    let mut drops = vec![Voltage::ZERO; bus.units.len()];
    let mut drop_full = Voltage::ZERO;
    let mut currents = None;
    for source in &bus.sources {
        let tree = branches.rooted(source.node)?;
        let beyond = tree.beyond(bus);
        let fall = tree.fall(bus, &beyond);
        let resistance = tree.summed(bus, |edge| edge.resistance);
        for (unit, drop) in bus.units.iter().zip(&mut drops) {
            *drop = drop.max(fall.get(unit.node).copied().unwrap_or(Voltage::ZERO));
            let path = resistance.get(unit.node).copied();
            drop_full = drop_full.max(path.unwrap_or(Resistance::ZERO) * whole);
        }
        currents.get_or_insert(beyond);
    }
    let units: Vec<usize> = bus.units.iter().map(|unit| unit.node).collect();
    let mut all = units.clone();
    all.extend(bus.sources.iter().map(|source| source.node));
    Ok(BusFigures {
        drop: drops.iter().copied().fold(Voltage::ZERO, Voltage::max),
        drops,
        drop_full,
        currents: currents.unwrap_or_else(|| vec![Current::ZERO; bus.edges.len()]),
        longest_between_units: branches.longest(bus, &units)?,
        longest: branches.longest(bus, &all)?,
        cable: bus
            .edges
            .iter()
            .fold(Length::ZERO, |sum, edge| sum + edge.length),
        current: bus
            .units
            .iter()
            .fold(Current::ZERO, |sum, unit| sum + unit.draw),
    })
}

/// For each node, its stretches and the nodes at their other ends.
struct Branches {
    at: Vec<Vec<(usize, usize)>>,
}

impl Branches {
    /// Checks that the stretches are one tree.
    fn of(bus: &Bus) -> Result<Self, BusError> {
        let mut at = vec![Vec::new(); bus.nodes];
        for (index, edge) in bus.edges.iter().enumerate() {
            for (here, there) in [(edge.a, edge.b), (edge.b, edge.a)] {
                at.get_mut(here)
                    .ok_or(BusError::Apart(here))?
                    .push((index, there));
            }
        }
        let branches = Branches { at };
        branches.rooted(0)?;
        Ok(branches)
    }

    /// The tree seen from `root`.
    fn rooted(&self, root: usize) -> Result<Rooted, BusError> {
        let mut seen = vec![false; self.at.len()];
        let mut steps: Vec<Step> = Vec::new();
        let mut open = vec![(root, None)];
        while let Some((here, came_by)) = open.pop() {
            let mark = seen.get_mut(here).ok_or(BusError::Apart(here))?;
            if std::mem::replace(mark, true) {
                return Err(BusError::Ring(here));
            }
            for (edge, there) in self.at.get(here).into_iter().flatten() {
                if Some(*edge) != came_by {
                    steps.push(Step {
                        edge: *edge,
                        near: here,
                        far: *there,
                    });
                    open.push((*there, Some(*edge)));
                }
            }
        }
        match seen.iter().position(|seen| !seen) {
            Some(node) => Err(BusError::Apart(node)),
            None => Ok(Rooted { steps }),
        }
    }

    /// The longest way between two of `nodes`.
    fn longest(&self, bus: &Bus, nodes: &[usize]) -> Result<Length, BusError> {
        let mut longest = Length::ZERO;
        for start in nodes {
            let far = self.rooted(*start)?.summed(bus, |edge| edge.length);
            for end in nodes {
                longest = longest.max(far.get(*end).copied().unwrap_or(Length::ZERO));
            }
        }
        Ok(longest)
    }
}

/// A stretch walked away from the root.
struct Step {
    edge: usize,
    near: usize,
    far: usize,
}

/// A tree as seen from its root: stretches in such an order that each comes after the one before
/// it on the way.
struct Rooted {
    steps: Vec<Step>,
}

impl Rooted {
    /// For each node the sum of `what` over its way from the root.
    fn summed<Q>(&self, bus: &Bus, what: impl Fn(&BusEdge) -> Q) -> Vec<Q>
    where
        Q: Copy + ConstZero + std::ops::Add<Output = Q>,
    {
        let mut sums = vec![Q::ZERO; bus.nodes];
        for step in &self.steps {
            let Some(edge) = bus.edges.get(step.edge) else {
                continue;
            };
            let before = sums.get(step.near).copied().unwrap_or(Q::ZERO);
            if let Some(sum) = sums.get_mut(step.far) {
                *sum = before + what(edge);
            }
        }
        sums
    }

    /// For each edge the current of all units beyond it.
    fn beyond(&self, bus: &Bus) -> Vec<Current> {
        let mut at = vec![Current::ZERO; bus.nodes];
        for unit in &bus.units {
            if let Some(sum) = at.get_mut(unit.node) {
                *sum += unit.draw;
            }
        }
        let mut beyond = vec![Current::ZERO; bus.edges.len()];
        for step in self.steps.iter().rev() {
            let carried = at.get(step.far).copied().unwrap_or(Current::ZERO);
            if let Some(current) = beyond.get_mut(step.edge) {
                *current = carried;
            }
            if let Some(sum) = at.get_mut(step.near) {
                *sum += carried;
            }
        }
        beyond
    }

    /// For each node the voltage lost on its way from the root.
    fn fall(&self, bus: &Bus, beyond: &[Current]) -> Vec<Voltage> {
        let mut fall = vec![Voltage::ZERO; bus.nodes];
        for step in &self.steps {
            let current = beyond.get(step.edge).copied().unwrap_or(Current::ZERO);
            let Some(edge) = bus.edges.get(step.edge) else {
                continue;
            };
            let before = fall.get(step.near).copied().unwrap_or(Voltage::ZERO);
            if let Some(sum) = fall.get_mut(step.far) {
                *sum = before + edge.resistance * current;
            }
        }
        fall
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::electric_current::milliampere;
    use uom::si::electric_potential::volt;
    use uom::si::electrical_resistance::ohm;
    use uom::si::length::meter;

    fn edge(a: usize, b: usize, metres: f64, ohms: f64) -> BusEdge {
        BusEdge {
            a,
            b,
            length: Length::new::<meter>(metres),
            resistance: Resistance::new::<ohm>(ohms),
        }
    }

    fn current(value: f64) -> Current {
        Current::new::<milliampere>(value)
    }

    #[test]
    fn err_a_ring() {
        let bus = Bus {
            nodes: 3,
            edges: vec![
                edge(0, 1, 1.0, 1.0),
                edge(1, 2, 1.0, 1.0),
                edge(2, 0, 1.0, 1.0),
            ],
            ..Bus::default()
        };
        assert!(matches!(figures(&bus), Err(BusError::Ring(_))));
    }

    #[test]
    fn err_a_node_by_itself() {
        let bus = Bus {
            nodes: 3,
            edges: vec![edge(0, 1, 1.0, 1.0)],
            ..Bus::default()
        };
        assert_eq!(figures(&bus), Err(BusError::Apart(2)));
    }

    // Ohm's law: 2 mA + 3 mA through 10 Ω, then 3 mA through 20 Ω: 50 mV + 60 mV.
    #[test]
    fn ok_drops_add_up_along_the_way() {
        let bus = Bus {
            nodes: 3,
            edges: vec![edge(0, 1, 40.0, 10.0), edge(1, 2, 70.0, 20.0)],
            units: vec![
                BusUnit {
                    node: 1,
                    draw: current(2.0),
                },
                BusUnit {
                    node: 2,
                    draw: current(3.0),
                },
            ],
            sources: vec![BusSource {
                node: 0,
                maximum: current(250.0),
            }],
        };
        let found = figures(&bus).unwrap();
        assert!((found.drop.get::<volt>() - 0.11).abs() < 1e-12);
        assert!((found.drop_full.get::<volt>() - 7.5).abs() < 1e-12);
        assert!((found.longest.get::<meter>() - 110.0).abs() < 1e-9);
        assert!((found.longest_between_units.get::<meter>() - 70.0).abs() < 1e-9);
    }

    #[test]
    fn ok_units_at_the_supply_lose_nothing() {
        let bus = Bus {
            nodes: 1,
            units: vec![BusUnit {
                node: 0,
                draw: current(2.0),
            }],
            sources: vec![BusSource {
                node: 0,
                maximum: current(250.0),
            }],
            ..Bus::default()
        };
        let found = figures(&bus).unwrap();
        assert_eq!((found.drop, found.cable), (Voltage::ZERO, Length::ZERO));
    }
}

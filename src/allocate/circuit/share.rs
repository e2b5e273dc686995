//! Units onto circuits: the fewest that hold, a room's drivers together where that costs none.

use super::fill::{Load, Room, Scale, fewest, sum};
use super::unit::Unit;
use crate::allocate::packing::{Effort, SIZES, Sizes};

/// Units shared among circuits, by index.
#[derive(Debug, Clone, Default)]
pub(super) struct Shared {
    /// The units of each circuit, rising.
    pub circuits: Vec<Vec<usize>>,
    /// Whether fewer circuits are proved impossible.
    pub proved: bool,
}

/// The fewest circuits for some units, by index. One that is too much for any circuit has one to
/// itself.
pub(super) fn share(units: &[Unit], among: &[usize], room: &Room) -> Shared {
    let mut kinds: Vec<(Load, Vec<usize>)> = Vec::new();
    let mut circuits: Vec<Vec<usize>> = Vec::new();
    for index in among {
        let Some(load) = units.get(*index).map(Unit::load) else {
            continue;
        };
        if fewest(std::slice::from_ref(&load), room, Effort::default()).is_none() {
            circuits.push(vec![*index]);
            continue;
        }
        match kinds.iter_mut().find(|(kind, _)| *kind == load) {
            Some((_, list)) => list.push(*index),
            None => kinds.push((load, vec![*index])),
        }
    }
    let loads: Vec<Load> = kinds
        .iter()
        .map(|(load, list)| Load {
            count: list.len(),
            ..load.clone()
        })
        .collect();
    let Some(packing) = fewest(&loads, room, Effort::default()) else {
        return Shared {
            circuits,
            proved: false,
        };
    };
    let mut lists: Vec<std::vec::IntoIter<usize>> = kinds
        .iter()
        .map(|(_, list)| list.clone().into_iter())
        .collect();
    for filled in &packing.bins {
        let mut circuit = Vec::new();
        for (list, count) in lists.iter_mut().zip(&filled.counts) {
            circuit.extend(list.by_ref().take(*count));
        }
        circuits.push(circuit);
    }
    Levelling::new(units, room).level(&mut circuits);
    for circuit in &mut circuits {
        circuit.sort_unstable();
    }
    circuits.sort();
    Shared {
        circuits,
        proved: packing.proved(),
    }
}

/// Moves and swaps units between circuits while rooms are then on fewer circuits, or the circuits
/// are more evenly full.
struct Levelling<'a> {
    units: &'a [Unit],
    room: &'a Room,
    scale: Scale,
    /// What each unit takes.
    sizes: Vec<Sizes>,
}

/// How good some circuits are: less is better.
type Score = (usize, u128);

impl<'a> Levelling<'a> {
    fn new(units: &'a [Unit], room: &'a Room) -> Self {
        let loads: Vec<Load> = units.iter().map(Unit::load).collect();
        let scale = Scale::of(&loads);
        Levelling {
            units,
            room,
            scale,
            sizes: loads.iter().map(|load| scale.sizes(load)).collect(),
        }
    }

    fn level(&self, circuits: &mut [Vec<usize>]) {
        let mut better = true;
        while better {
            better = false;
            for one in 0..circuits.len() {
                for other in (0..circuits.len()).filter(|other| *other != one) {
                    while self.exchange(circuits, one, other) {
                        better = true;
                    }
                }
            }
        }
    }

    /// The first move from one circuit to another, or swap between them, that is better; whether
    /// there was one. No circuit is emptied.
    fn exchange(&self, circuits: &mut [Vec<usize>], one: usize, other: usize) -> bool {
        let (Some(from), Some(to)) = (circuits.get(one), circuits.get(other)) else {
            return false;
        };
        let (Some(first), Some(second)) = (self.score(from), self.score(to)) else {
            return false;
        };
        let now = both(first, second);
        for given in from {
            for back in std::iter::once(None).chain(to.iter().map(Some)) {
                // Swapping what is alike changes nothing.
                if back.is_some_and(|back| self.alike(*given, *back)) {
                    continue;
                }
                let trial = (
                    replaced(from, given, back),
                    replaced_option(to, back, *given),
                );
                let scores = self.score(&trial.0).zip(self.score(&trial.1));
                if !trial.0.is_empty() && scores.is_some_and(|(a, b)| both(a, b) < now) {
                    for (index, list) in [(one, trial.0), (other, trial.1)] {
                        if let Some(circuit) = circuits.get_mut(index) {
                            *circuit = list;
                        }
                    }
                    return true;
                }
            }
        }
        false
    }

    /// Whether two units take the same and serve the same rooms.
    fn alike(&self, one: usize, other: usize) -> bool {
        let rooms = |index: usize| self.units.get(index).map(|unit| &unit.rooms);
        self.sizes.get(one) == self.sizes.get(other) && rooms(one) == rooms(other)
    }

    /// How many rooms a circuit serves, and the square of how full it is; `None` when it is over.
    fn score(&self, circuit: &[usize]) -> Option<Score> {
        let sizes = circuit.iter().filter_map(|index| self.sizes.get(*index));
        let taken = sizes.fold([0; SIZES], |taken, size| sum(&taken, size));
        let full = self.scale.fullness(&taken, self.room)?;
        let units = circuit.iter().filter_map(|index| self.units.get(*index));
        let mut rooms: Vec<usize> = units.flat_map(|unit| unit.rooms.iter().copied()).collect();
        rooms.sort_unstable();
        rooms.dedup();
        Some((rooms.len(), full * full))
    }
}

fn both(one: Score, other: Score) -> Score {
    (one.0 + other.0, one.1 + other.1)
}

fn replaced(list: &[usize], old: &usize, new: Option<&usize>) -> Vec<usize> {
    let rest = list.iter().filter(|index| *index != old);
    rest.chain(new).copied().collect()
}

fn replaced_option(list: &[usize], old: Option<&usize>, new: usize) -> Vec<usize> {
    let rest = list.iter().filter(|index| Some(*index) != old);
    rest.copied().chain([new]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::sample::point;
    use crate::model::site::PointKind;
    use crate::quantity::Current;
    use uom::si::electric_current::ampere;

    /// A driver in the archive cupboard that takes so many amperes and serves a room.
    fn driver(amperes: f64, room: usize) -> Unit {
        let current = Current::new::<ampere>(amperes);
        let at = point(0, "archive", PointKind::Cupboard);
        Unit {
            name: String::new(),
            at,
            driver: true,
            current: Some(current),
            counted: current,
            power_factor: None,
            most_alone: None,
            leakage: None,
            rooms: vec![room],
        }
    }

    /// The circuits of 10 A for some drivers, by their places in the list.
    fn circuits(units: &[Unit]) -> Vec<Vec<usize>> {
        let room = Room {
            current: 10_000_000_000,
            leakage: None,
        };
        let all: Vec<usize> = (0..units.len()).collect();
        share(units, &all, &room).circuits
    }

    #[test]
    fn a_rooms_drivers_share_a_circuit_where_two_of_any_fill_one() {
        let units = [(5.0, 0), (5.0, 1), (5.0, 0), (5.0, 1)].map(|(a, room)| driver(a, room));
        assert_eq!(circuits(&units), [[0, 2], [1, 3]]);
    }

    #[test]
    fn full_circuits_are_evened_by_swapping_a_larger_driver_for_a_smaller_one() {
        // 5 + 5 and 4 + 4 would be 10 A and 8 A; no driver can be moved by itself.
        let units = [5.0, 5.0, 4.0, 4.0].map(|a| driver(a, 0));
        for circuit in circuits(&units) {
            let amperes: f64 = circuit
                .iter()
                .map(|index| units[*index].counted.get::<ampere>())
                .sum();
            assert_eq!(amperes, 9.0);
        }
    }

    #[test]
    fn a_driver_too_large_for_any_circuit_has_one_to_itself() {
        let units = [12.0, 4.0, 6.0].map(|a| driver(a, 0));
        assert_eq!(circuits(&units), [vec![0], vec![1, 2]]);
    }
}

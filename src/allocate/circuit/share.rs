//! Units onto circuits: the fewest that hold, a room's drivers together where that costs none.

use super::fill::{Load, Room, fewest};
use super::unit::Unit;
use crate::allocate::packing::Effort;
use std::collections::BTreeSet;

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
    let kind = |index: usize| kinds.iter().position(|(_, list)| list.contains(&index));
    together(units, &mut circuits, kind);
    for circuit in &mut circuits {
        circuit.sort_unstable();
    }
    circuits.sort();
    Shared {
        circuits,
        proved: packing.proved(),
    }
}

/// Swaps units of one kind between circuits while rooms are then on fewer circuits.
fn together(units: &[Unit], circuits: &mut [Vec<usize>], kind: impl Fn(usize) -> Option<usize>) {
    let mut better = true;
    while better {
        better = false;
        for one in 0..circuits.len() {
            for other in one + 1..circuits.len() {
                while swap(units, circuits, (one, other), &kind) {
                    better = true;
                }
            }
        }
    }
}

fn swap(
    units: &[Unit],
    circuits: &mut [Vec<usize>],
    (one, other): (usize, usize),
    kind: &impl Fn(usize) -> Option<usize>,
) -> bool {
    let (Some(first), Some(second)) = (circuits.get(one).cloned(), circuits.get(other).cloned())
    else {
        return false;
    };
    let now = rooms(units, &first) + rooms(units, &second);
    for a in &first {
        for b in &second {
            if kind(*a) != kind(*b) {
                continue;
            }
            let (with, back) = (replaced(&first, *a, *b), replaced(&second, *b, *a));
            if rooms(units, &with) + rooms(units, &back) < now {
                for (index, list) in [(one, with), (other, back)] {
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

fn replaced(list: &[usize], old: usize, new: usize) -> Vec<usize> {
    list.iter()
        .map(|i| if *i == old { new } else { *i })
        .collect()
}

fn rooms(units: &[Unit], circuit: &[usize]) -> usize {
    let rooms: BTreeSet<usize> = circuit
        .iter()
        .filter_map(|index| units.get(*index))
        .flat_map(|unit| unit.rooms.iter().copied())
        .collect();
    rooms.len()
}

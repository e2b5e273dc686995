//! Circuits onto phases: level, with the circuits of a room on one phase unless the project lets
//! rooms be spread.

use crate::quantity::Current;
use std::collections::BTreeSet;
use uom::ConstZero;

/// The phase of each circuit, from 1, given its current and the rooms it serves. With `spread` the
/// circuits of a room may be on several.
pub(super) fn phases(
    circuits: &[(Current, BTreeSet<usize>)],
    phases: usize,
    spread: bool,
) -> Vec<usize> {
    let sum = |part: &[usize]| -> Current {
        let of = |index: &usize| circuits.get(*index).map(|(current, _)| *current);
        part.iter().filter_map(of).sum()
    };
    let mut parts: Vec<Vec<usize>> = if spread {
        (0..circuits.len()).map(|index| vec![index]).collect()
    } else {
        tied(circuits)
    };
    parts.sort_by(|a, b| {
        let larger = sum(b).value.total_cmp(&sum(a).value);
        larger.then_with(|| a.cmp(b))
    });
    let mut loads = vec![Current::ZERO; phases.max(1)];
    let mut chosen = vec![1; circuits.len()];
    for part in parts {
        let least = loads
            .iter_mut()
            .enumerate()
            .min_by(|a, b| a.1.value.total_cmp(&b.1.value));
        let Some((phase, load)) = least else { continue };
        *load += sum(&part);
        for index in part {
            if let Some(entry) = chosen.get_mut(index) {
                *entry = phase + 1;
            }
        }
    }
    chosen
}

/// The phase of each circuit where some have one already: the others go, in order, on the phase of
/// a circuit that shares a room with them, unless `spread`, or else on the one that carries least.
pub(super) fn beside(
    circuits: &[(Current, BTreeSet<usize>)],
    kept: &[Option<usize>],
    phases: usize,
    spread: bool,
) -> Vec<usize> {
    let phases = phases.max(1);
    let mut chosen: Vec<Option<usize>> = kept
        .iter()
        .map(|phase| phase.filter(|phase| (1..=phases).contains(phase)))
        .collect();
    chosen.resize(circuits.len(), None);
    for (index, (_, rooms)) in circuits.iter().enumerate() {
        if chosen.get(index).is_some_and(Option::is_some) {
            continue;
        }
        let others = || circuits.iter().zip(&chosen);
        let load = |phase: &usize| -> f64 {
            let on = others().filter(|(_, known)| **known == Some(*phase));
            on.map(|((current, _), _)| current.value).sum()
        };
        let beside = others()
            .filter(|((_, of), _)| !spread && !of.is_disjoint(rooms))
            .find_map(|(_, known)| *known);
        let least = (1..=phases).min_by(|a, b| load(a).total_cmp(&load(b)));
        let phase = beside.or(least);
        if let Some(entry) = chosen.get_mut(index) {
            *entry = phase;
        }
    }
    chosen.into_iter().map(|phase| phase.unwrap_or(1)).collect()
}

/// Circuits in parts that share no room.
fn tied(circuits: &[(Current, BTreeSet<usize>)]) -> Vec<Vec<usize>> {
    let mut parts: Vec<(BTreeSet<usize>, Vec<usize>)> = Vec::new();
    for (index, (_, rooms)) in circuits.iter().enumerate() {
        let (joined, mut apart): (Vec<_>, Vec<_>) = parts
            .into_iter()
            .partition(|(of, _)| !of.is_disjoint(rooms));
        let mut whole = (rooms.clone(), Vec::new());
        for (of, list) in joined {
            whole.0.extend(of);
            whole.1.extend(list);
        }
        whole.1.push(index);
        apart.push(whole);
        parts = apart;
    }
    parts.into_iter().map(|(_, list)| list).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::electric_current::ampere;

    fn circuit(amperes: f64, rooms: &[usize]) -> (Current, BTreeSet<usize>) {
        (
            Current::new::<ampere>(amperes),
            rooms.iter().copied().collect(),
        )
    }

    #[test]
    fn circuits_are_spread_over_phases() {
        let circuits = [
            circuit(9.0, &[1]),
            circuit(5.0, &[2]),
            circuit(4.0, &[3]),
            circuit(3.0, &[4]),
        ];
        assert_eq!(phases(&circuits, 3, false), [1, 2, 3, 3]);
        assert_eq!(phases(&circuits, 1, false), [1, 1, 1, 1]);
    }

    #[test]
    fn a_room_stays_on_one_phase() {
        let circuits = [
            circuit(3.0, &[1]),
            circuit(3.0, &[1]),
            circuit(4.0, &[2]),
            circuit(4.0, &[3]),
        ];
        let found = phases(&circuits, 3, false);
        assert_eq!(found[0], found[1]);
    }

    // Phases carry 5, 2 and 3 A. The fourth serves the first one's room, though that phase carries
    // most; the fifth serves a room of its own, and phase 2 carries least.
    #[test]
    fn what_is_added_goes_beside_its_room_or_on_the_phase_that_carries_least() {
        let circuits = [
            circuit(5.0, &[1]),
            circuit(2.0, &[2]),
            circuit(3.0, &[3]),
            circuit(1.5, &[1]),
            circuit(1.0, &[9]),
        ];
        let kept = [Some(1), Some(2), Some(3), None, None];
        assert_eq!(beside(&circuits, &kept, 3, false), [1, 2, 3, 1, 2]);
        // Where a room may be spread, the fourth goes on phase 2 (then 3.5 A), the fifth on 3.
        assert_eq!(beside(&circuits, &kept, 3, true), [1, 2, 3, 2, 3]);
        // A phase that there no longer is, is not kept.
        assert_eq!(beside(&circuits[..1], &[Some(3)], 2, false), [1]);
    }

    #[test]
    fn a_room_is_spread_where_that_is_asked() {
        let circuits = [circuit(3.0, &[1]), circuit(3.0, &[1]), circuit(3.0, &[1])];
        assert_eq!(phases(&circuits, 3, false), [1, 1, 1]);
        assert_eq!(phases(&circuits, 3, true), [1, 2, 3]);
    }
}

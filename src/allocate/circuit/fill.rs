//! Drivers onto final circuits: load, inrush and leakage of each kind of driver against what one
//! circuit takes, in whole numbers so that a circuit filled to the brim counts as full, not over.

use crate::allocate::packing::{Bin, Effort, Item, Packing, SIZES, Sizes, pack};

/// A kind of unit on a mains circuit and how many there are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Load {
    /// Input current, in nanoamperes.
    pub current: u128,
    /// Most of this unit alone on the circuit's breaker, by inrush; `None` when it is not known or
    /// is no matter.
    pub most_alone: Option<u64>,
    /// Protective conductor current, in picoamperes.
    pub leakage: u128,
    /// How many there are.
    pub count: usize,
}

/// What one circuit takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Room {
    /// Load, in nanoamperes.
    pub current: u128,
    /// Leakage, in picoamperes; `None` when nothing limits it.
    pub leakage: Option<u128>,
}

/// The fewest circuits that take all `loads`: Σ current and Σ leakage within `room`, and
/// Σ 1/most_alone at most 1, exactly. `None` when a unit fits no circuit.
#[must_use]
pub fn fewest(loads: &[Load], room: &Room, effort: Effort) -> Option<Packing> {
    if loads
        .iter()
        .any(|load| load.count > 0 && load.most_alone == Some(0))
    {
        return None;
    }
    let whole = whole_of_inrush(loads);
    let items: Vec<Item> = loads.iter().map(|load| item(load, whole)).collect();
    let bin = Bin {
        capacity: [room.current, whole, room.leakage.unwrap_or(u128::MAX), 0],
        cost: 1,
    };
    pack(&items, &[bin], effort)
}

/// How full some loads make a circuit, by the fullest of current, inrush and leakage, in
/// millionths; `None` when it is over.
#[must_use]
pub fn fullness(loads: &[Load], room: &Room) -> Option<u128> {
    let scale = Scale::of(loads);
    let taken = loads.iter().fold([0; SIZES], |taken, load| {
        let count = u128::try_from(load.count).unwrap_or(u128::MAX);
        let sizes = scale.sizes(load).map(|size| size.saturating_mul(count));
        sum(&taken, &sizes)
    });
    scale.fullness(&taken, room)
}

/// Two sizes together.
pub(super) fn sum(one: &Sizes, other: &Sizes) -> Sizes {
    let mut both = *one;
    for (both, size) in both.iter_mut().zip(other) {
        *both = both.saturating_add(*size);
    }
    both
}

/// What the inrush of some loads is counted in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    whole: u128,
}

impl Scale {
    /// One in which each of `loads` is a whole number.
    pub(super) fn of(loads: &[Load]) -> Scale {
        Scale {
            whole: whole_of_inrush(loads),
        }
    }

    /// What one of a load takes: current, inrush, leakage.
    pub(super) fn sizes(self, load: &Load) -> Sizes {
        item(load, self.whole).sizes
    }

    /// How full what is taken makes a circuit, in millionths; `None` when it is over.
    pub(super) fn fullness(self, taken: &Sizes, room: &Room) -> Option<u128> {
        const FULL: u128 = 1_000_000;
        let capacity = [Some(room.current), Some(self.whole), room.leakage];
        let mut fullest = 0;
        for (taken, most) in taken.iter().zip(capacity) {
            match most {
                Some(most) if *taken > most => return None,
                Some(most) => fullest = fullest.max(taken.saturating_mul(FULL) / most.max(1)),
                None => {}
            }
        }
        Some(fullest)
    }
}

fn item(load: &Load, whole: u128) -> Item {
    Item {
        sizes: [
            load.current,
            load.most_alone
                .map_or(0, |most| whole.div_ceil(u128::from(most))),
            load.leakage,
            0,
        ],
        count: load.count,
    }
}

/// Past this the common multiple is given up for a fixed number of parts, with each share rounded
/// up: a fill that is exactly full may then count as over, never the other way.
const PARTS: u128 = 1 << 90;

/// The least common multiple of all counts alone, so that every 1/n is a whole number of parts.
fn whole_of_inrush(loads: &[Load]) -> u128 {
    let counts = loads
        .iter()
        .filter_map(|load| load.most_alone)
        .filter(|most| *most > 0);
    let mut multiple: u128 = 1;
    for count in counts.map(u128::from) {
        match multiple.checked_mul(count / gcd(multiple, count)) {
            Some(next) if next < PARTS => multiple = next,
            _ => return PARTS,
        }
    }
    multiple
}

fn gcd(a: u128, b: u128) -> u128 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn load(most_alone: u64, count: usize) -> Load {
        Load {
            current: 1,
            most_alone: Some(most_alone),
            leakage: 0,
            count,
        }
    }

    const ROOM: Room = Room {
        current: 1000,
        leakage: None,
    };

    // 1/2 + 1/3 + 1/6 = 1 exactly: full, not over.
    #[test]
    fn an_exact_sum_of_shares_fills_one_circuit() {
        let loads = [load(2, 1), load(3, 1), load(6, 1)];
        assert_eq!(fewest(&loads, &ROOM, Effort::default()).unwrap().cost, 1);
        let over = [load(2, 1), load(3, 1), load(5, 1)];
        assert_eq!(fewest(&over, &ROOM, Effort::default()).unwrap().cost, 2);
    }

    #[test]
    fn a_unit_that_trips_the_breaker_alone_fits_none() {
        assert_eq!(fewest(&[load(0, 1)], &ROOM, Effort::default()), None);
    }

    #[test]
    fn counts_without_a_small_common_multiple_stay_on_the_safe_side() {
        let primes = [
            1_000_003, 1_000_033, 1_000_037, 1_000_039, 1_000_081, 1_000_099, 1_000_117,
        ];
        let loads: Vec<Load> = primes.iter().map(|most| load(*most, 1)).collect();
        assert_eq!(fewest(&loads, &ROOM, Effort::default()).unwrap().cost, 1);
        assert_eq!(whole_of_inrush(&loads), PARTS);
    }
}

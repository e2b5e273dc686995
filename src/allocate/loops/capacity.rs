//! What one loop takes: short addresses and current, less the spare, and groups.

use super::unit::Unit;
use crate::allocate::allocated::MemberKind;
use crate::allocate::packing::{SIZES, Sizes};
use crate::norms::iec_62386;
use crate::quantity::number::real;
use crate::quantity::{Current, Ratio};
use num_traits::ToPrimitive;
use std::collections::BTreeSet;
use uom::si::electric_current::nanoampere;
use uom::si::ratio::ratio;

/// Rounding in the arithmetic must not cost an address: 64 × (1 − 0.25) is 48.
const ROUNDING: f64 = 1e-9;

/// What one loop takes: gear addresses, control device addresses, nanoamperes, groups.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Capacity(pub Sizes);

impl Capacity {
    /// The capacity of a loop whose supply always delivers `guaranteed`, with `spare` kept free of
    /// addresses and current. A group takes nothing that a later one would need room in, so all
    /// groups are there to be used.
    pub(super) fn new(guaranteed: Current, spare: Ratio) -> Self {
        let kept = (1.0 - spare.get::<ratio>()).clamp(0.0, 1.0);
        let addresses = |most: usize| rounded_down(real(most) * kept);
        Capacity([
            addresses(iec_62386::GEAR),
            addresses(iec_62386::CONTROL_DEVICES),
            rounded_down(guaranteed.get::<nanoampere>() * kept),
            iec_62386::GROUPS.to_u128().unwrap_or(0),
        ])
    }

    /// The same with so many groups fewer; `None` when none would be left.
    pub(super) fn with_groups_less(&self, fewer: usize) -> Option<Self> {
        let [gear, devices, current, groups] = self.0;
        let left = groups
            .checked_sub(fewer.to_u128()?)
            .filter(|left| *left > 0)?;
        Some(Capacity([gear, devices, current, left]))
    }

    /// Whether one loop takes `sizes`.
    pub(super) fn takes(&self, sizes: &Sizes) -> bool {
        sizes.iter().zip(&self.0).all(|(size, most)| size <= most)
    }

    /// By how much `sizes` are over, as a sum of shares in millionths.
    pub(super) fn excess(&self, sizes: &Sizes) -> u128 {
        sizes
            .iter()
            .zip(&self.0)
            .map(|(size, most)| {
                size.saturating_sub(*most).saturating_mul(1_000_000) / (*most).max(1)
            })
            .sum()
    }

    /// How full `sizes` make a loop, by the fullest of its sizes, in millionths.
    pub(super) fn share(&self, sizes: &Sizes) -> u128 {
        sizes
            .iter()
            .zip(&self.0)
            .map(|(size, most)| size.saturating_mul(1_000_000) / (*most).max(1))
            .max()
            .unwrap_or(0)
    }

    /// What some units take together: a group is one, with however many of them.
    pub(super) fn sizes<'a>(&self, units: impl Iterator<Item = &'a Unit>) -> Sizes {
        let mut sum = [0; SIZES];
        let mut groups = BTreeSet::new();
        for unit in units {
            groups.extend(unit.group);
            sum = added(&sum, &of(unit));
        }
        let [gear, devices, current, _] = sum;
        [
            gear,
            devices,
            current,
            groups.len().to_u128().unwrap_or(u128::MAX),
        ]
    }
}

/// What a unit takes beside its group.
fn of(unit: &Unit) -> Sizes {
    let addresses = unit.addresses.to_u128().unwrap_or(u128::MAX);
    let current = unit.current.get::<nanoampere>().round().to_u128();
    let current = current.unwrap_or(u128::MAX >> 32);
    match unit.kind {
        MemberKind::Gear => [addresses, 0, current, 0],
        MemberKind::ControlDevice => [0, addresses, current, 0],
    }
}

/// Two sizes together, of units that share no group.
pub(super) fn added(one: &Sizes, other: &Sizes) -> Sizes {
    let mut sum = *one;
    for (sum, size) in sum.iter_mut().zip(other) {
        *sum = sum.saturating_add(*size);
    }
    sum
}

fn rounded_down(value: f64) -> u128 {
    (value * (1.0 + ROUNDING) + ROUNDING)
        .floor()
        .to_u128()
        .unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::electric_current::milliampere;
    use uom::si::ratio::percent;

    #[test]
    fn spare_is_rounded_down_once() {
        let capacity = |spare: f64| {
            let guaranteed = Current::new::<milliampere>(240.0);
            Capacity::new(guaranteed, Ratio::new::<percent>(spare)).0
        };
        // 64 × 0.85 = 54.4; 240 mA × 0.85 = 204 mA.
        assert_eq!(capacity(15.0), [54, 54, 204_000_000, 16]);
        assert_eq!(capacity(25.0), [48, 48, 180_000_000, 16]);
        assert_eq!(capacity(0.0), [64, 64, 240_000_000, 16]);
    }

    // Of 54 gear, 54 devices, 204 mA and 16 groups: 81 gear are half over, 306 mA as well.
    #[test]
    fn each_size_counts_as_a_share_of_what_a_loop_takes_of_it() {
        let guaranteed = Current::new::<milliampere>(240.0);
        let capacity = Capacity::new(guaranteed, Ratio::new::<percent>(15.0));
        let half_over = [81, 0, 306_000_000, 16];
        assert_eq!(capacity.excess(&half_over), 1_000_000);
        assert_eq!(capacity.share(&half_over), 1_500_000);
        assert!(!capacity.takes(&half_over));
        let full = [54, 54, 204_000_000, 16];
        assert_eq!(
            (capacity.excess(&full), capacity.share(&full)),
            (0, 1_000_000)
        );
        assert!(capacity.takes(&full));
        assert_eq!(capacity.share(&[27, 0, 51_000_000, 1]), 500_000);
    }
}

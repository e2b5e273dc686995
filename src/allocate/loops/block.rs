//! Units that should stay on one loop: rooms when asked, groups always; and what to do with those
//! that are too large for any loop.

use super::capacity::Capacity;
use super::unit::Unit;
use crate::allocate::packing::Sizes;
use std::collections::BTreeMap;

/// Units that stay together, by index.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Block {
    /// The units, rising.
    pub units: Vec<usize>,
    /// What they take together.
    pub sizes: Sizes,
}

/// The ties between units, from those given up last to those given up first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ties {
    RoomsAndGroups,
    Rooms,
    GroupsWithinRooms,
    None,
}

/// The blocks of `units`, in the order of their first units. A block that no loop takes is split:
/// its groups first, then its rooms.
pub(super) fn blocks(units: &[Unit], rooms_whole: bool, capacity: &Capacity) -> Vec<Block> {
    let all: Vec<usize> = (0..units.len()).collect();
    blocks_among(units, &all, rooms_whole, capacity)
}

/// The blocks of some of `units`.
pub(super) fn blocks_among(
    units: &[Unit],
    among: &[usize],
    rooms_whole: bool,
    capacity: &Capacity,
) -> Vec<Block> {
    let mut done: Vec<Block> = Vec::new();
    split(
        units,
        among,
        Ties::RoomsAndGroups,
        rooms_whole,
        capacity,
        &mut done,
    );
    done.sort_by(|a, b| a.units.cmp(&b.units));
    done
}

fn split(
    units: &[Unit],
    among: &[usize],
    ties: Ties,
    rooms_whole: bool,
    capacity: &Capacity,
    done: &mut Vec<Block>,
) {
    for together in tied(units, among, ties, rooms_whole) {
        let sizes = capacity.sizes(together.iter().filter_map(|index| units.get(*index)));
        let next = match ties {
            Ties::RoomsAndGroups => Some(Ties::Rooms),
            Ties::Rooms => Some(Ties::GroupsWithinRooms),
            Ties::GroupsWithinRooms => Some(Ties::None),
            Ties::None => None,
        };
        match next {
            Some(next) if !capacity.takes(&sizes) && together.len() > 1 => {
                split(units, &together, next, rooms_whole, capacity, done);
            }
            _ => done.push(Block {
                units: together,
                sizes,
            }),
        }
    }
}

/// `among` in the parts that `ties` keep together.
fn tied(units: &[Unit], among: &[usize], ties: Ties, rooms_whole: bool) -> Vec<Vec<usize>> {
    let mut parts = Parts::new(among.len());
    let mut first: BTreeMap<(u8, usize, usize), usize> = BTreeMap::new();
    for (position, unit) in among.iter().enumerate() {
        let Some(unit) = units.get(*unit) else {
            continue;
        };
        for key in keys(unit, ties, rooms_whole) {
            let other = *first.entry(key).or_insert(position);
            parts.join(other, position);
        }
    }
    let mut lists: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (position, unit) in among.iter().enumerate() {
        lists.entry(parts.head(position)).or_default().push(*unit);
    }
    lists.into_values().collect()
}

/// What a unit has in common with those it is tied to.
fn keys(unit: &Unit, ties: Ties, rooms_whole: bool) -> Vec<(u8, usize, usize)> {
    const ROOM: u8 = 0;
    const GROUP: u8 = 1;
    let rooms = unit.rooms.iter().map(|room| (ROOM, room.index, 0));
    let group = unit.group.map(|group| (GROUP, group, 0));
    match ties {
        Ties::RoomsAndGroups if rooms_whole => rooms.chain(group).collect(),
        Ties::RoomsAndGroups => group.into_iter().collect(),
        Ties::Rooms if rooms_whole => rooms.collect(),
        Ties::Rooms | Ties::GroupsWithinRooms => {
            let room = unit.rooms.first().map_or(0, |room| room.index);
            group
                .map(|(kind, group, _)| (kind, group, room + 1))
                .into_iter()
                .collect()
        }
        Ties::None => Vec::new(),
    }
}

/// Disjoint parts of a list.
struct Parts {
    above: Vec<usize>,
}

impl Parts {
    fn new(length: usize) -> Self {
        Parts {
            above: (0..length).collect(),
        }
    }

    fn head(&self, mut position: usize) -> usize {
        while let Some(above) = self.above.get(position).filter(|above| **above != position) {
            position = *above;
        }
        position
    }

    /// Joins two parts under the earlier head.
    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.head(one), self.head(other));
        if let Some(above) = self.above.get_mut(one.max(other)) {
            *above = one.min(other);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::unit::made::{point, unit};
    use super::*;
    use crate::allocate::allocated::MemberKind;
    use crate::quantity::{Current, Ratio};
    use uom::si::electric_current::ampere;
    use uom::si::ratio::percent;

    /// A loop for so many addresses of gear.
    fn room_for(gear: f64) -> Capacity {
        let spare = Ratio::new::<percent>(100.0 - 100.0 * gear / 64.0);
        Capacity::new(Current::new::<ampere>(0.25), spare)
    }

    /// Units of gear in their rooms and groups.
    fn units(each: &[(&[usize], usize)]) -> Vec<Unit> {
        let in_place = |(rooms, group): &(&[usize], usize)| Unit {
            rooms: rooms.iter().map(|room| point(*room)).collect(),
            group: Some(*group),
            ..unit(&point(9), MemberKind::Gear, 1)
        };
        each.iter().map(in_place).collect()
    }

    fn found(units: &[Unit], rooms_whole: bool, gear: f64) -> Vec<Vec<usize>> {
        let blocks = blocks(units, rooms_whole, &room_for(gear));
        blocks.into_iter().map(|block| block.units).collect()
    }

    #[test]
    fn rooms_and_groups_tie_as_far_as_a_loop_takes_them() {
        // Two rooms; a group of the first reaches into the second.
        let units = units(&[(&[0], 0), (&[0], 1), (&[1], 1), (&[1], 2), (&[2], 3)]);
        assert_eq!(found(&units, true, 4.0), [vec![0, 1, 2, 3], vec![4]]);
        assert_eq!(
            found(&units, false, 4.0),
            [vec![0], vec![1, 2], vec![3], vec![4]]
        );
        // Too many for a loop: rooms first, groups then only within them.
        assert_eq!(found(&units, true, 3.0), [vec![0, 1], vec![2, 3], vec![4]]);
        let alone = [vec![0], vec![1], vec![2], vec![3], vec![4]];
        assert_eq!(found(&units, true, 1.0), alone);
        assert_eq!(found(&units, false, 1.0), alone);
    }

    #[test]
    fn a_room_too_large_for_a_loop_is_split_by_its_groups() {
        let units = units(&[(&[0], 0), (&[0], 1), (&[0], 0), (&[0], 1), (&[1], 0)]);
        assert_eq!(found(&units, true, 5.0), [vec![0, 1, 2, 3, 4]]);
        // The first room by itself has four; each of its groups two. The group's unit in the other
        // room goes by itself.
        assert_eq!(found(&units, true, 4.0), [vec![0, 1, 2, 3], vec![4]]);
        assert_eq!(found(&units, true, 2.0), [vec![0, 2], vec![1, 3], vec![4]]);
    }

    #[test]
    fn a_unit_that_serves_two_rooms_ties_them() {
        let units = units(&[(&[0], 0), (&[0, 1], 1), (&[1], 2), (&[2], 3)]);
        assert_eq!(found(&units, true, 4.0), [vec![0, 1, 2], vec![3]]);
        let some = blocks_among(&units, &[0, 2, 3], true, &room_for(4.0));
        let some: Vec<_> = some.into_iter().map(|block| block.units).collect();
        assert_eq!(some, [vec![0], vec![2], vec![3]]);
    }
}

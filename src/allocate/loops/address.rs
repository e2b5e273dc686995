//! Short addresses, groups and scenes of a loop, numbered in the order of the documents; what was
//! issued keeps its numbers.

use super::unit::Unit;
use crate::allocate::allocated::{LoopGroup, Member, MemberKind};
use crate::model::issued::{IssuedLoop, IssuedMember, IssuedNumber};
use crate::model::project::Project;
use crate::model::scene::Group;
use crate::norms::iec_62386;
use crate::quantity::Voltage;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Members of a loop from its units and the drop at each: gear by address, then control devices.
/// What was issued on the loop keeps its addresses.
pub(super) fn members(
    units: &[&Unit],
    drops: &[Voltage],
    groups: &[LoopGroup],
    project: &Project,
    issued: Option<&IssuedLoop>,
) -> Vec<Member> {
    let addresses = addresses(units, issued);
    let mut members: Vec<Member> = units
        .iter()
        .zip(drops)
        .zip(addresses)
        .map(|((unit, drop), addresses)| {
            member(unit, addresses, *drop, group_numbers(unit, groups, project))
        })
        .collect();
    members.sort_by_key(|member| {
        let first = member.addresses.first().copied();
        (member.kind, first.is_none(), first)
    });
    members
}

/// The addresses of each unit; none at all for one that finds too few left.
fn addresses(units: &[&Unit], issued: Option<&IssuedLoop>) -> Vec<Vec<usize>> {
    let mut used: BTreeSet<(MemberKind, usize)> = BTreeSet::new();
    let known: BTreeMap<(MemberKind, &str), &IssuedMember> = issued
        .iter()
        .flat_map(|on| &on.members)
        .map(|member| {
            let kind = match member.control_device {
                true => MemberKind::ControlDevice,
                false => MemberKind::Gear,
            };
            ((kind, member.device.as_str()), member)
        })
        .collect();
    let mut given: Vec<Vec<usize>> = units
        .iter()
        .map(|unit| {
            let member = known.get(&(unit.kind, unit.name.as_str()));
            let list = member.map_or(&[][..], |member| &member.addresses);
            let fits = |address: &usize| {
                *address < most(unit.kind) && !used.contains(&(unit.kind, *address))
            };
            if list.len() != unit.addresses || !list.iter().all(fits) {
                return Vec::new();
            }
            used.extend(list.iter().map(|address| (unit.kind, *address)));
            list.to_vec()
        })
        .collect();
    for (unit, list) in units.iter().zip(&mut given) {
        if list.is_empty() {
            *list = free(unit, &used);
            used.extend(list.iter().map(|address| (unit.kind, *address)));
        }
    }
    given
}

fn most(kind: MemberKind) -> usize {
    match kind {
        MemberKind::Gear => iec_62386::GEAR,
        MemberKind::ControlDevice => iec_62386::CONTROL_DEVICES,
    }
}

/// The lowest addresses that are free: side by side where there are such.
fn free(unit: &Unit, used: &BTreeSet<(MemberKind, usize)>) -> Vec<usize> {
    let left: Vec<usize> = (0..most(unit.kind))
        .filter(|address| !used.contains(&(unit.kind, *address)))
        .collect();
    let beside = |list: &&[usize]| {
        list.windows(2)
            .all(|pair| matches!(pair, [a, b] if a + 1 == *b))
    };
    let together = left.windows(unit.addresses.max(1)).find(beside);
    let any = left.get(..unit.addresses);
    together.or(any).map(<[usize]>::to_vec).unwrap_or_default()
}

fn member(unit: &Unit, addresses: Vec<usize>, drop: Voltage, groups: Vec<usize>) -> Member {
    let room = unit.rooms.first().unwrap_or(&unit.at);
    Member {
        device: unit.name.clone(),
        kind: unit.kind,
        item: unit.item.clone(),
        addresses,
        current: unit.current,
        current_assumed: unit.current_assumed,
        room: Arc::clone(room),
        at: Arc::clone(&unit.at),
        groups,
        drop,
    }
}

fn group_numbers(unit: &Unit, groups: &[LoopGroup], project: &Project) -> Vec<usize> {
    let name = unit.group.and_then(|index| project.groups.get(index));
    groups
        .iter()
        .filter(|group| name.is_some_and(|name| name.name == group.group))
        .map(|group| group.number)
        .filter(|number| *number < iec_62386::GROUPS)
        .collect()
}

/// The groups of a loop by number: those that were issued keep theirs, others take the lowest that
/// are free, in project order. Those past the last number that the bus has are listed with the
/// numbers they would need, and no member is given them.
pub(super) fn groups(
    units: &[&Unit],
    project: &Project,
    issued: Option<&IssuedLoop>,
) -> Vec<LoopGroup> {
    let used: BTreeSet<usize> = units.iter().filter_map(|unit| unit.group).collect();
    let groups: Vec<&Arc<Group>> = used
        .iter()
        .filter_map(|index| project.groups.get(*index))
        .collect();
    let names: Vec<&str> = groups.iter().map(|group| group.name.as_str()).collect();
    let known = issued.map_or(&[][..], |on| &on.groups);
    let mut numbered: Vec<LoopGroup> = groups
        .iter()
        .zip(numbers(&names, known))
        .map(|(group, number)| LoopGroup {
            number,
            group: group.name.clone(),
            title: group.title.clone(),
        })
        .collect();
    numbered.sort_by_key(|group| group.number);
    numbered
}

/// The number of each name: as it was issued, or the lowest that is free.
fn numbers(names: &[&str], issued: &[IssuedNumber]) -> Vec<usize> {
    let known = |name: &str| issued.iter().find(|one| one.name == name);
    let kept: Vec<Option<usize>> = names
        .iter()
        .map(|name| known(name).map(|one| one.number))
        .collect();
    let mut used: BTreeSet<usize> = kept.iter().flatten().copied().collect();
    kept.into_iter()
        .map(|kept| {
            kept.unwrap_or_else(|| {
                let lowest = (0..).find(|number| !used.contains(number)).unwrap_or(0);
                used.insert(lowest);
                lowest
            })
        })
        .collect()
}

/// The scenes of a loop; the position is the number, and an empty name is a number that nothing
/// has. While the bus has numbers for all of the project's, every loop has all of them, so that a
/// scene has the same number everywhere; past that, a loop has those that set one of its groups.
/// Those that were issued keep their numbers.
pub(super) fn scenes(
    groups: &[LoopGroup],
    project: &Project,
    issued: Option<&IssuedLoop>,
) -> Vec<String> {
    let few = project.scenes.len() <= iec_62386::SCENES;
    let here = project.scenes.iter().filter(|scene| {
        few || scene
            .settings
            .iter()
            .any(|setting| groups.iter().any(|g| g.group == setting.group.name))
    });
    let names: Vec<&str> = here.map(|scene| scene.name.as_str()).collect();
    let known = project.issued.held().map_or(&[][..], |record| {
        // A loop that is new follows the numbers of the others.
        let on = issued.or(record.loops.first());
        on.map_or(&[][..], |on| &on.scenes)
    });
    let mut scenes: Vec<String> = Vec::new();
    for (name, number) in names.iter().zip(numbers(&names, known)) {
        scenes.resize(scenes.len().max(number + 1), String::new());
        if let Some(entry) = scenes.get_mut(number) {
            (*name).clone_into(entry);
        }
    }
    scenes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::allocate::loops::unit::made::{point, unit};

    fn gear(addresses: usize, used: impl IntoIterator<Item = usize>) -> Vec<usize> {
        let used = used.into_iter().map(|address| (MemberKind::Gear, address));
        free(
            &unit(&point(0), MemberKind::Gear, addresses),
            &used.collect(),
        )
    }

    #[test]
    fn addresses_of_one_unit_stand_side_by_side_where_there_are_such() {
        assert_eq!(gear(2, [1, 4]), [2, 3]);
        assert_eq!(gear(1, [1, 4]), [0]);
        assert_eq!(gear(3, [1, 4]), [5, 6, 7]);
        // Every other one is taken: none are side by side.
        assert_eq!(gear(2, (0..64).step_by(2)), [1, 3]);
    }

    // IEC 62386-102 and -103: 64 of gear, and 64 of control devices that are counted apart.
    #[test]
    fn a_full_bus_has_none_left_and_control_devices_are_counted_apart() {
        assert_eq!(gear(1, 0..63), [63]);
        assert!(gear(1, 0..64).is_empty());
        assert!(gear(2, 0..63).is_empty());
        let used = (0..64).map(|address| (MemberKind::Gear, address)).collect();
        assert_eq!(
            free(&unit(&point(0), MemberKind::ControlDevice, 1), &used),
            [0]
        );
    }

    #[test]
    fn names_keep_their_numbers_and_new_ones_get_the_lowest_that_are_free() {
        let issued = [("hall", 1), ("stair", 4)].map(|(name, number)| IssuedNumber {
            name: name.to_owned(),
            number,
        });
        assert_eq!(
            numbers(&["foyer", "hall", "stacks", "archive"], &issued),
            [0, 1, 2, 3]
        );
        assert_eq!(numbers(&["stair", "foyer"], &issued), [4, 0]);
    }
}

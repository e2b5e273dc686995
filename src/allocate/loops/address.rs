//! Short addresses, groups and scenes of a loop, numbered in the order of the documents.

use super::unit::Unit;
use crate::allocate::allocated::{LoopGroup, Member, MemberKind};
use crate::model::project::Project;
use crate::norms::iec_62386;
use crate::quantity::Voltage;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Members of a loop from its units and the drop at each: gear by address, then control devices.
pub(super) fn members(
    units: &[&Unit],
    drops: &[Voltage],
    groups: &[LoopGroup],
    project: &Project,
) -> Vec<Member> {
    let (mut gear, mut devices) = (0, 0);
    let mut members: Vec<Member> = units
        .iter()
        .zip(drops)
        .map(|(unit, drop)| {
            let addresses = match unit.kind {
                MemberKind::Gear => taken(&mut gear, unit.addresses, iec_62386::GEAR),
                MemberKind::ControlDevice => {
                    taken(&mut devices, unit.addresses, iec_62386::CONTROL_DEVICES)
                }
            };
            member(unit, addresses, *drop, group_numbers(unit, groups, project))
        })
        .collect();
    members.sort_by_key(|member| member.kind);
    members
}

/// The next `count` addresses below `most`; none at all when they are not all left.
fn taken(next: &mut usize, count: usize, most: usize) -> Vec<usize> {
    let end = next.saturating_add(count);
    if end > most {
        return Vec::new();
    }
    let addresses = (*next..end).collect();
    *next = end;
    addresses
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

/// The groups of a loop in project order. Those past the last number that the bus has are listed
/// with the numbers they would need, and no member is given them.
pub(super) fn groups(units: &[&Unit], project: &Project) -> Vec<LoopGroup> {
    let used: BTreeSet<usize> = units.iter().filter_map(|unit| unit.group).collect();
    used.iter()
        .filter_map(|index| project.groups.get(*index))
        .enumerate()
        .map(|(number, group)| LoopGroup {
            number,
            group: group.name.clone(),
            title: group.title.clone(),
        })
        .collect()
}

/// The scenes of a loop. While the bus has numbers for all of the project's, every loop has all of
/// them, so that a scene has the same number everywhere; past that, a loop has those that set one
/// of its groups.
pub(super) fn scenes(groups: &[LoopGroup], project: &Project) -> Vec<String> {
    let few = project.scenes.len() <= iec_62386::SCENES;
    project
        .scenes
        .iter()
        .filter(|scene| {
            few || scene
                .settings
                .iter()
                .any(|setting| groups.iter().any(|g| g.group == setting.group.name))
        })
        .map(|scene| scene.name.clone())
        .collect()
}

//! What the reader must be told of the loops.

use super::bus_cable::resistance_known;
use super::count::Fewest;
use crate::allocate::allocated::Loop;
use crate::model::cable::Cable;
use crate::model::project::Project;
use crate::norms::iec_62386;
use crate::quantity::Length;
use crate::quantity::number::real;
use std::collections::BTreeMap;
use std::sync::Arc;
use uom::si::length::meter;

/// Notes on loops as they are laid out.
pub(super) fn of(project: &Project, loops: &[Loop]) -> Vec<String> {
    let mut notes = split_groups(project, loops);
    if project.loops.keep_rooms_whole {
        notes.extend(split_rooms(loops));
    }
    for one in loops {
        notes.extend(of_loop(project, one));
    }
    notes
}

fn split_groups(project: &Project, loops: &[Loop]) -> Vec<String> {
    let mut on: BTreeMap<usize, Vec<&str>> = BTreeMap::new();
    for one in loops {
        for group in &one.groups {
            let index = project.groups.iter().position(|g| g.name == group.group);
            on.entry(index.unwrap_or(usize::MAX))
                .or_default()
                .push(&one.name);
        }
    }
    on.into_iter()
        .filter(|(_, loops)| loops.len() > 1)
        .filter_map(|(index, loops)| {
            let group = project.groups.get(index)?;
            Some(format!(
                "group `{}` is on loops {}: only a controller that joins them dims it as one",
                group.name,
                loops.join(" and ")
            ))
        })
        .collect()
}

fn split_rooms(loops: &[Loop]) -> Vec<String> {
    let mut on: BTreeMap<usize, (String, Vec<&str>)> = BTreeMap::new();
    for one in loops {
        for member in &one.members {
            let entry = on.entry(member.room.index);
            let (_, names) = entry.or_insert_with(|| (member.room.name.clone(), Vec::new()));
            if names.last() != Some(&one.name.as_str()) {
                names.push(&one.name);
            }
        }
    }
    on.into_values()
        .filter(|(_, loops)| loops.len() > 1)
        .map(|(room, loops)| {
            format!(
                "room `{room}` is on loops {}: it takes more than one loop has",
                loops.join(" and ")
            )
        })
        .collect()
}

fn of_loop(project: &Project, one: &Loop) -> Vec<String> {
    let mut notes = Vec::new();
    let name = &one.name;
    let group_count = one.groups.len();
    if group_count > iec_62386::GROUPS {
        notes.push(format!(
            "loop {name} has {group_count} groups, {} have a number: put runs in fewer groups or on more loops",
            iec_62386::GROUPS
        ));
    }
    if one.cable.is_none() {
        notes.push(format!(
            "loop {name} has no bus cable to choose from: its drops are not known; a cable with `use: bus` in the catalogue would tell"
        ));
    }
    let unknown = |cable: &&Arc<Cable>| !resistance_known(cable, project.loops.temperature);
    if let Some(cable) = one.cable.as_ref().filter(unknown) {
        notes.push(format!(
            "loop {name}: no table has the resistance of cable `{}`: its drops are not known; a size of IEC 60228 or in AWG would tell",
            cable.offer.id
        ));
    }
    if one.controller_item.is_none() {
        notes.push(format!(
            "loop {name} has no controller: none is in the catalogue"
        ));
    }
    let without: Vec<&str> = one
        .members
        .iter()
        .filter(|member| member.addresses.is_empty())
        .map(|member| member.device.as_str())
        .collect();
    if !without.is_empty() {
        notes.push(format!(
            "loop {name} has no address left for {}",
            without.join(", ")
        ));
    }
    notes
}

/// Notes on the number of loops.
pub(super) fn of_count(more: usize, fewest: &Fewest, fixed: Option<usize>) -> Vec<String> {
    let least = fewest.loops.len();
    let mut notes = Vec::new();
    if let Some(count) = fixed.filter(|count| *count < least) {
        notes.push(format!(
            "{count} loops were asked for; addresses, current and groups take {least} with the spare that is set"
        ));
    }
    if more > 0 {
        notes.push(format!(
            "{} loops instead of {least}: drop, distance or scenes of the bus ask for more",
            least + more
        ));
    }
    if !fewest.proved {
        let bound = fewest.bound;
        notes.push(format!(
            "fewer loops than {least} are not proved impossible: fewer than {bound} are, a gap of {:.1} %",
            gap(real(least), real(bound))
        ));
    }
    notes
}

/// How far the cable may be from the least that there is.
pub(super) fn of_cable(loops: &[Loop], least: Length) -> Option<String> {
    let all: Length = loops.iter().map(|on| on.cable_length).sum();
    let (all, least) = (all.get::<meter>(), least.get::<meter>());
    let gap = gap(all, least);
    match loops.len() {
        0 => None,
        _ if gap < 0.05 => Some(format!("the {all:.2} m of bus cable are proved the least")),
        _ => Some(format!(
            "the {all:.2} m of bus cable are not proved the least: less than {least:.2} m is \
             impossible, a gap of {gap:.1} %"
        )),
    }
}

/// By how much a figure may be above the least, in percent of itself.
fn gap(found: f64, bound: f64) -> f64 {
    if found > 0.0 {
        100.0 * (found - bound).max(0.0) / found
    } else {
        0.0
    }
}

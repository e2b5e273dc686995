//! The address list: every short address of every loop with what has it, and which are free.

use super::{Cell, Column, Part, Table};
use crate::allocate::allocated::{Loop, Member, MemberKind};
use crate::present::job::Job;
use std::collections::BTreeMap;

/// Short addresses of each kind on a loop, IEC 62386-102 and -103.
const ADDRESSES: usize = 64;

/// The parts of the address list.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    vec![list(job), counts(job)]
}

fn list(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("loop", "Loop").data_only(),
        Column::text("kind", "Kind").data_only(),
        Column::number("address", "Address"),
        Column::text("device", "Device"),
        Column::text("item", "Item").when_wide(),
        Column::text("place", "Stands at"),
        Column::text("room", "Room"),
        Column::text("groups", "Groups"),
        Column::text("circuit", "Circuit"),
        Column::text("found", "Found address").paper_only(),
        Column::text("done", "Done").paper_only(),
    ]);
    for on in &job.allocation.loops {
        for kind in [MemberKind::Gear, MemberKind::ControlDevice] {
            let rows = by_address(on, kind);
            if rows.is_empty() {
                continue;
            }
            table.group(format!("Loop {}: {}", on.name, heading(kind)));
            for (address, member) in rows {
                table.row(row(job, on, address, member));
            }
        }
    }
    let mut part = Part::table("address-list", "Addresses by loop", table);
    part.notes = free(job);
    part
}

fn heading(kind: MemberKind) -> &'static str {
    match kind {
        MemberKind::Gear => "gear",
        MemberKind::ControlDevice => "control devices, in their own addresses",
    }
}

fn by_address(on: &Loop, kind: MemberKind) -> BTreeMap<usize, &Member> {
    on.members
        .iter()
        .filter(|member| member.kind == kind)
        .flat_map(|member| {
            member
                .addresses
                .iter()
                .map(move |address| (*address, member))
        })
        .collect()
}

fn row(job: &Job, on: &Loop, address: usize, member: &Member) -> Vec<Cell> {
    let kind = match member.kind {
        MemberKind::Gear => "gear",
        MemberKind::ControlDevice => "device",
    };
    let circuit = job.allocation.circuit_of(&member.device);
    vec![
        Cell::text(&on.name),
        Cell::text(kind),
        Cell::count(address),
        Cell::text(&member.device),
        Cell::text(&member.item),
        Cell::text(&member.at.title),
        Cell::text(&member.room.title),
        Cell::names(member.groups.iter().map(ToString::to_string)),
        circuit.map_or(Cell::Empty, |circuit| Cell::text(&circuit.name)),
        Cell::Blank,
        Cell::Blank,
    ]
}

/// The addresses of each loop that nothing has.
fn free(job: &Job) -> Vec<String> {
    let of = |on: &Loop, kind| {
        let used = by_address(on, kind);
        ranges((0..ADDRESSES).filter(|address| !used.contains_key(address)))
    };
    let loops = job.allocation.loops.iter();
    loops
        .map(|on| {
            format!(
                "Loop {}: free for gear {}; for control devices {}.",
                on.name,
                of(on, MemberKind::Gear),
                of(on, MemberKind::ControlDevice)
            )
        })
        .collect()
}

/// `7–63`, `4, 9–63`; `none`.
fn ranges(numbers: impl Iterator<Item = usize>) -> String {
    let mut spans: Vec<(usize, usize)> = Vec::new();
    for number in numbers {
        match spans.last_mut() {
            Some((_, end)) if *end + 1 == number => *end = number,
            _ => spans.push((number, number)),
        }
    }
    let shown = spans.iter().map(|(start, end)| match start == end {
        true => start.to_string(),
        false => format!("{start}–{end}"),
    });
    let all = shown.collect::<Vec<String>>();
    match all.is_empty() {
        true => "none".to_owned(),
        false => all.join(", "),
    }
}

/// How many units hear a command that goes to all of a loop, and one that goes to a group.
fn counts(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("loop", "Loop"),
        Column::text("sent_to", "Sent to"),
        Column::text("group", "Group"),
        Column::number("gear", "Drivers that act"),
        Column::number("addresses", "Their addresses"),
    ]);
    for on in &job.allocation.loops {
        let gear = || on.members.iter().filter(|m| m.kind == MemberKind::Gear);
        let mut push = |to: String, group: &str, members: Vec<&Member>| {
            let addresses = members.iter().map(|member| member.addresses.len()).sum();
            table.row(vec![
                Cell::text(&on.name),
                Cell::text(to),
                Cell::text(group),
                Cell::count(members.len()),
                Cell::count(addresses),
            ]);
        };
        push("all of the loop".to_owned(), "", gear().collect());
        for group in &on.groups {
            let members = gear().filter(|member| member.groups.contains(&group.number));
            push(
                format!("group {}", group.number),
                &group.title,
                members.collect(),
            );
        }
    }
    Part::table("command-counts", "Who acts on a command", table)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn free_addresses_are_told_in_ranges() {
        assert_eq!(ranges([0, 1, 2, 5, 7, 8].into_iter()), "0–2, 5, 7–8");
        assert_eq!(ranges(std::iter::empty()), "none");
    }
}

//! The commissioning sheet: what is planned for every address beside what is found there.

use super::{Cell, Column, Part, Table, drivers};
use crate::allocate::allocated::{Loop, Member, MemberKind};
use crate::choose::sized::SizedDriver;
use crate::model::scene::Scene;
use crate::present::job::Job;
use crate::solve::dimming;
use std::collections::BTreeMap;

/// What is done on each loop, in order.
const STEPS: [&str; 7] = [
    "The bus tests of the test sheet have passed, and every unit on the loop has power.",
    "Give every unit its address. After one unit is replaced, address that one alone: addressing \
     all again moves the others.",
    "Call each address, find the unit that answers, and write its address under found. Where it \
     differs from the one planned, move it, or change the plan and print the sheets again.",
    "Set the groups of each address and call each group: every unit of it answers, and no other.",
    "Store the scenes with the values of the group and scene schedule, and call each.",
    "Set least and most level, the level at power-on and the level when the bus fails, as agreed \
     with the owner.",
    "Read all of it back from each address and keep the file with this sheet.",
];

/// The parts of the commissioning sheet.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut parts = vec![steps()];
    let drivers: BTreeMap<&str, &SizedDriver> = job
        .sizing
        .drivers
        .iter()
        .map(|driver| (driver.number.as_str(), driver))
        .collect();
    for on in &job.allocation.loops {
        parts.push(units(job, on, &drivers));
    }
    parts
}

fn steps() -> Part {
    let mut table = Table::new(vec![
        Column::number("step", "Step"),
        Column::long_text("work", "On each loop"),
    ]);
    for (number, step) in (1..).zip(STEPS) {
        table.row(vec![Cell::count(number), Cell::text(step)]);
    }
    Part::table("commissioning-steps", "", table)
}

fn units(job: &Job, on: &Loop, drivers: &BTreeMap<&str, &SizedDriver>) -> Part {
    let mut table = Table::new(vec![
        Column::text("loop", "Loop").data_only(),
        Column::text("planned", "Planned"),
        Column::text("found", "Found"),
        Column::text("device", "Unit"),
        Column::text("kind", "Kind").data_only(),
        Column::text("room", "Room"),
        Column::text("identified", "Seen"),
        Column::text("groups", "Groups"),
        Column::text("groups_set", "Set").paper_only(),
        Column::text("scenes", "Scenes"),
        Column::text("scenes_set", "Set").paper_only(),
        Column::number("least_level", "Least level"),
        Column::number("most_level", "Most"),
        Column::text("power_on", "Power-on").paper_only(),
        Column::text("bus_fails", "Bus fails").paper_only(),
        Column::text("note", "Firmware, note").paper_only(),
        Column::text("by", "By, date").paper_only(),
    ]);
    let mut kind = None;
    for member in &on.members {
        if kind != Some(member.kind) {
            kind = Some(member.kind);
            table.group(super::loops::kind_heading(member.kind));
        }
        table.row(unit_row(job, on, member, drivers));
    }
    let mut part = Part::table("commissioning-sheet", format!("Loop {}", on.name), table);
    part.notes.push(
        "Levels are 0 to 254; least level is what the driver holds steadily. Power-on and bus \
         fails are to be agreed: units leave the works at full level for both (IEC 62386-102, \
         from memory)."
            .to_owned(),
    );
    part
}

fn unit_row(
    job: &Job,
    on: &Loop,
    member: &Member,
    known: &BTreeMap<&str, &SizedDriver>,
) -> Vec<Cell> {
    let is_gear = member.kind == MemberKind::Gear;
    let kind = match member.kind {
        MemberKind::Gear => "gear",
        MemberKind::ControlDevice => "device",
    };
    let of_gear = |cell: Cell| if is_gear { cell } else { Cell::Empty };
    let least = known
        .get(member.device.as_str())
        .and_then(|driver| driver.item.least_level);
    let least = Cell::known(
        least.and_then(dimming::level),
        |level| Cell::count(usize::from(level)),
        &format!("`least_level` is not in the catalogue for {}", member.item),
    );
    vec![
        Cell::text(&on.name),
        drivers::addresses(member),
        Cell::Blank,
        Cell::text(&member.device),
        Cell::text(kind),
        Cell::text(&member.room.title),
        Cell::Blank,
        Cell::names(member.groups.iter().map(ToString::to_string)),
        of_gear(Cell::Blank),
        Cell::names(scenes_of(job, on, member)),
        of_gear(Cell::Blank),
        of_gear(least),
        of_gear(Cell::count(MOST_LEVEL)),
        of_gear(Cell::Blank),
        of_gear(Cell::Blank),
        Cell::Blank,
        Cell::Blank,
    ]
}

/// The highest level that there is. IEC 62386-102.
const MOST_LEVEL: usize = 254;

/// Numbers of the scenes in which a unit's groups take part.
fn scenes_of(job: &Job, on: &Loop, member: &Member) -> Vec<String> {
    let own = |name: &str| {
        let mut groups = on.groups.iter();
        groups.any(|group| group.group == name && member.groups.contains(&group.number))
    };
    let takes_part = |scene: &Scene| {
        let mut settings = scene.settings.iter();
        settings.any(|setting| own(&setting.group.name))
    };
    let named = |name: &String| job.project.scenes.iter().find(|scene| scene.name == *name);
    let numbered = on.scenes.iter().enumerate();
    numbered
        .filter(|(_, name)| named(name).is_some_and(takes_part))
        .map(|(number, _)| number.to_string())
        .collect()
}

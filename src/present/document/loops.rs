//! The loop schedule: one row a loop with its head figures, then a block for each loop with its
//! members and its cable.

use super::{Cell, Column, Part, Table, drivers, verdicts};
use crate::allocate::allocated::{Loop, Member, MemberKind};
use crate::present::cable_size::cores;
use crate::present::job::Job;
use crate::present::measured;
use crate::quantity::figure::Unit;

/// Most addresses of each kind on a loop, IEC 62386-102 and -103.
const ADDRESSES: usize = 64;
/// Most groups, and most scenes, on a loop, IEC 62386-102.
const GROUPS: usize = 16;

/// The parts of the loop schedule.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut parts = vec![heads(job)];
    for on in &job.allocation.loops {
        parts.push(members(job, on));
        parts.push(tree(on));
    }
    parts
}

fn heads(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("loop", "Loop"),
        Column::text("controller", "Controller"),
        Column::number("port", "Port").when_wide(),
        Column::text("at", "Stands at").when_wide(),
        Column::number("gear", "Gear of 64"),
        Column::number("control_devices", "Devices of 64"),
        Column::figure("current_ma", "Current", Unit::Milliampere),
        Column::figure("supply_ma", "Supply gives", Unit::Milliampere),
        Column::figure("supply_most_ma", "Supply most", Unit::Milliampere).when_wide(),
        Column::figure("drop_v", "Drop", Unit::Volt),
        Column::figure("drop_full_v", "Drop at supply's most", Unit::Volt).when_wide(),
        Column::figure("longest_m", "Longest", Unit::Metre),
        Column::figure("cable_m", "Cable", Unit::Metre),
        Column::number("groups", "Groups of 16").when_wide(),
        Column::number("scenes", "Scenes of 16").when_wide(),
        Column::text("checks", "Checks"),
    ]);
    for on in &job.allocation.loops {
        table.row(head_row(job, on));
    }
    let cable = job.allocation.loops.iter().map(|on| on.cable_length).sum();
    let sum = |of: fn(&Loop) -> usize| Cell::count(job.allocation.loops.iter().map(of).sum());
    table.total(
        "All loops",
        vec![
            ("gear", sum(|on| on.gear)),
            ("control_devices", sum(|on| on.control_devices)),
            ("cable_m", Cell::metres(cable)),
        ],
    );
    let mut part = Part::table("loop-schedule", "Loops", table);
    part.notes = notes(job);
    part
}

fn head_row(job: &Job, on: &Loop) -> Vec<Cell> {
    let controller = if on.controller.is_empty() {
        Cell::unknown("no controller serves this loop")
    } else {
        Cell::text(&on.controller)
    };
    vec![
        Cell::text(&on.name),
        controller,
        Cell::count(on.port),
        Cell::text(&on.at.title),
        Cell::count(on.gear),
        Cell::count(on.control_devices),
        Cell::milliamperes(on.current),
        Cell::milliamperes(on.supply_guaranteed),
        Cell::milliamperes(on.supply_maximum),
        Cell::volts(on.drop),
        Cell::volts(on.drop_full),
        Cell::metres(on.longest),
        Cell::metres(on.cable_length),
        Cell::count(on.groups.len()),
        Cell::count(scenes(on)),
        verdicts::of_subject(job, &format!("loop {}", on.name)),
    ]
}

/// Scenes with a number on a loop.
fn scenes(on: &Loop) -> usize {
    on.scenes.iter().filter(|name| !name.is_empty()).count()
}

fn notes(job: &Job) -> Vec<String> {
    let mut notes = vec![
        "Supply gives: the guaranteed current, which a loop may use. Drop is to the worst member \
         with all members drawing. Longest is the cable between the two members furthest apart."
            .to_owned(),
    ];
    if job.allocation.loops.len() > 1 && !job.allocation.loops_proved {
        notes.push("Fewer loops might do: the number is not proved least.".to_owned());
    }
    notes.extend(job.allocation.notes.iter().cloned());
    notes
}

fn members(job: &Job, on: &Loop) -> Part {
    let mut table = Table::new(vec![
        Column::text("loop", "Loop").data_only(),
        Column::text("address", "Address"),
        Column::text("kind", "Kind").data_only(),
        Column::text("device", "Device"),
        Column::text("item", "Item").when_wide(),
        Column::text("type", "Type").when_wide(),
        Column::text("place", "Stands at"),
        Column::text("room", "Room"),
        Column::text("groups", "Groups"),
        Column::figure("current_ma", "Current", Unit::Milliampere),
        Column::figure("drop_v", "Drop", Unit::Volt),
        Column::text("found", "Found address").paper_only(),
        Column::text("done", "Done").paper_only(),
    ]);
    let mut kind = None;
    for member in &on.members {
        if kind != Some(member.kind) {
            kind = Some(member.kind);
            table.group(kind_heading(member.kind));
        }
        table.row(member_row(job, on, member));
    }
    table.total("Sum", vec![("current_ma", Cell::milliamperes(on.current))]);
    let mut part = Part::table("loop-members", format!("Loop {}", on.name), table);
    part.text = head_lines(on);
    if on.members.iter().any(|member| member.current_assumed) {
        part.notes.push(
            "A bus current with no figure in the catalogue is counted as 2 mA: see the \
             assumptions."
                .to_owned(),
        );
    }
    if !on.unreached.is_empty() {
        part.notes.push(format!(
            "No route reaches {}: its cable is in no figure.",
            super::cell::joined(&on.unreached)
        ));
    }
    part
}

pub(super) fn kind_heading(kind: MemberKind) -> &'static str {
    match kind {
        MemberKind::Gear => "Gear",
        MemberKind::ControlDevice => "Control devices, in their own addresses",
    }
}

/// The block's head, in words.
fn head_lines(on: &Loop) -> Vec<String> {
    let cable = on.cable.as_ref().map_or_else(
        || " (the catalogue has no bus cable)".to_owned(),
        |cable| format!(" of {} ({})", cable.offer.id, cores(cable)),
    );
    let mut lines = vec![
        format!(
            "Gear {} of {ADDRESSES}, control devices {} of {ADDRESSES}; {:.0} mA of {:.0} mA \
             guaranteed; groups {} of {GROUPS}, scenes {} of {GROUPS}.",
            on.gear,
            on.control_devices,
            measured::milliamperes(on.current),
            measured::milliamperes(on.supply_guaranteed),
            on.groups.len(),
            scenes(on),
        ),
        format!(
            "Longest {:.2} m, cable {:.2} m{cable}; drop {:.2} V with all members drawing, \
             {:.2} V with the supply's whole {:.0} mA at the worst member.",
            measured::metres(on.longest),
            measured::metres(on.cable_length),
            measured::volts(on.drop),
            measured::volts(on.drop_full),
            measured::milliamperes(on.supply_maximum),
        ),
    ];
    if !on.groups.is_empty() {
        let groups = on
            .groups
            .iter()
            .map(|group| format!("{} {}", group.number, group.title));
        lines.push(format!(
            "Groups: {}.",
            super::cell::joined(groups.collect::<Vec<_>>())
        ));
    }
    lines
}

fn member_row(job: &Job, on: &Loop, member: &Member) -> Vec<Cell> {
    let kind = match member.kind {
        MemberKind::Gear => "gear",
        MemberKind::ControlDevice => "device",
    };
    let driver = job.sizing.driver(&member.device);
    let gear = driver.map_or(Cell::Empty, |it| Cell::text(drivers::gear(&it.item)));
    vec![
        Cell::text(&on.name),
        drivers::addresses(member),
        Cell::text(kind),
        Cell::text(&member.device),
        Cell::text(&member.item),
        gear,
        Cell::text(&member.at.title),
        Cell::text(&member.room.title),
        Cell::names(member.groups.iter().map(ToString::to_string)),
        Cell::milliamperes(member.current),
        Cell::volts(member.drop),
        Cell::Blank,
        Cell::Blank,
    ]
}

fn tree(on: &Loop) -> Part {
    let mut table = Table::new(vec![
        Column::text("loop", "Loop").data_only(),
        Column::text("from", "From"),
        Column::text("to", "To"),
        Column::figure("length_m", "Length", Unit::Metre),
        Column::figure("current_ma", "Current beyond", Unit::Milliampere),
    ]);
    for stretch in &on.tree {
        table.row(vec![
            Cell::text(&on.name),
            Cell::text(&stretch.from.title),
            Cell::text(&stretch.to.title),
            Cell::metres(stretch.length),
            Cell::milliamperes(stretch.current),
        ]);
    }
    table.total("Sum", vec![("length_m", Cell::metres(on.cable_length))]);
    Part::table(
        "loop-cable",
        format!("Loop {}: its cable from the supply outwards", on.name),
        table,
    )
}

//! What is installed in each room, and which driver, circuit and isolator stand behind it.

use super::super::{Cell, Column, Part, Table, drivers};
use crate::choose::sized::{SizedDriver, SizedRun};
use crate::present::document::places::isolator;
use crate::present::job::Job;
use crate::quantity::figure::Unit;

/// Every run, by room.
pub(super) fn runs(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("room", "Room").data_only(),
        Column::text("run", "Run"),
        Column::text("group", "Group"),
        Column::text("strip", "Strip"),
        Column::figure("length_m", "Length", Unit::Metre),
        Column::text("drivers", "Fed by"),
        Column::text("cupboard", "In"),
        Column::text("accessible", "Can be reached"),
    ]);
    let mut order: Vec<&SizedRun> = job.sizing.runs.iter().collect();
    order.sort_by_key(|sized| sized.run.room.index);
    let mut room = None;
    for sized in order {
        if room != Some(sized.run.room.index) {
            room = Some(sized.run.room.index);
            table.group(sized.run.room.title.clone());
        }
        table.row(run_row(sized));
    }
    Part::table("handover-runs", "What is in each room", table)
}

fn run_row(sized: &SizedRun) -> Vec<Cell> {
    let run = &sized.run;
    let mut fed_by: Vec<String> = Vec::new();
    for section in &sized.sections {
        let driver = section.fed_by();
        if !driver.is_empty() && !fed_by.contains(&driver) {
            fed_by.push(driver);
        }
    }
    let reach = |yes: bool| Cell::text(if yes { "yes" } else { "no: fabric is opened" });
    vec![
        Cell::text(&run.room.title),
        Cell::text(&run.name),
        Cell::text(&run.group.title),
        Cell::text(&run.strip.offer.id),
        Cell::metres(sized.length),
        if fed_by.is_empty() {
            Cell::unknown("no driver in the catalogue can feed this run")
        } else {
            Cell::names(fed_by)
        },
        Cell::text(&sized.cupboard.title),
        Cell::known(
            run.accessible,
            reach,
            &format!(
                "the project does not say whether {} can be reached",
                run.name
            ),
        ),
    ]
}

/// Every driver, by cupboard.
pub(super) fn drivers(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("driver", "Driver"),
        Column::text("cupboard", "Cupboard").data_only(),
        Column::text("item", "Item"),
        Column::long_text("runs", "Lights"),
        Column::text("loop", "Loop"),
        Column::text("address", "Address"),
        Column::text("groups", "Groups").when_wide(),
        Column::text("circuit", "Circuit"),
        Column::text("isolator", "Isolator there"),
    ]);
    drivers::by_cupboard(job, &mut table, |driver| driver_row(job, driver));
    let mut part = Part::table(
        "handover-drivers",
        "Which driver, circuit and isolator",
        table,
    );
    part.notes.push(
        "Find the dark run in the list by room, its driver there, and here the driver's cupboard, \
         address, circuit and isolator."
            .to_owned(),
    );
    part
}

fn driver_row(job: &Job, driver: &SizedDriver) -> Vec<Cell> {
    let member = job.allocation.member(&driver.number);
    let circuit = job.allocation.circuit_of(&driver.number);
    let not_dimmed = || Cell::text("none");
    vec![
        Cell::text(&driver.number),
        Cell::text(&driver.cupboard.title),
        Cell::text(&driver.item.offer.id),
        Cell::names(&driver.runs),
        member.map_or_else(not_dimmed, |(on, _)| Cell::text(&on.name)),
        member.map_or(Cell::Empty, |(_, member)| drivers::addresses(member)),
        member.map_or(Cell::Empty, |(_, member)| {
            Cell::names(member.groups.iter().map(ToString::to_string))
        }),
        Cell::known(
            circuit,
            |circuit| Cell::text(&circuit.name),
            "no circuit could be given to this driver",
        ),
        isolator(&driver.cupboard),
    ]
}

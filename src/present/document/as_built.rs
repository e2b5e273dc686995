//! The as-built record: what was designed beside room for what was built, and who agreed to it.

use super::cell::joined;
use super::{Cell, Column, Part, Table, drivers};
use crate::allocate::allocated::Circuit;
use crate::choose::sized::SizedDriver;
use crate::present::cable_size::cores;
use crate::present::job::Job;
use crate::present::measured::metres;
use crate::quantity::figure::{Figure, Unit};

/// Empty lines for what differs from the design.
const LINES: usize = 8;

/// The parts of the as-built record.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    vec![
        differences(),
        runs(job),
        driver_record(job),
        cable_record(job),
        circuit_record(job),
    ]
}

fn differences() -> Part {
    let mut table = Table::new(vec![
        Column::number("number", "No"),
        Column::long_text("designed", "What was designed"),
        Column::long_text("built", "What was built"),
        Column::text("checked", "Checked again"),
        Column::text("agreed", "Agreed by, date"),
        Column::text("revision", "Revision"),
    ]);
    for number in 1..=LINES {
        let mut cells = vec![Cell::count(number)];
        cells.extend([const { Cell::Blank }; 5]);
        table.row(cells);
    }
    let mut part = Part::table(
        "as-built-differences",
        "What differs from the design",
        table,
    );
    part.text.push(
        "Every difference is written into the project and checked again before this record is \
         signed; under checked again stands what the check found: holds, broken, cannot tell. A \
         sheet on which nothing is written is a copy of the design, not a record of what was built."
            .to_owned(),
    );
    part
}

fn runs(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("run", "Run"),
        Column::text("room", "Room").data_only(),
        Column::text("strip", "Strip"),
        Column::figure("length_m", "Length", Unit::Metre),
        Column::text("length_built", "Built"),
        Column::text("fed", "Fed"),
        Column::text("feeds_built", "Built"),
        Column::text("batch", "Batch, bin"),
        Column::text("by", "By, date"),
    ]);
    let mut order: Vec<_> = job.sizing.runs.iter().collect();
    order.sort_by_key(|sized| sized.run.room.index);
    let mut room = None;
    for sized in order {
        if room != Some(&sized.run.room.name) {
            room = Some(&sized.run.room.name);
            table.group(sized.run.room.title.clone());
        }
        let places = sized.sections.iter().flat_map(|section| &section.feeds);
        let places = places.map(|feed| Figure::new(metres(feed.at), Unit::Metre).to_string());
        table.row(vec![
            Cell::text(&sized.run.name),
            Cell::text(&sized.run.room.name),
            Cell::text(&sized.run.strip.offer.id),
            Cell::metres(sized.length),
            Cell::Blank,
            Cell::names(places),
            Cell::Blank,
            Cell::Blank,
            Cell::Blank,
        ]);
    }
    Part::table("as-built-runs", "Runs", table)
}

fn driver_record(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("driver", "Driver"),
        Column::text("item", "Item"),
        Column::text("item_built", "Built, serial"),
        Column::text("cupboard", "Stands in"),
        Column::text("loop", "Loop"),
        Column::text("address", "Address"),
        Column::text("address_built", "Built"),
        Column::text("circuit", "Circuit"),
        Column::text("circuit_built", "Built"),
        Column::text("by", "By, date"),
    ]);
    for driver in &job.sizing.drivers {
        table.row(driver_row(job, driver));
    }
    Part::table("as-built-drivers", "Drivers", table)
}

fn driver_row(job: &Job, driver: &SizedDriver) -> Vec<Cell> {
    let member = job.allocation.member(&driver.number);
    let circuit = job.allocation.circuit_of(&driver.number);
    vec![
        Cell::text(&driver.number),
        Cell::text(&driver.item.offer.id),
        Cell::Blank,
        Cell::text(&driver.cupboard.title),
        member.map_or(Cell::Empty, |(on, _)| Cell::text(&on.name)),
        member.map_or(Cell::Empty, |(_, member)| drivers::addresses(member)),
        Cell::Blank,
        circuit.map_or(Cell::Empty, |circuit| Cell::text(&circuit.name)),
        Cell::Blank,
        Cell::Blank,
    ]
}

fn cable_record(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("cable", "Cable"),
        Column::text("driver", "From"),
        Column::text("run", "To"),
        Column::figure("at_m", "Feed at", Unit::Metre),
        Column::text("type", "Type"),
        Column::text("cores", "Cores"),
        Column::text("type_built", "Built"),
        Column::figure("length_m", "Length", Unit::Metre),
        Column::text("length_built", "Built"),
        Column::text("by", "By, date"),
    ]);
    for cable in &job.sizing.cables {
        let driver = if cable.driver.is_empty() {
            Cell::unknown("no driver in the catalogue can feed this section")
        } else {
            Cell::text(&cable.driver)
        };
        table.row(vec![
            Cell::text(&cable.number),
            driver,
            Cell::text(&cable.run),
            Cell::metres(cable.at),
            Cell::text(&cable.item.offer.id),
            Cell::text(cores(&cable.item)),
            Cell::Blank,
            Cell::metres(cable.length),
            Cell::Blank,
            Cell::Blank,
        ]);
    }
    Part::table("as-built-cables", "Feed cables", table)
}

fn circuit_record(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("circuit", "Circuit"),
        Column::text("breaker", "Breaker"),
        Column::text("breaker_built", "Built"),
        Column::text("cores", "Cable"),
        Column::text("cores_built", "Built"),
        Column::figure("length_m", "Length", Unit::Metre),
        Column::text("length_built", "Built"),
        Column::text("isolator_built", "Isolator at"),
        Column::long_text("serves", "Serves"),
        Column::text("by", "By, date"),
    ]);
    for circuit in &job.allocation.circuits {
        table.row(circuit_row(circuit));
    }
    Part::table("as-built-circuits", "Mains circuits", table)
}

fn circuit_row(circuit: &Circuit) -> Vec<Cell> {
    let cable = Cell::known(
        circuit.cable.as_ref(),
        |cable| Cell::text(cores(cable)),
        "no catalogue of the project has mains cable",
    );
    let length = Cell::known(
        circuit.length,
        Cell::metres,
        "no route leads from the panel to this place",
    );
    let units = circuit.drivers.iter().chain(&circuit.supplies);
    vec![
        Cell::text(&circuit.name),
        Cell::text(circuit.breaker.to_string()),
        Cell::Blank,
        cable,
        Cell::Blank,
        length,
        Cell::Blank,
        Cell::Blank,
        Cell::text(joined(units)),
        Cell::Blank,
    ]
}

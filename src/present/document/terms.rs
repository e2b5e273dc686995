//! What a quotation is held to: its options, and what it has no price for.

use super::quote::unit;
use super::{Cell, Column, Part, Table};
use crate::present::job::Job;
use crate::price::priced::Reckoned;
use crate::quantity::figure::Unit;

const NO_WORKING_POINT: &str = "a run has no working point";

/// What the customer may take instead; none of it is in the total.
pub(super) fn options(job: &Job) -> Option<Part> {
    let options = &job.quote.options;
    if options.is_empty() {
        return None;
    }
    let mut table = Table::new(vec![
        Column::text("option", "Option").data_only(),
        Column::long_text("title", "Instead"),
        Column::number("net", "Net"),
        Column::number("difference", "Difference"),
        Column::number("gross", "With tax").when_wide(),
        Column::figure("light_least_percent", "Worst light", Unit::Percent),
        Column::number("drivers", "Drivers"),
        Column::number("loops", "Loops"),
        Column::figure("feed_cable_m", "Feed cable", Unit::Metre),
        Column::figure("labour_h", "Time", Unit::Hour).when_wide(),
        Column::long_text("remarks", "Remarks"),
    ]);
    for option in options {
        let mut cells = vec![Cell::text(&option.name), Cell::text(&option.title)];
        match &option.outcome {
            Ok(reckoned) => cells.extend(reckoned_cells(reckoned)),
            Err(why) => {
                cells.extend(std::iter::repeat_n(Cell::Empty, 8));
                cells.push(Cell::text(format!("can't be had: {why}")));
            }
        }
        table.row(cells);
    }
    let mut part = Part::table("options", "Options, not in the total", table);
    part.notes.push(format!(
        "Each is the whole job sized and priced again, in {}; difference to the net total above.",
        job.quote.currency
    ));
    Some(part)
}

fn reckoned_cells(reckoned: &Reckoned) -> Vec<Cell> {
    vec![
        Cell::Money(reckoned.net),
        Cell::Money(reckoned.difference),
        Cell::Money(reckoned.gross),
        Cell::known(reckoned.light_least, Cell::percent, NO_WORKING_POINT),
        Cell::count(reckoned.drivers),
        Cell::count(reckoned.loops),
        Cell::metres(reckoned.feed_cable),
        Cell::hours(reckoned.labour_hours),
        Cell::text(remarks(reckoned)),
    ]
}

/// What is wrong with an altered job.
pub(super) fn remarks(reckoned: &Reckoned) -> String {
    let mut remarks = Vec::new();
    if reckoned.faults > 0 {
        remarks.push(format!("breaks rules: {}", reckoned.faults));
    }
    if reckoned.cannot_tell > 0 {
        remarks.push(format!("cannot tell: {}", reckoned.cannot_tell));
    }
    if reckoned.lines_without_price > 0 {
        remarks.push(format!(
            "lines without a price: {}",
            reckoned.lines_without_price
        ));
    }
    remarks.join("; ")
}

/// What is needed and has no price, and so is in no total.
pub(super) fn not_priced(job: &Job) -> Option<Part> {
    let mut table = Table::new(vec![
        Column::text("what", "What"),
        Column::long_text("description", "Description"),
        Column::number("quantity", "Quantity"),
        Column::text("unit", "Unit"),
        Column::long_text("lacks", "What would price it"),
    ]);
    for line in job.quote.lines.iter().filter(|line| line.sell.is_none()) {
        table.row(vec![
            Cell::text(format!("line {}", line.number)),
            Cell::text(&line.description),
            Cell::Decimal(line.quantity()),
            Cell::text(unit(line)),
            Cell::text(format!("`price` of `{}` in its catalogue", line.item)),
        ]);
    }
    let work = job.quote.labour.iter().chain(&job.quote.commissioning);
    for line in work.filter(|line| line.sell.is_none()) {
        table.row(vec![
            Cell::text("labour"),
            Cell::text(&line.work),
            Cell::Decimal(line.hours),
            Cell::text("h"),
            Cell::text("`labour_rate` in `pricing`"),
        ]);
    }
    let circuits = job.allocation.circuits.iter();
    for circuit in circuits.filter(|one| one.cable.is_none() || one.length.is_none()) {
        table.row(vec![
            Cell::text(format!("circuit {}", circuit.name)),
            Cell::text("mains cable"),
            Cell::unknown("no route and cable for this circuit"),
            Cell::text("m"),
            Cell::text("a route from a panel, and a cable with `use: mains`"),
        ]);
    }
    if table.rows.is_empty() {
        return None;
    }
    Some(Part::table(
        "not-priced",
        "Not priced, and in no total",
        table,
    ))
}

/// Where the two sides sign.
pub(super) fn acceptance(job: &Job) -> Part {
    const TO_SIGN: &str =
        "name ____________________ signature ____________________ date __________";
    let heading = &job.project.heading;
    let offered = match &heading.prepared_by {
        Some(by) => format!("Offered, prepared by {by}: {TO_SIGN}"),
        None => format!("Offered: {TO_SIGN}"),
    };
    let accepted = match &heading.customer {
        Some(customer) => format!("Accepted for {customer}: {TO_SIGN}"),
        None => format!("Accepted: {TO_SIGN}"),
    };
    let mut text = vec![offered, accepted];
    if !job.quote.options.is_empty() {
        text.push("Options taken in place of the above: ____________________".to_owned());
    }
    Part::prose("Acceptance", text)
}

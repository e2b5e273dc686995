//! What was assumed, and what the price leaves out.

use super::{Cell, Column, Part, Table};
use crate::present::job::Job;

/// The parts: assumptions, then exclusions.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    vec![assumptions(job), exclusions(job)]
}

fn assumptions(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::number("number", "No"),
        Column::text("subject", "Of"),
        Column::long_text("statement", "Assumed"),
        Column::long_text("missing", "Because this is missing"),
        Column::long_text("supplied_by", "Who can supply it"),
    ]);
    for (index, assumption) in job.quote.assumptions.iter().enumerate() {
        table.row(vec![
            Cell::count(index + 1),
            Cell::text(&assumption.subject),
            Cell::text(&assumption.statement),
            Cell::text(&assumption.missing),
            Cell::text(&assumption.supplied_by),
        ]);
    }
    let mut part = Part::table("assumptions", "Assumptions", table);
    part.block_head = 2;
    part.notes.push(
        if job.quote.assumptions.is_empty() {
            "Nothing was assumed: the files give every figure that was needed."
        } else {
            "If one is not so, sizes and price change: size the job again."
        }
        .to_owned(),
    );
    part
}

fn exclusions(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::number("number", "No"),
        Column::long_text("exclusion", "Not in the price"),
    ]);
    for (index, exclusion) in job.quote.exclusions.iter().enumerate() {
        table.row(vec![Cell::count(index + 1), Cell::text(exclusion)]);
    }
    let mut part = Part::table("exclusions", "Exclusions", table);
    if job.quote.exclusions.is_empty() {
        part.notes
            .push("The project lists no exclusions.".to_owned());
    }
    part
}

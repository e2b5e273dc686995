//! The summary: what the job comes to, what is wrong with it, and which documents follow.

use super::{Cell, Column, DOCUMENTS, Listed, Part, Table, lacking};
use crate::judge::Counts;
use crate::judge::verdict::Outcome;
use crate::model::project::Severity;
use crate::present::counts::sentence;
use crate::present::job::Job;
use crate::quantity::{Length, Power};

/// The parts of the summary.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut parts = vec![key_figures(job)];
    parts.extend(faults(job));
    parts.push(documents(job));
    parts
}

fn key_figures(job: &Job) -> Part {
    let length: Length = job.sizing.runs.iter().map(|sized| sized.length).sum();
    let load: Power = job.sizing.drivers.iter().map(|driver| driver.load).sum();
    let mut table = Table::new(vec![
        Column::text("figure", "Figure"),
        Column::number("value", "Value"),
    ]);
    let mut row = |label: &str, cell: Cell| table.row(vec![Cell::text(label), cell]);
    let currency = &job.quote.currency;
    row("Runs of strip", Cell::count(job.sizing.runs.len()));
    row("Strip", Cell::metres(length));
    row("Drivers", Cell::count(job.sizing.drivers.len()));
    row("Load on the drivers", Cell::watts(load));
    row("Control loops", Cell::count(job.allocation.loops.len()));
    row("Mains circuits", Cell::count(job.allocation.circuits.len()));
    row("Assumptions", Cell::count(job.quote.assumptions.len()));
    let lacks = lacking::all(&job.quote.totals);
    row(
        &format!("Net price, {currency}{lacks}"),
        Cell::Money(job.quote.totals.net),
    );
    row(
        &format!("Total price, {currency}{lacks}"),
        Cell::Money(job.quote.totals.gross),
    );
    let mut part = Part::table("summary", "", table);
    part.text = vec![format!("Checks: {}.", sentence(Counts::of(&job.verdicts)))];
    if job.quote.totals.lines_without_price > 0 {
        part.notes.push(format!(
            "Lines without a price, in no total: {}.",
            job.quote.totals.lines_without_price
        ));
    }
    part
}

/// Broken faults, by name.
fn faults(job: &Job) -> Option<Part> {
    let lines: Vec<String> = job
        .verdicts
        .iter()
        .filter(|verdict| verdict.outcome == Outcome::Broken && verdict.severity == Severity::Fault)
        .map(|verdict| {
            let remedy = verdict.remedy.as_deref().unwrap_or("see the checks");
            format!("{}: {}: {remedy}.", verdict.subject, verdict.rule)
        })
        .collect();
    (!lines.is_empty()).then(|| Part::prose("Faults to mend before anyone wires from this", lines))
}

fn documents(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("document", "Document"),
        Column::long_text("title", "Title"),
    ]);
    let sent = |listed: &&Listed| !listed.inside && listed.is_made(job);
    for listed in DOCUMENTS.iter().filter(sent) {
        table.row(vec![Cell::text(listed.name), Cell::text(listed.title)]);
    }
    Part::table("documents", "Documents of this job", table)
}

//! What is not material in a quotation: labour, commissioning, provisional sums.

use super::quote::NO_RATE;
use super::{Cell, Column, Part, Table, lacking};
use crate::present::job::Job;
use crate::price::priced::LabourLine;
use crate::quantity::figure::Unit;

fn columns() -> Vec<Column> {
    vec![
        Column::text("trade", "Trade").data_only(),
        Column::long_text("work", "Work"),
        Column::number("quantity", "Quantity"),
        Column::figure("each_min", "Each", Unit::Minute),
        Column::figure("hours_h", "Time", Unit::Hour),
        Column::number("price", "Price"),
    ]
}

/// Fitting, by trade.
pub(super) fn labour(job: &Job) -> Part {
    let mut table = Table::new(columns());
    for (trade, lines) in by_trade(job) {
        let named = job.quote.labour.iter().any(|line| line.trade.is_some());
        let trade = trade.unwrap_or("other work");
        if named {
            table.group(heading(trade));
        }
        for line in &lines {
            table.row(row(line));
        }
        if named {
            let lacks = lacking::of_work(lines.iter().copied());
            let label = format!("{}{lacks}", heading(trade));
            let figures = vec![
                (
                    "hours_h",
                    Cell::hours(lines.iter().map(|line| line.hours).sum()),
                ),
                (
                    "price",
                    Cell::Money(lines.iter().filter_map(|line| line.sell).sum()),
                ),
            ];
            table.total(&label, figures);
        }
    }
    let totals = &job.quote.totals;
    table.total(
        &format!("Labour{}", lacking::of_work(&job.quote.labour)),
        vec![
            ("hours_h", Cell::hours(totals.labour_hours)),
            ("price", Cell::Money(totals.labour)),
        ],
    );
    let mut part = Part::table("labour", "Labour", table);
    if job.quote.labour.is_empty() {
        part.notes
            .push("No item of the catalogue gives labour minutes.".to_owned());
    }
    part
}

/// A name with a capital.
fn heading(name: &str) -> String {
    let mut letters = name.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

/// Commissioning, where the project prices any.
pub(super) fn commissioning(job: &Job) -> Option<Part> {
    let quote = &job.quote;
    if quote.commissioning.is_empty() {
        return None;
    }
    let mut table = Table::new(columns());
    for line in &quote.commissioning {
        table.row(row(line));
    }
    table.total(
        &format!("Commissioning{}", lacking::of_work(&quote.commissioning)),
        vec![
            ("hours_h", Cell::hours(quote.totals.commissioning_hours)),
            ("price", Cell::Money(quote.totals.commissioning)),
        ],
    );
    Some(Part::table("commissioning", "Commissioning", table))
}

/// Provisional sums, where there are any.
pub(super) fn provisional(job: &Job) -> Option<Part> {
    let quote = &job.quote;
    if quote.provisional.is_empty() {
        return None;
    }
    let mut table = Table::new(vec![
        Column::long_text("sum", "For"),
        Column::number("price", "Price"),
    ]);
    for sum in &quote.provisional {
        table.row(vec![Cell::text(&sum.what), Cell::Money(sum.sell)]);
    }
    table.total(
        "Provisional sums",
        vec![("price", Cell::Money(quote.totals.provisional))],
    );
    let mut part = Part::table("provisional-sums", "Provisional sums", table);
    part.notes.push(
        "Set aside for work that can't be counted yet; in the total as they stand, and charged as \
         the work turns out."
            .to_owned(),
    );
    Some(part)
}

/// Labour by trade, in the order of the list, work of no trade last.
fn by_trade(job: &Job) -> Vec<(Option<&str>, Vec<&LabourLine>)> {
    let mut trades: Vec<(Option<&str>, Vec<&LabourLine>)> = Vec::new();
    for line in &job.quote.labour {
        let name = line.trade.as_deref();
        match trades.iter_mut().find(|(known, _)| *known == name) {
            Some((_, lines)) => lines.push(line),
            None => trades.push((name, vec![line])),
        }
    }
    trades.sort_by_key(|(name, _)| name.is_none());
    trades
}

fn row(line: &LabourLine) -> Vec<Cell> {
    vec![
        Cell::text(line.trade.clone().unwrap_or_default()),
        Cell::text(&line.work),
        Cell::Decimal(line.quantity),
        Cell::minutes(line.each),
        Cell::hours(line.hours),
        Cell::money(line.sell, NO_RATE),
    ]
}

//! The order list: what to buy and from whom, without selling prices.

use super::materials::lead_time;
use super::quote::{NO_PRICE, flags, kind_heading, unit};
use super::{Cell, Column, Part, Table};
use crate::present::job::Job;
use crate::price::priced::Line;
use crate::quantity::figure::Unit;
use rust_decimal::Decimal;

/// The part of the order list.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut table = Table::new(vec![
        Column::number("line", "Line"),
        Column::text("kind", "Kind").data_only(),
        Column::text("item", "Item"),
        Column::long_text("description", "Description"),
        Column::text("supplier", "Supplier"),
        Column::number("bought", "Order"),
        Column::text("unit", "Unit"),
        Column::number("packs", "Packs"),
        Column::number("unit_cost", "Unit cost"),
        Column::number("discount_percent", "Discount %").when_wide(),
        Column::number("cost", "Cost"),
        Column::figure("lead_time_d", "Lead time", Unit::Day),
        Column::text("flags", "Remarks"),
    ]);
    let mut kind = None;
    for line in &job.quote.lines {
        if kind != Some(line.kind) {
            kind = Some(line.kind);
            table.group(kind_heading(line));
        }
        table.row(row(job, line));
    }
    table.total(
        "",
        vec![
            ("description", Cell::text("All lines")),
            ("cost", Cell::Money(job.quote.totals.materials_cost)),
        ],
    );
    let mut part = Part::table("order-list", "", table);
    if let Some((days, line)) = &job.quote.longest_lead_time {
        part.text
            .push(format!("Longest lead time: {days} days, {line}."));
    }
    part.notes.push(
        "Strips that are seen together come from one delivery and one bin: order them together, \
         with their spares."
            .to_owned(),
    );
    vec![part]
}

fn row(job: &Job, line: &Line) -> Vec<Cell> {
    let packs = line
        .bought
        .checked_div(Decimal::from(line.pack))
        .map_or(Cell::Empty, |packs| Cell::Decimal(packs.normalize()));
    vec![
        Cell::count(line.number),
        Cell::text(line.kind.name()),
        Cell::text(&line.item),
        Cell::text(&line.description),
        Cell::text(line.supplier.clone().unwrap_or_default()),
        Cell::Decimal(line.bought),
        Cell::text(unit(line)),
        packs,
        Cell::money(line.unit_cost, NO_PRICE),
        Cell::Decimal(line.discount.normalize()),
        Cell::money(line.cost, NO_PRICE),
        lead_time(line),
        Cell::text(flags(job, line)),
    ]
}

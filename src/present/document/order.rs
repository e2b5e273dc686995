//! The order list: what to buy and from whom, without selling prices.

use super::materials::{lead_time, unit_cost};
use super::quote::{NO_PRICE, flags, unit};
use super::{Cell, Column, Part, Table, lacking};
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
        Column::text("supplier", "Supplier").data_only(),
        Column::number("bought", "Order"),
        Column::text("unit", "Unit"),
        Column::number("packs", "Packs"),
        Column::number("needed", "Needed").when_wide(),
        Column::number("unit_cost", "Unit cost"),
        Column::number("discount_percent", "Discount %").when_wide(),
        Column::number("cost", "Cost"),
        Column::figure("lead_time_d", "Lead time", Unit::Day),
        Column::text("flags", "Remarks"),
    ]);
    for (supplier, lines) in by_supplier(job) {
        table.group(supplier.unwrap_or("Supplier not named in the catalogue"));
        let lacks = lacking::of_lines(lines.iter().copied());
        for line in &lines {
            table.row(row(job, line));
        }
        let cost = lines.iter().filter_map(|line| line.cost).sum();
        table.total(
            "",
            vec![
                ("description", Cell::text(format!("This supplier{lacks}"))),
                ("cost", Cell::Money(cost)),
            ],
        );
    }
    table.total(
        "",
        vec![
            (
                "description",
                Cell::text(format!(
                    "All lines{}",
                    lacking::materials(&job.quote.totals)
                )),
            ),
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

/// What is bought, by supplier in order of name, those without one last. What is there already
/// is not bought.
fn by_supplier(job: &Job) -> Vec<(Option<&str>, Vec<&Line>)> {
    let mut suppliers: Vec<(Option<&str>, Vec<&Line>)> = Vec::new();
    let bought = job.quote.lines.iter();
    for line in bought.filter(|line| !line.is_there_already()) {
        let name = line.supplier.as_deref();
        match suppliers.iter_mut().find(|(known, _)| *known == name) {
            Some((_, lines)) => lines.push(line),
            None => suppliers.push((name, vec![line])),
        }
    }
    suppliers.sort_by_key(|(name, _)| (name.is_none(), *name));
    suppliers
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
        Cell::Decimal(line.needed),
        unit_cost(line),
        Cell::Decimal(line.discount.normalize()),
        Cell::money(line.cost, NO_PRICE),
        lead_time(line),
        Cell::text(flags(job, line)),
    ]
}

//! Materials and cost, for inside the firm: each line with its cost, and how cost becomes price.

use super::quote::{NO_PRICE, NO_RATE, flags, kind_heading, tax_rows, unit};
use super::{Cell, Column, Part, Table, lacking};
use crate::model::pricing::Uplift;
use crate::present::date;
use crate::present::job::Job;
use crate::price::priced::{LabourLine, Line};
use crate::quantity::figure::Unit;
use rust_decimal::Decimal;

/// The parts: from cost to price, materials, labour.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    vec![build_up(job), lines(job), labour(job)]
}

fn build_up(job: &Job) -> Part {
    let totals = &job.quote.totals;
    let mut table = Table::new(vec![
        Column::text("item", "Item"),
        Column::number("rate_percent", "Rate %"),
        Column::number("amount", &format!("Amount {}", job.quote.currency)),
    ]);
    let mut row = |label: &str, rate: Option<Decimal>, amount: Decimal| {
        let rate = rate.map_or(Cell::Empty, |rate| Cell::Decimal(rate.normalize()));
        table.row(vec![Cell::text(label), rate, Cell::Money(amount)]);
    };
    let of_materials = lacking::materials(totals);
    let of_work = lacking::of_work(&job.quote.labour);
    let of_commissioning = lacking::of_work(&job.quote.commissioning);
    let lacks = lacking::all(totals);
    row(
        &format!("Cost of materials{of_materials}"),
        None,
        totals.materials_cost,
    );
    row(
        &format!("Cost of labour{of_work}"),
        None,
        totals.labour_cost,
    );
    if !job.quote.commissioning.is_empty() {
        row(
            &format!("Cost of commissioning{of_commissioning}"),
            None,
            totals.commissioning_cost,
        );
    }
    row(
        &format!("Overhead{lacks}"),
        Some(totals.overhead_percent),
        totals.overhead,
    );
    row(
        &format!("Contingency{lacks}"),
        Some(totals.contingency_percent),
        totals.contingency,
    );
    let uplift = match totals.uplift {
        Some(Uplift::Margin(rate)) => Some(("Margin, of the price", rate)),
        Some(Uplift::Markup(rate)) => Some(("Markup, on cost", rate)),
        None => None,
    };
    if let Some((name, rate)) = uplift {
        row(&format!("{name}{lacks}"), Some(rate), totals.uplift_amount);
    }
    if !job.quote.provisional.is_empty() {
        row("Provisional sums", None, totals.provisional);
    }
    if totals.customer_discount_percent > Decimal::ZERO {
        table.row(vec![
            Cell::text("Customer's discount, in the amounts above"),
            Cell::Decimal(totals.customer_discount_percent.normalize()),
            Cell::Empty,
        ]);
    }
    table.total(
        &format!("Net{lacks}"),
        vec![("amount", Cell::Money(totals.net))],
    );
    if totals.tax_name.is_some() {
        for (label, tax) in tax_rows(job) {
            let label = format!("{label}{lacks}");
            table.row(vec![Cell::text(label), Cell::Empty, Cell::Money(tax)]);
        }
        table.total(
            &format!("Total{lacks}"),
            vec![("amount", Cell::Money(totals.gross))],
        );
    }
    let mut part = Part::table("build-up", "From cost to price", table);
    if totals.uplift.is_none() {
        part.notes.push(
            "Neither `margin` nor `markup` is set in `pricing`: it is sold at cost.".to_owned(),
        );
    }
    part
}

fn lines(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::number("line", "Line"),
        Column::text("kind", "Kind").data_only(),
        Column::text("item", "Item"),
        Column::long_text("description", "Description"),
        Column::number("needed", "Needed"),
        Column::number("waste", "Waste m").when_wide(),
        Column::text("unit", "Unit"),
        Column::number("pack", "Pack").when_wide(),
        Column::number("bought", "Bought"),
        Column::number("left_over", "Left over").when_wide(),
        Column::number("unit_cost", "Unit cost"),
        Column::number("step_from", "Price from").when_wide(),
        Column::number("discount_percent", "Discount %").when_wide(),
        Column::number("cost", "Cost"),
        Column::number("price", "Price"),
        Column::text("valid_until", "Price until").when_wide(),
        Column::figure("lead_time_d", "Lead time", Unit::Day).when_wide(),
        Column::long_text("used_for", "Used for").when_wide(),
        Column::text("flags", "Remarks"),
    ]);
    let mut kind = None;
    for line in &job.quote.lines {
        if kind != Some(line.kind) {
            kind = Some(line.kind);
            table.group(kind_heading(line));
        }
        table.row(line_row(job, line));
    }
    let totals = &job.quote.totals;
    table.total(
        "",
        vec![
            (
                "description",
                Cell::text(format!("Materials{}", lacking::materials(totals))),
            ),
            ("cost", Cell::Money(totals.materials_cost)),
            ("price", Cell::Money(totals.materials)),
        ],
    );
    Part::table("materials", "Materials", table)
}

fn line_row(job: &Job, line: &Line) -> Vec<Cell> {
    let optional = |value: Option<Decimal>| {
        value.map_or(Cell::Empty, |value| Cell::Decimal(value.normalize()))
    };
    vec![
        Cell::count(line.number),
        Cell::text(line.kind.name()),
        Cell::text(&line.item),
        Cell::text(&line.description),
        Cell::Decimal(line.needed),
        match line.waste.is_zero() {
            true => Cell::Empty,
            false => Cell::Decimal(line.waste),
        },
        Cell::text(unit(line)),
        Cell::count(line.pack),
        Cell::Decimal(line.bought),
        Cell::Decimal(line.left_over),
        unit_cost(line),
        optional(line.step_from),
        Cell::Decimal(line.discount.normalize()),
        Cell::money(line.cost, NO_PRICE),
        Cell::money(line.sell, NO_PRICE),
        valid_until(job, line),
        lead_time(line),
        Cell::names(&line.used_for),
        Cell::text(flags(job, line)),
    ]
}

/// Price of one; none for what is there already.
pub(super) fn unit_cost(line: &Line) -> Cell {
    match line.is_there_already() {
        true => Cell::Empty,
        false => Cell::money(line.unit_cost, NO_PRICE),
    }
}

fn valid_until(job: &Job, line: &Line) -> Cell {
    Cell::known(
        line.price_valid_until,
        |day| Cell::text(date::shown(day, job.project.region)),
        "the catalogue gives no `price_valid_until`",
    )
}

/// Days from order to delivery.
pub(super) fn lead_time(line: &Line) -> Cell {
    Cell::known(
        line.lead_time_days,
        |days| Cell::figure(f64::from(days), Unit::Day),
        "the catalogue gives no lead time",
    )
}

fn labour(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::long_text("work", "Work"),
        Column::number("quantity", "Quantity"),
        Column::figure("each_min", "Each", Unit::Minute),
        Column::figure("hours_h", "Time", Unit::Hour),
        Column::number("cost", "Cost"),
        Column::number("price", "Price"),
    ]);
    let totals = &job.quote.totals;
    let (labour, commissioning) = (&job.quote.labour, &job.quote.commissioning);
    let fitted = [
        ("hours_h", Cell::hours(totals.labour_hours)),
        ("cost", Cell::Money(totals.labour_cost)),
        ("price", Cell::Money(totals.labour)),
    ];
    work(&mut table, "Labour", labour, fitted);
    if !commissioning.is_empty() {
        let commissioned = [
            ("hours_h", Cell::hours(totals.commissioning_hours)),
            ("cost", Cell::Money(totals.commissioning_cost)),
            ("price", Cell::Money(totals.commissioning)),
        ];
        work(&mut table, "Commissioning", commissioning, commissioned);
    }
    Part::table("labour-cost", "Labour", table)
}

/// Lines of work with their total.
fn work(table: &mut Table, name: &str, lines: &[LabourLine], total: [(&str, Cell); 3]) {
    for line in lines {
        table.row(vec![
            Cell::text(&line.work),
            Cell::Decimal(line.quantity),
            Cell::minutes(line.each),
            Cell::hours(line.hours),
            Cell::money(line.cost, NO_RATE),
            Cell::money(line.sell, NO_RATE),
        ]);
    }
    let label = format!("{name}{}", lacking::of_work(lines));
    table.total(&label, total.to_vec());
}

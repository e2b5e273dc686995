//! The quotation: the total first, then its lines, labour, and what it stands on.

use super::{Cell, Column, Part, Table, assumptions};
use crate::judge::Counts;
use crate::present::counts::counted;
use crate::present::date;
use crate::present::job::Job;
use crate::present::money;
use crate::price::priced::{Line, PriceFlag};
use crate::quantity::figure::Unit;
use rust_decimal::Decimal;

pub(super) const NO_PRICE: &str = "the catalogue gives no price; not in any total";
pub(super) const NO_RATE: &str = "the project gives no `labour_rate`; not in any total";

/// The parts of the quotation.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut parts = vec![totals(job), materials(job), labour(job)];
    parts.extend(assumptions::parts(job));
    parts
}

fn totals(job: &Job) -> Part {
    let totals = &job.quote.totals;
    let mut table = Table::new(vec![
        Column::text("item", "Item"),
        Column::number("amount", &format!("Amount {}", job.quote.currency)),
    ]);
    let mut row = |label: &str, amount: Decimal| {
        table.row(vec![Cell::text(label), Cell::Money(amount)]);
    };
    row("Materials", totals.materials);
    row("Labour", totals.labour);
    let tax = totals
        .tax_name
        .as_ref()
        .map(|(name, rate)| format!("{name} {} %", rate.normalize()));
    table.total("Net", vec![("amount", Cell::Money(totals.net))]);
    if let Some(tax) = &tax {
        table.row(vec![Cell::text(tax), Cell::Money(totals.tax)]);
        table.total("Total", vec![("amount", Cell::Money(totals.gross))]);
    }
    let mut part = Part::table("totals", "", table);
    part.text = headline(job, tax.as_deref());
    part
}

/// The answer in the first lines: how much, and what it leaves out.
fn headline(job: &Job, tax: Option<&str>) -> Vec<String> {
    let totals = &job.quote.totals;
    let with_tax = tax.map_or(String::new(), |tax| format!(" with {tax}"));
    let amount = money::shown(totals.gross, job.quote.decimals);
    let mut lines = vec![format!("Total {amount} {}{with_tax}.", job.quote.currency)];
    if totals.lines_without_price > 0 {
        lines.push(format!(
            "Not the whole price: {} without a price {} in no total.",
            counted(totals.lines_without_price, "line"),
            if totals.lines_without_price == 1 {
                "is"
            } else {
                "are"
            },
        ));
    }
    if job.quote.labour.iter().any(|line| line.sell.is_none()) {
        lines.push("Not the whole price: labour has no rate and is in no total.".to_owned());
    }
    if totals.lines_with_stale_price > 0 {
        lines.push(format!(
            "{} past the date of {} price: ask again.",
            counted(totals.lines_with_stale_price, "line"),
            if totals.lines_with_stale_price == 1 {
                "its"
            } else {
                "their"
            },
        ));
    }
    let counts = Counts::of(&job.verdicts);
    if counts.broken_faults > 0 {
        lines.push(format!(
            "As it stands the job breaks rules: {} (see the checks).",
            counted(counts.broken_faults, "fault")
        ));
    }
    if let Some((days, line)) = &job.quote.longest_lead_time {
        lines.push(format!("Longest lead time: {days} days, {line}."));
    }
    lines
}

fn materials(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::number("line", "Line"),
        Column::text("kind", "Kind").data_only(),
        Column::text("item", "Item").when_wide(),
        Column::long_text("description", "Description"),
        Column::number("quantity", "Quantity"),
        Column::text("unit", "Unit"),
        Column::number("unit_price", "Each"),
        Column::number("price", "Price"),
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
    table.total(
        "",
        vec![
            ("description", Cell::text("Materials")),
            ("price", Cell::Money(job.quote.totals.materials)),
        ],
    );
    Part::table("quote-lines", "Materials", table)
}

/// The heading over the lines of one kind.
pub(super) fn kind_heading(line: &Line) -> &'static str {
    use crate::model::offer::ItemKind;
    match line.kind {
        ItemKind::Strip => "Strip",
        ItemKind::Driver => "Drivers",
        ItemKind::Cable => "Cable",
        ItemKind::Controller => "Controllers",
        ItemKind::BusSupply => "Bus supplies",
        ItemKind::ControlDevice => "Control devices",
        ItemKind::Profile => "Profiles",
        ItemKind::Accessory => "Accessories",
    }
}

fn line_row(job: &Job, line: &Line) -> Vec<Cell> {
    let price = Cell::money(line.sell, NO_PRICE);
    // The price of one is the line's price shared out: the line is what was rounded.
    let each = match line.sell {
        Some(sell) => sell.checked_div(line.bought).map_or(Cell::Empty, |each| {
            Cell::Money(each.round_dp(job.quote.decimals))
        }),
        None => price.clone(),
    };
    vec![
        Cell::count(line.number),
        Cell::text(line.kind.name()),
        Cell::text(&line.item),
        Cell::text(&line.description),
        Cell::Decimal(line.bought),
        Cell::text(unit(line)),
        each,
        price,
        Cell::text(flags(job, line)),
    ]
}

/// The unit in which a line is counted.
pub(crate) fn unit(line: &Line) -> &'static str {
    use crate::model::offer::ItemKind;
    use crate::price::priced::Measured;
    match (line.measured, line.kind) {
        (Measured::Piece, _) => "pc",
        (Measured::Metre, _) => "m",
        (Measured::StockLength, ItemKind::Cable) => "drum",
        (Measured::StockLength, ItemKind::Profile) => "bar",
        (Measured::StockLength, _) => "reel",
    }
}

/// What is wrong with a line's price, in words.
pub(super) fn flags(job: &Job, line: &Line) -> String {
    let region = job.project.region;
    let words: Vec<String> = line
        .flags
        .iter()
        .map(|flag| match flag {
            PriceFlag::Missing => "no price".to_owned(),
            PriceFlag::Stale(day) => format!("price was valid until {}", date::shown(*day, region)),
        })
        .collect();
    words.join("; ")
}

fn labour(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::long_text("work", "Work"),
        Column::number("quantity", "Quantity"),
        Column::figure("each_min", "Each", Unit::Minute),
        Column::figure("hours_h", "Time", Unit::Hour),
        Column::number("price", "Price"),
    ]);
    for line in &job.quote.labour {
        table.row(vec![
            Cell::text(&line.work),
            Cell::Decimal(line.quantity),
            Cell::minutes(line.each),
            Cell::hours(line.hours),
            Cell::money(line.sell, NO_RATE),
        ]);
    }
    table.total(
        "Labour",
        vec![
            ("hours_h", Cell::hours(job.quote.totals.labour_hours)),
            ("price", Cell::Money(job.quote.totals.labour)),
        ],
    );
    let mut part = Part::table("labour", "Labour", table);
    if job.quote.labour.is_empty() {
        part.notes
            .push("No item of the catalogue gives labour minutes.".to_owned());
    }
    part
}

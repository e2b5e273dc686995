//! The quotation: the total first, then its lines, labour, and what it stands on.

use super::feet::feet_and_inches;
use super::{Cell, Column, Part, Table, assumptions, lacking, scope, terms, work};
use crate::judge::Counts;
use crate::norms::region::Region;
use crate::present::counts::counted;
use crate::present::date;
use crate::present::job::Job;
use crate::present::money;
use crate::price::priced::{Line, Measured, PriceFlag};
use num_traits::ToPrimitive;
use rust_decimal::Decimal;

pub(super) const NO_PRICE: &str = "the catalogue gives no price; not in any total";
pub(super) const NO_RATE: &str = "the project gives no `labour_rate`; not in any total";

/// The parts of the quotation.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut parts = vec![
        totals(job),
        scope::part(job),
        materials(job),
        work::labour(job),
    ];
    parts.extend(work::commissioning(job));
    parts.extend(work::provisional(job));
    parts.extend(terms::options(job));
    parts.extend(terms::not_priced(job));
    parts.extend(assumptions::parts(job));
    parts.push(terms::acceptance(job));
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
    let lacks = lacking::all(totals);
    row(
        &format!("Materials{}", lacking::materials(totals)),
        totals.materials,
    );
    let of_work = lacking::of_work(&job.quote.labour);
    row(&format!("Labour{of_work}"), totals.labour);
    if !job.quote.commissioning.is_empty() {
        let of_work = lacking::of_work(&job.quote.commissioning);
        row(&format!("Commissioning{of_work}"), totals.commissioning);
    }
    if !job.quote.provisional.is_empty() {
        row("Provisional sums", totals.provisional);
    }
    table.total(
        &format!("Net{lacks}"),
        vec![("amount", Cell::Money(totals.net))],
    );
    if totals.tax_name.is_some() {
        for (label, tax) in tax_rows(job) {
            table.row(vec![
                Cell::text(format!("{label}{lacks}")),
                Cell::Money(tax),
            ]);
        }
        table.total(
            &format!("Total{lacks}"),
            vec![("amount", Cell::Money(totals.gross))],
        );
    }
    let mut part = Part::table("totals", "", table);
    part.text = headline(job);
    part
}

/// Each rate of the tax in words, on what it is when there are several, and its amount.
pub(super) fn tax_rows(job: &Job) -> Vec<(String, Decimal)> {
    let totals = &job.quote.totals;
    let Some(name) = &totals.tax_name else {
        return Vec::new();
    };
    let several = totals.taxes.len() > 1;
    let taxes = totals.taxes.iter();
    taxes
        .map(|tax| {
            let rate = tax.rate.normalize();
            let grouping = money::Grouping::of(job.project.region);
            let on = money::grouped(tax.on, job.quote.decimals, grouping);
            let label = match several {
                true => format!("{name} {rate} % on {on}"),
                false => format!("{name} {rate} %"),
            };
            (label, tax.tax)
        })
        .collect()
}

/// An amount with its currency, as the region writes it.
pub(super) fn amount(job: &Job, amount: Decimal) -> String {
    let quote = &job.quote;
    money::with_currency(amount, &quote.currency, quote.decimals, job.project.region)
}

/// The answer in the first lines: how much, and what it leaves out.
#[must_use]
pub fn headline(job: &Job) -> Vec<String> {
    let totals = &job.quote.totals;
    let with_tax = match (&totals.tax_name, totals.taxes.as_slice()) {
        (None, _) => String::new(),
        (Some(name), [tax]) => format!(" with {name} {} %", tax.rate.normalize()),
        (Some(name), _) => format!(" with {name}"),
    };
    let mut lines = vec![format!("Total {}{with_tax}.", amount(job, totals.gross))];
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
    if totals.work_without_price > 0 {
        lines.push("Not the whole price: work without a rate is in no total.".to_owned());
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
    if totals.customer_discount_percent > Decimal::ZERO {
        let percent = totals.customer_discount_percent.normalize();
        lines.push(format!("All prices are after a discount of {percent} %."));
    }
    lines.push(lead_time(job));
    lines.push(validity(job));
    lines
}

fn lead_time(job: &Job) -> String {
    let silent = job.quote.lines.iter();
    let silent = silent
        .filter(|line| line.lead_time_days.is_none() && !line.bought.is_zero())
        .count();
    let silent = match silent {
        0 => String::new(),
        1 => "; 1 line has none".to_owned(),
        count => format!("; {} have none", counted(count, "line")),
    };
    match &job.quote.longest_lead_time {
        Some((days, line)) => format!("Longest lead time: {days} days, {line}{silent}."),
        None => "Lead time: no item of the catalogue gives one.".to_owned(),
    }
}

/// Until when the quotation can be accepted, and whether the suppliers' prices hold that long.
fn validity(job: &Job) -> String {
    let Some(until) = job.project.pricing.valid_until else {
        return "Valid until: not set; give `valid_until` or `valid_for` in `pricing`.".to_owned();
    };
    let lapse = |line: &&Line| line.price_valid_until.is_some_and(|day| day < until);
    let lapsing = job.quote.lines.iter().filter(lapse).count();
    let shown = date::shown(until, job.project.region);
    match lapsing {
        0 => format!("Valid until {shown}."),
        count => format!(
            "Valid until {shown}, though {} of the suppliers lapse before.",
            counted(count, "price")
        ),
    }
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
        Column::text("assumptions", "Rests on"),
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
    let without = lacking::materials(&job.quote.totals);
    table.total(
        "",
        vec![
            ("description", Cell::text(format!("Materials{without}"))),
            ("price", Cell::Money(job.quote.totals.materials)),
        ],
    );
    let mut part = Part::table("quote-lines", "Materials", table);
    part.notes.push(
        "Each: the price of the line shared out and rounded; the price of the line counts."
            .to_owned(),
    );
    if job.quote.stakes.iter().any(|stake| !stake.lines.is_empty()) {
        part.notes
            .push("Rests on: the numbers of the assumptions below.".to_owned());
    }
    part
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
        Some(sell) => sell
            .checked_div(line.bought)
            .map_or(Cell::Empty, Cell::Money),
        None => price.clone(),
    };
    vec![
        Cell::count(line.number),
        Cell::text(line.kind.name()),
        Cell::text(&line.item),
        Cell::text(&line.description),
        Cell::Decimal(line.quantity()),
        Cell::text(unit(line)),
        each,
        price,
        Cell::text(rests_on(job, line)),
        Cell::text(flags(job, line)),
    ]
}

/// Numbers of the assumptions that a line rests on: `1, 4`.
fn rests_on(job: &Job, line: &Line) -> String {
    let stakes = (1..).zip(&job.quote.stakes);
    let numbers: Vec<String> = stakes
        .filter(|(_, stake)| stake.lines.contains(&line.number))
        .map(|(number, _): (usize, _)| number.to_string())
        .collect();
    numbers.join(", ")
}

/// The unit in which a line is counted.
pub(crate) fn unit(line: &Line) -> &'static str {
    use crate::model::offer::ItemKind;
    match (line.measured, line.kind) {
        (Measured::Piece, _) => "pc",
        (Measured::Metre, _) => "m",
        (Measured::StockLength, ItemKind::Cable) => "drum",
        (Measured::StockLength, ItemKind::Profile) => "bar",
        (Measured::StockLength, _) => "reel",
    }
}

/// What is to be said of a line: its length in feet where people measure so, and what is wrong with
/// its price.
pub(super) fn flags(job: &Job, line: &Line) -> String {
    let region = job.project.region;
    let feet = (region == Region::NorthAmerica && line.measured == Measured::Metre)
        .then(|| line.quantity().to_f64().and_then(feet_and_inches))
        .flatten();
    let flags = line.flags.iter().map(|flag| match flag {
        PriceFlag::Missing => "no price".to_owned(),
        PriceFlag::Stale(day) => format!("price was valid until {}", date::shown(*day, region)),
    });
    let words: Vec<String> = feet.into_iter().chain(flags).collect();
    words.join("; ")
}

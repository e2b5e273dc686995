//! Two jobs held against each other: the difference first, then figures side by side, the price
//! line by line, and what was moved.

use super::list::title_block;
use super::quote::amount;
use super::{Cell, Column, Document, Part, Table, feet, lacking};
use crate::norms::region::Region;
use crate::present::cautions;
use crate::present::comparison::figures::Value;
use crate::present::comparison::lines::LineChange;
use crate::present::comparison::{Change, Comparison};
use crate::present::job::Job;
use rust_decimal::Decimal;
use std::path::Path;

/// Name of the document and of its files.
pub const NAME: &str = "comparison";

const NO_PRICE: &str = "no price in one project or the other; not in the difference";

/// The document of a comparison.
#[must_use]
pub fn document(comparison: &Comparison) -> Document {
    let new = comparison.new;
    let document = Document {
        name: NAME,
        title: "Comparison".to_owned(),
        block: title_block(&new.project),
        currency: new.quote.currency.clone(),
        decimals: new.quote.decimals,
        inside: false,
        parts: vec![
            difference(comparison),
            figures(comparison),
            lines(comparison),
            places(comparison),
        ],
        cautions: cautions::on_sheets(new),
    };
    match new.project.region {
        Region::NorthAmerica => feet::added(document),
        Region::Iec | Region::AusNz => document,
    }
}

/// `Millrace Library, ML-014, revision A, 1 Nov 2026, in old.yaml`.
fn called(job: &Job) -> String {
    let block = title_block(&job.project);
    let file = job.project.heading.place.as_ref();
    let file = file.and_then(|place| Path::new(&*place.file).file_name());
    let file = file.map(|name| format!("in {}", name.display()));
    let revision = match block.revision.as_str() {
        "" => String::new(),
        revision => format!("revision {revision}"),
    };
    let said = [block.project, block.reference, revision, block.date];
    let said = said.into_iter().filter(|text| !text.is_empty());
    let said: Vec<String> = said.chain(file).collect();
    said.join(", ")
}

fn difference(comparison: &Comparison) -> Part {
    let (old, new) = (comparison.old, comparison.new);
    let currency = &new.quote.currency;
    let sum = &comparison.difference;
    let mut table = Table::new(vec![
        Column::text("item", "Item"),
        Column::number("amount", &format!("Amount {currency}")),
    ]);
    for (label, amount) in [
        ("Added lines", sum.added),
        ("Omitted lines", sum.omitted),
        ("Changed lines", sum.changed),
    ] {
        table.row(vec![Cell::text(label), Cell::Money(amount)]);
    }
    let lacks = lacking::without(sum.lines_without_price);
    table.total(
        &format!("Net difference{lacks}"),
        vec![("amount", Cell::Money(sum.net))],
    );
    let mut part = Part::table("difference", "", table);
    let shown = |it| amount(new, it);
    part.text = vec![
        format!("Was: {}.", called(old)),
        format!("Now: {}.", called(new)),
        format!(
            "Net {}, was {}: {}.",
            shown(new.quote.totals.net),
            shown(old.quote.totals.net),
            match sum.net {
                net if net.is_zero() => "no difference".to_owned(),
                net if net.is_sign_negative() => format!("{} less", shown(net.abs())),
                net => format!("{} more", shown(net)),
            }
        ),
    ];
    if sum.lines_without_price > 0 {
        part.text.push(format!(
            "Not the whole difference: {} of the changed lines have no price in one or the other.",
            sum.lines_without_price
        ));
    }
    let untouched: Vec<String> = comparison
        .untouched
        .iter()
        .filter(|it| it.of > 0)
        .map(|it| format!("{} of {} {}", it.alike, it.of, it.what))
        .collect();
    part.notes.push(format!(
        "Untouched: {}; counted in the project as it is now.",
        untouched.join(", ")
    ));
    part
}

fn cell(value: Value) -> Cell {
    match value {
        Value::Money(amount) => Cell::Money(amount),
        Value::Figure(figure) => Cell::Figure(figure),
        Value::Unknown(why) => Cell::unknown(why),
    }
}

fn figures(comparison: &Comparison) -> Part {
    let mut table = Table::new(vec![
        Column::text("key", "Key").data_only(),
        Column::text("figure", "Figure"),
        Column::number("was", "Was"),
        Column::number("now", "Now"),
        Column::number("difference", "Difference"),
    ]);
    for pair in &comparison.figures {
        let extra = matches!(pair.key, "commissioning" | "provisional");
        if extra && [pair.old, pair.new] == [Value::Money(Decimal::ZERO); 2] {
            continue;
        }
        let [was, now] = pair.lacks;
        let lacks = lacking::then_and_now(was, now);
        table.row(vec![
            Cell::text(pair.key),
            Cell::text(format!("{}{lacks}", pair.label)),
            cell(pair.old),
            cell(pair.new),
            cell(pair.new.less(pair.old)),
        ]);
    }
    let mut part = Part::table("figures", "Side by side", table);
    part.notes.push(format!(
        "Prices in {}, without tax but for the second line.",
        comparison.new.quote.currency
    ));
    part
}

fn lines(comparison: &Comparison) -> Part {
    let mut table = Table::new(vec![
        Column::number("number", "No"),
        Column::text("section", "Section").data_only(),
        Column::text("change", "Change"),
        Column::number("line", "Line").when_wide(),
        Column::text("item", "Item").when_wide(),
        Column::long_text("description", "Description"),
        Column::text("unit", "Unit").data_only(),
        Column::number("was_quantity", "Was"),
        Column::number("now_quantity", "Now"),
        Column::number("was_price", "Was price").when_wide(),
        Column::number("now_price", "Now price").when_wide(),
        Column::number("difference", "Difference"),
        Column::long_text("reason", "Why"),
    ]);
    for (number, line) in (1..).zip(&comparison.lines) {
        table.row(line_row(number, line));
    }
    let lacks = lacking::without(comparison.difference.lines_without_price);
    table.total(
        "",
        vec![
            ("description", Cell::text(format!("Net difference{lacks}"))),
            ("was_price", Cell::Money(comparison.old.quote.totals.net)),
            ("now_price", Cell::Money(comparison.new.quote.totals.net)),
            ("difference", Cell::Money(comparison.difference.net)),
        ],
    );
    let mut part = Part::table("price-changes", "Price, line by line", table);
    part.notes.push(if comparison.lines.is_empty() {
        "Every line of materials and labour is as it was.".to_owned()
    } else {
        "Greatest effect first. A removed line has the number that it had; the totals of price hold \
         the lines that did not change too."
            .to_owned()
    });
    part
}

fn line_row(number: usize, line: &LineChange) -> Vec<Cell> {
    let quantity = |side: Option<crate::present::comparison::lines::Amount>| {
        side.map_or(Cell::Empty, |it| Cell::Decimal(it.quantity))
    };
    let price = |side: Option<crate::present::comparison::lines::Amount>| {
        side.map_or(Cell::Empty, |it| Cell::money(it.price, NO_PRICE))
    };
    vec![
        Cell::count(number),
        Cell::text(line.section),
        Cell::text(line.change.name()),
        Cell::count(line.line),
        Cell::text(&line.item),
        Cell::text(&line.description),
        Cell::text(line.unit),
        quantity(line.old),
        quantity(line.new),
        price(line.old),
        price(line.new),
        Cell::money(line.difference, NO_PRICE),
        Cell::text(&line.reason),
    ]
}

fn places(comparison: &Comparison) -> Part {
    let mut table = Table::new(vec![
        Column::number("number", "No"),
        Column::text("kind", "Of"),
        Column::text("name", "Name"),
        Column::text("change", "Change"),
        Column::text("what", "What"),
        Column::long_text("was", "Was"),
        Column::long_text("now", "Now"),
        Column::long_text("reason", "Why").when_wide(),
    ]);
    for (number, change) in (1..).zip(&comparison.places) {
        table.row(vec![
            Cell::count(number),
            Cell::text(change.kind),
            Cell::text(&change.name),
            Cell::text(change.change.name()),
            Cell::text(change.what),
            Cell::text(&change.was),
            Cell::text(&change.now),
            Cell::text(change.reason),
        ]);
    }
    let mut part = Part::table("place-changes", "What was added, removed and moved", table);
    let renumbered = |it: &&crate::present::comparison::places::PlaceChange| {
        it.change == Change::Renumbered || (it.change == Change::Moved && it.kind != "run")
    };
    let labels = comparison.places.iter().filter(renumbered).count();
    part.notes.push(match (comparison.places.len(), labels) {
        (0, _) => "Every run, driver, device, loop and circuit is as it was.".to_owned(),
        (_, 0) => "No driver or device was moved or renumbered: labels stay.".to_owned(),
        _ => "Where a number, loop, address or circuit changed, replace the label and the entry \
              on the sheets. Drivers are recognised by what hangs on them."
            .to_owned(),
    });
    part
}

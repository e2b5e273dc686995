//! What is not as it was issued: every change with its reason, what is untouched counted, and the
//! price of it.

use super::{Cell, Column, Part, Table, lacking};
use crate::allocate::issued::{Changes, How};
use crate::model::issued::{PriceLine, Prices, Record};
use crate::present::comparison::lines::{Amount, what_changed};
use crate::present::counts::counted;
use crate::present::issued::record;
use crate::present::job::Job;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// The parts of the list of changes; none when nothing was issued.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let (Some(was), Some(changes)) = (&job.project.issued.record, &job.allocation.changes) else {
        return Vec::new();
    };
    vec![listed(job, was, changes), untouched(changes)]
}

/// The parts of the price of the changes; none when nothing was issued.
pub(super) fn price_parts(job: &Job) -> Vec<Part> {
    let Some(was) = &job.project.issued.record else {
        return Vec::new();
    };
    vec![prices(&was.prices, &record(job).prices, &was.called())]
}

/// What the answer starts from, in a sentence; `None` when nothing was issued.
#[must_use]
pub fn start(job: &Job) -> Option<String> {
    let was = job.project.issued.record.as_ref()?;
    let changes = job.allocation.changes.as_ref()?;
    let way = match job.project.issued.afresh {
        true => "chosen afresh, not from",
        false => "starts from",
    };
    Some(format!(
        "{way} {} as issued: {}",
        was.called(),
        counts(changes)
    ))
}

fn counts(changes: &Changes) -> String {
    format!(
        "{} moved, {} added, {} removed, {} untouched",
        changes.count(How::Moved),
        changes.count(How::Added),
        changes.count(How::Removed),
        changes.unmoved()
    )
}

/// What choosing everything anew comes to beside holding what was issued.
#[must_use]
pub fn difference(afresh: &Job, held: &Job) -> String {
    let (new, old) = (&afresh.quote.totals, &held.quote.totals);
    let currency = &afresh.quote.currency;
    let less = old.net - new.net;
    let compared = match less {
        less if less > Decimal::ZERO => format!("{less} {currency} less than"),
        less if less < Decimal::ZERO => format!("{} {currency} more than", -less),
        _ => "the same as".to_owned(),
    };
    let kept = held.allocation.changes.as_ref().map(counts);
    format!(
        "net total afresh {} {currency}: {compared} with what was issued held ({})",
        new.net,
        kept.unwrap_or_default()
    )
}

fn listed(job: &Job, was: &Record, changes: &Changes) -> Part {
    let mut table = Table::new(vec![
        Column::number("change", "No."),
        Column::text("kind", "What").data_only(),
        Column::text("subject", "Which"),
        Column::text("change_kind", "Change"),
        Column::long_text("was", "Was"),
        Column::long_text("now", "Now"),
        Column::long_text("reason", "Because"),
    ]);
    let mut kind = None;
    for (number, change) in (1..).zip(&changes.list) {
        if kind != Some(change.kind) {
            kind = Some(change.kind);
            table.group(capital(&change.kind.plural()));
        }
        table.row(vec![
            Cell::count(number),
            Cell::text(change.kind.name()),
            Cell::text(&change.subject),
            Cell::text(change.how.name()),
            Cell::text(&change.was),
            Cell::text(&change.now),
            Cell::text(&change.reason),
        ]);
    }
    let mut part = Part::table("changes", format!("Since {}", was.called()), table);
    let how = if job.project.issued.afresh {
        " Everything was chosen afresh: nothing was held."
    } else {
        ""
    };
    part.text = vec![format!("{}.{how}", capital(&counts(changes)))];
    if was.inputs == job.project.issued.inputs {
        part.text
            .push("The project and its catalogues are as they were when it was issued.".to_owned());
    }
    if changes.list.is_empty() {
        part.table = None;
    }
    part
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

fn untouched(changes: &Changes) -> Part {
    let mut table = Table::new(vec![
        Column::long_text("kind", "What"),
        Column::number("untouched", "Untouched"),
    ]);
    for (kind, count) in &changes.untouched {
        table.row(vec![Cell::text(kind.name()), Cell::count(*count)]);
    }
    table.total("All", vec![("untouched", Cell::count(changes.unmoved()))]);
    Part::table("untouched", "As it was issued", table)
}

/// Lines of one item and description together.
type Lines<'a> = BTreeMap<(&'a str, &'a str), (Decimal, Option<Decimal>)>;

fn lines(prices: &Prices) -> Lines<'_> {
    let mut lines = Lines::new();
    for PriceLine {
        item,
        description,
        quantity,
        price,
    } in &prices.lines
    {
        let entry = lines.entry((item, description));
        let (sum, total) = entry.or_insert((Decimal::ZERO, Some(Decimal::ZERO)));
        *sum += quantity;
        *total = total.zip(*price).map(|(total, price)| total + price);
    }
    lines
}

/// A line that is not as it was: quantity and price then and now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PriceRow {
    /// Catalogue id, `labour`, `commissioning` or `provisional sum`.
    pub item: String,
    /// Description.
    pub description: String,
    /// Quantity and price then; nothing when it was not there.
    pub was: (Decimal, Option<Decimal>),
    /// Quantity and price now; nothing when it is not there.
    pub now: (Decimal, Option<Decimal>),
}

impl PriceRow {
    /// What the price changed by; `None` when one of the two is not known.
    #[must_use]
    pub fn difference(&self) -> Option<Decimal> {
        self.now.1.zip(self.was.1).map(|(now, was)| now - was)
    }

    /// What about it is not as it was.
    #[must_use]
    pub fn reason(&self) -> String {
        let amount = |(quantity, price)| Amount { quantity, price };
        let unit = match self.item.as_str() {
            "labour" | "commissioning" => "h",
            "provisional sum" => "sum",
            _ => "",
        };
        what_changed(&amount(self.was), &amount(self.now), unit)
    }
}

/// The lines that are not as they were, the largest difference first, and how many are.
#[must_use]
pub fn price_rows(was: &Prices, now: &Prices) -> (Vec<PriceRow>, usize) {
    let (old, new) = (lines(was), lines(now));
    let mut keys: Vec<&(&str, &str)> = old.keys().chain(new.keys()).collect();
    keys.sort_unstable();
    keys.dedup();
    let nothing = (Decimal::ZERO, Some(Decimal::ZERO));
    let row = |key: &&(&str, &str)| PriceRow {
        item: key.0.to_owned(),
        description: key.1.to_owned(),
        was: old.get(*key).copied().unwrap_or(nothing),
        now: new.get(*key).copied().unwrap_or(nothing),
    };
    let all: Vec<PriceRow> = keys.iter().map(row).collect();
    let (same, mut rows): (Vec<PriceRow>, Vec<PriceRow>) =
        all.into_iter().partition(|row| row.was == row.now);
    rows.sort_by_key(|row| {
        let size = row.difference().map(|difference| difference.abs());
        (size.is_some(), std::cmp::Reverse(size))
    });
    (rows, same.len())
}

fn prices(was: &Prices, now: &Prices, called: &str) -> Part {
    let mut table = Table::new(vec![
        Column::text("item", "Item"),
        Column::long_text("description", "Description"),
        Column::number("quantity_was", "Was"),
        Column::number("quantity_now", "Now"),
        Column::number("price_was", "Price was"),
        Column::number("price_now", "Price now"),
        Column::number("difference", "Difference"),
        Column::long_text("reason", "Why"),
    ]);
    let (rows, same) = price_rows(was, now);
    for row in rows {
        let money = |price| Cell::money(price, "the catalogue has no price");
        table.row(vec![
            Cell::text(&row.item),
            Cell::text(&row.description),
            Cell::Decimal(row.was.0),
            Cell::Decimal(row.now.0),
            money(row.was.1),
            money(row.now.1),
            money(row.difference()),
            Cell::text(row.reason()),
        ]);
    }
    let unpriced = |prices: &Prices| {
        let lines = prices.lines.iter();
        lines.filter(|line| line.price.is_none()).count()
    };
    let lacks = lacking::then_and_now(unpriced(was), unpriced(now));
    table.total(
        &format!("Net total{lacks}"),
        vec![
            ("price_was", Cell::Money(was.net)),
            ("price_now", Cell::Money(now.net)),
            ("difference", Cell::Money(now.net - was.net)),
        ],
    );
    let mut part = Part::table("change-prices", format!("Price since {called}"), table);
    part.notes.push(format!(
        "{} as they were. Prices are selling prices before tax.",
        match same {
            1 => "1 line is".to_owned(),
            _ => format!("{} are", counted(same, "line")),
        }
    ));
    if was.currency != now.currency {
        part.notes.push(format!(
            "The issue was priced in {}: the difference is no amount of money.",
            was.currency
        ));
    }
    part
}

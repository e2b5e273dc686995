//! Lines of the price that differ between two jobs: quantity, price, and why.

use super::{Change, Untouched};
use crate::present::document::unit_of;
use crate::present::job::Job;
use crate::price::priced::{LabourLine, Line, Provisional};
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};

/// Names written out in a reason; more are counted.
const MOST_NAMES: usize = 4;

/// Quantity and price of a line in one job.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Amount {
    /// Quantity sold.
    pub quantity: Decimal,
    /// Selling price of the line; `None` when there is none.
    pub price: Option<Decimal>,
}

/// A line that differs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineChange {
    /// Added, removed or changed.
    pub change: Change,
    /// `materials`, `labour`, `commissioning` or `provisional sums`.
    pub section: &'static str,
    /// Its number in the new quotation, or in the old one when it was removed.
    pub line: usize,
    /// Catalogue id; empty for what is not material.
    pub item: String,
    /// Description, or the work.
    pub description: String,
    /// What its quantity counts.
    pub unit: &'static str,
    /// In the old job.
    pub old: Option<Amount>,
    /// In the new job.
    pub new: Option<Amount>,
    /// New price less old; `None` when one of them is not known.
    pub difference: Option<Decimal>,
    /// Why.
    pub reason: String,
}

/// The lines that differ, and how many are alike.
pub(super) struct Lines {
    pub changes: Vec<LineChange>,
    pub untouched: Vec<Untouched>,
}

/// A line of either section.
struct Sold<'a> {
    section: &'static str,
    number: usize,
    item: &'a str,
    description: &'a str,
    unit: &'static str,
    amount: Amount,
    used_for: &'a [String],
}

/// What makes two lines the same one.
type Key<'a> = (&'static str, &'a str, &'a str, &'static str, usize);

/// Compares section by section. `touched` are the runs that differ.
pub(super) fn compare(old: &Job, new: &Job, touched: &BTreeSet<String>) -> Lines {
    let mut changes = Vec::new();
    let mut untouched = Vec::new();
    for (what, sold) in SECTIONS {
        let (old, new) = (by_key(sold(old)), by_key(sold(new)));
        let mut alike = 0;
        for (key, now) in &new {
            match old.get(key) {
                None => changes.push(added(now)),
                Some(was) if was.amount == now.amount => alike += 1,
                Some(was) => changes.push(changed(was, now, touched)),
            }
        }
        let gone = old.iter().filter(|(key, _)| !new.contains_key(*key));
        changes.extend(gone.map(|(_, was)| removed(was)));
        untouched.push(Untouched {
            what,
            alike,
            of: new.len(),
        });
    }
    // What has no difference that is known comes first: it can't be weighed.
    changes.sort_by_key(|line| {
        let size = line.difference.map(|it| it.abs());
        (
            size.is_some(),
            std::cmp::Reverse(size),
            line.section,
            line.line,
        )
    });
    Lines { changes, untouched }
}

/// How the lines of a section are had.
type SoldOf = fn(&Job) -> Vec<Sold<'_>>;

/// Sections of the price: what their lines are called, and how they are had.
const SECTIONS: [(&str, SoldOf); 4] = [
    ("material lines", |job| {
        job.quote.lines.iter().map(material).collect()
    }),
    ("labour lines", |job| works("labour", &job.quote.labour)),
    ("commissioning lines", |job| {
        works("commissioning", &job.quote.commissioning)
    }),
    ("provisional sums", |job| {
        (1..).zip(&job.quote.provisional).map(provisional).collect()
    }),
];

/// Lines by what they are; those that are called the same are told apart by their order.
fn by_key(lines: Vec<Sold<'_>>) -> BTreeMap<Key<'_>, Sold<'_>> {
    let mut by_key = BTreeMap::new();
    for line in lines {
        let mut key = (line.section, line.item, line.description, line.unit, 0);
        while by_key.contains_key(&key) {
            key.4 += 1;
        }
        by_key.insert(key, line);
    }
    by_key
}

fn material(line: &Line) -> Sold<'_> {
    Sold {
        section: "materials",
        number: line.number,
        item: &line.item,
        description: &line.description,
        unit: unit_of(line),
        amount: Amount {
            quantity: line.quantity().normalize(),
            price: line.sell,
        },
        used_for: &line.used_for,
    }
}

fn works<'a>(section: &'static str, lines: &'a [LabourLine]) -> Vec<Sold<'a>> {
    let numbered = (1..).zip(lines);
    numbered
        .map(|(number, line)| Sold {
            section,
            number,
            item: "",
            description: &line.work,
            unit: "h",
            amount: Amount {
                quantity: line.hours.normalize(),
                price: line.sell,
            },
            used_for: &[],
        })
        .collect()
}

fn provisional((number, sum): (usize, &Provisional)) -> Sold<'_> {
    Sold {
        section: "provisional sums",
        number,
        item: "",
        description: &sum.what,
        unit: "sum",
        amount: Amount {
            quantity: Decimal::ONE,
            price: Some(sum.sell),
        },
        used_for: &[],
    }
}

fn one_sided(line: &Sold, change: Change, reason: String) -> LineChange {
    let amount = Some(line.amount);
    let (old, new, difference) = match change {
        Change::Removed => (amount, None, line.amount.price.map(|price| -price)),
        _ => (None, amount, line.amount.price),
    };
    LineChange {
        change,
        section: line.section,
        line: line.number,
        item: line.item.to_owned(),
        description: line.description.to_owned(),
        unit: line.unit,
        old,
        new,
        difference,
        reason,
    }
}

fn added(line: &Sold) -> LineChange {
    one_sided(line, Change::Added, for_runs("needed", line.used_for))
}

fn removed(line: &Sold) -> LineChange {
    one_sided(line, Change::Removed, for_runs("was needed", line.used_for))
}

fn for_runs(start: &str, names: &[String]) -> String {
    if names.is_empty() {
        return String::new();
    }
    format!("{start} for {}", listed(names))
}

fn changed(was: &Sold, now: &Sold, touched: &BTreeSet<String>) -> LineChange {
    let difference = now.amount.price.zip(was.amount.price);
    LineChange {
        old: Some(was.amount),
        new: Some(now.amount),
        difference: difference.map(|(now, was)| now - was),
        reason: why(was, now, touched),
        ..one_sided(now, Change::Changed, String::new())
    }
}

/// What about a line is not as it was, and which runs that comes from.
fn why(was: &Sold, now: &Sold, touched: &BTreeSet<String>) -> String {
    let mut more = more_or_less(&was.amount, &now.amount, now.unit);
    let runs = behind(was, now, touched);
    if let Some(more) = more.as_mut().filter(|_| !runs.is_empty()) {
        more.push_str(&format!(": {}", listed(&runs)));
    }
    joined(more, other_price(&was.amount, &now.amount, now.unit))
}

/// What about a quantity and its price is not as it was: `2 reels less; another price of one`. Of a
/// line that was not there, or is not any more, that.
#[must_use]
pub fn what_changed(was: &Amount, now: &Amount, unit: &str) -> String {
    match (was.quantity.is_zero(), now.quantity.is_zero()) {
        (true, false) => "was not there".to_owned(),
        (false, true) => "not there any more".to_owned(),
        _ => joined(more_or_less(was, now, unit), other_price(was, now, unit)),
    }
}

fn joined(more: Option<String>, price: Option<&str>) -> String {
    let price = price.map(str::to_owned);
    let reasons: Vec<String> = [more, price].into_iter().flatten().collect();
    reasons.join("; ")
}

/// `2 reels less`.
fn more_or_less(was: &Amount, now: &Amount, unit: &str) -> Option<String> {
    let more = now.quantity - was.quantity;
    let word = if more > Decimal::ZERO { "more" } else { "less" };
    let count = more.abs().normalize();
    let several = matches!(unit, "reel" | "bar" | "drum") && count != Decimal::ONE;
    let unit = match (unit, several) {
        ("", _) => String::new(),
        (unit, true) => format!("{unit}s "),
        (unit, false) => format!("{unit} "),
    };
    (!more.is_zero()).then(|| format!("{count} {unit}{word}"))
}

fn other_price(was: &Amount, now: &Amount, unit: &str) -> Option<&'static str> {
    match (was.price, now.price) {
        (Some(_), None) => Some("no price any more"),
        (None, Some(_)) => Some("had no price"),
        (Some(old), Some(new)) if other_rate(was, now, old, new) => Some(match unit {
            "h" => "another rate",
            "sum" => "another sum",
            _ => "another price of one",
        }),
        _ => None,
    }
}

/// Whether the price of one differs by more than rounding the lines explains.
fn other_rate(was: &Amount, now: &Amount, old: Decimal, new: Decimal) -> bool {
    let (Some(before), Some(after)) =
        (old.checked_div(was.quantity), new.checked_div(now.quantity))
    else {
        return false;
    };
    let least = was.quantity.min(now.quantity);
    let unit = Decimal::new(1, old.scale().max(new.scale()));
    let rounding = unit.checked_div(least).unwrap_or(unit);
    (after - before).abs() > rounding
}

/// The runs behind a changed quantity: those that only one of the lines serves, and those that
/// differ themselves.
fn behind(was: &Sold, now: &Sold, touched: &BTreeSet<String>) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for name in now.used_for.iter().chain(was.used_for) {
        let one_sided = !now.used_for.contains(name) || !was.used_for.contains(name);
        if (one_sided || touched.contains(name)) && !names.contains(name) {
            names.push(name.clone());
        }
    }
    names
}

/// Names with commas, the first few of many.
fn listed(names: &[String]) -> String {
    let shown: Vec<&str> = names.iter().take(MOST_NAMES).map(String::as_str).collect();
    let rest = names.len().saturating_sub(MOST_NAMES);
    match rest {
        0 => shown.join(", "),
        _ => format!("{} and {rest} more", shown.join(", ")),
    }
}

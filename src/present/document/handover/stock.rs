//! What was fitted by catalogue item, and how many spares there are.

use super::super::cell::joined;
use super::super::quote::{kind_heading, unit};
use super::super::{Cell, Column, Part, Table};
use crate::model::offer::ItemKind;
use crate::present::job::Job;
use crate::present::measured;
use crate::price::priced::{CutStock, Line};
use crate::quantity::Length;
use crate::quantity::figure::{Figure, Unit};
use rust_decimal::Decimal;

/// Kinds that fail or are damaged in use: spares of them are asked after (common practice, no source).
const WEARING: [ItemKind; 5] = [
    ItemKind::Strip,
    ItemKind::Driver,
    ItemKind::Controller,
    ItemKind::BusSupply,
    ItemKind::ControlDevice,
];

/// An item in one unit, in the order of the materials list.
struct Held<'a> {
    line: &'a Line,
    needed: Decimal,
    spare: Decimal,
}

/// The part with the list.
pub(super) fn part(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("kind", "Kind").data_only(),
        Column::text("item", "Item"),
        Column::long_text("description", "Description"),
        Column::number("needed", "For the job"),
        Column::number("spare", "Spare"),
        Column::text("unit", "Unit"),
        Column::text("batch", "Batch, bin"),
        Column::text("spare_at", "Spare kept at").paper_only(),
    ]);
    let held = held(job);
    let mut kind = None;
    for one in &held {
        if kind != Some(one.line.kind) {
            kind = Some(one.line.kind);
            table.group(kind_heading(one.line));
        }
        table.row(vec![
            Cell::text(one.line.kind.name()),
            Cell::text(&one.line.item),
            Cell::text(own_words(one.line)),
            counted(one.needed),
            counted(one.spare),
            Cell::text(unit(one.line)),
            Cell::Blank,
            Cell::Blank,
        ]);
    }
    let mut part = Part::table("handover-stock", "Parts and spares", table);
    part.notes.extend(without_spares(&held));
    part.notes.extend(offcuts(job));
    part
}

/// The description without the word by which the materials list tells spares apart.
fn own_words(line: &Line) -> &str {
    let words = line.description.as_str();
    words.strip_suffix(", spare").unwrap_or(words)
}

/// Nothing where there is none: most items have no spare.
fn counted(count: Decimal) -> Cell {
    if count.is_zero() {
        Cell::Empty
    } else {
        Cell::Decimal(count.normalize())
    }
}

fn held(job: &Job) -> Vec<Held<'_>> {
    let mut all: Vec<Held> = Vec::new();
    for line in &job.quote.lines {
        let (needed, spare) = match line.spare {
            true => (Decimal::ZERO, line.quantity()),
            false => (line.needed, Decimal::ZERO),
        };
        let same = |one: &&mut Held| {
            one.line.kind == line.kind
                && one.line.item == line.item
                && own_words(one.line) == own_words(line)
                && one.line.measured == line.measured
        };
        match all.iter_mut().find(same) {
            Some(one) => {
                one.needed += needed;
                one.spare += spare;
            }
            None => all.push(Held {
                line,
                needed,
                spare,
            }),
        }
    }
    all
}

/// The items that can fail of which the job has no spare at all.
fn without_spares(held: &[Held]) -> Option<String> {
    let mut items: Vec<&str> = Vec::new();
    for one in held.iter().filter(|one| WEARING.contains(&one.line.kind)) {
        let item = one.line.item.as_str();
        let mut same = held.iter().filter(|it| it.line.item == item);
        if same.all(|it| it.spare.is_zero()) && !items.contains(&item) {
            items.push(item);
        }
    }
    (!items.is_empty()).then(|| {
        format!(
            "No spare was bought of: {}. Agree where one comes from and how long that takes.",
            joined(items)
        )
    })
}

/// The offcuts that are kept, by item.
fn offcuts(job: &Job) -> Option<String> {
    let mut kept: Vec<(&str, usize, Length)> = Vec::new();
    let stays =
        |stock: &&CutStock| stock.kept == Some(true) && measured::millimetres(stock.offcut) >= 0.5;
    for stock in job.quote.cuts.iter().filter(stays) {
        match kept.iter_mut().find(|(item, _, _)| *item == stock.item) {
            Some((_, count, length)) => {
                *count += 1;
                *length += stock.offcut;
            }
            None => kept.push((&stock.item, 1, stock.offcut)),
        }
    }
    let words = kept.iter().map(|(item, count, length)| {
        let length = Figure::new(measured::metres(*length), Unit::Metre);
        let pieces = if *count == 1 { "piece" } else { "pieces" };
        format!("{item} {count} {pieces}, {length} in all")
    });
    let words: Vec<String> = words.collect();
    (!words.is_empty()).then(|| {
        format!(
            "Offcuts kept beside these, as the cutting list has them: {}. Strip for a repair in \
             view comes from the same bin.",
            words.join("; ")
        )
    })
}

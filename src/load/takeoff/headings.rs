//! Which row names the columns, what each column holds, and in which unit.

use super::fields::{self, Field, FieldUnit, Kind};
use super::sheet::{Sheet, SheetRow, letter};
use super::{Asked, ReadColumn};
use crate::diagnostic::Diagnostic;
use crate::load::nearest::{hint, nearest};

/// Rows among which the headings are looked for.
const LOOKED_AT: usize = 40;
/// Columns that a row must name to be the row of headings.
const LEAST_NAMED: usize = 2;

/// A column that a run is made from.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Where it is, from 0.
    pub at: usize,
    /// What it holds.
    pub field: &'static Field,
    /// The unit of its bare numbers.
    pub unit: Option<FieldUnit>,
}

/// The columns of a sheet.
#[derive(Debug, Clone)]
pub struct Columns {
    /// The row that names them.
    pub headings: SheetRow,
    /// The row of units under it, if any.
    pub units: Option<usize>,
    /// Those that a run is made from.
    pub columns: Vec<Column>,
    /// All, as they were read.
    pub read: Vec<ReadColumn>,
}

impl Columns {
    /// The column of a key.
    #[must_use]
    pub fn of(&self, key: &str) -> Option<&Column> {
        self.columns.iter().find(|column| column.field.key == key)
    }

    /// The heading of a column.
    #[must_use]
    pub fn heading(&self, at: usize) -> String {
        let text = self
            .headings
            .cell(at)
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ");
        if text.is_empty() {
            format!("column {}", letter(at))
        } else {
            text
        }
    }
}

/// Finds the row of headings: of the first rows, that which names most columns.
///
/// # Errors
/// When no row names a run's columns, when two name the same, or a mapping does not fit.
pub fn find(sheet: &Sheet, name: &str, asked: &Asked) -> Result<Columns, Diagnostic> {
    check_keys(asked)?;
    let mut best: Option<(usize, usize)> = None;
    for (index, row) in sheet.rows.iter().take(LOOKED_AT).enumerate() {
        let named = row
            .filled()
            .filter(|(_, text)| field_of(text, asked).is_some())
            .count();
        if named >= LEAST_NAMED && best.is_none_or(|(most, _)| named > most) {
            best = Some((named, index));
        }
    }
    let found = best.and_then(|(_, index)| sheet.rows.get(index).map(|row| (index, row)));
    let Some((index, row)) = found else {
        return Err(no_headings(sheet, name));
    };
    check_map(row, name, asked)?;
    let mut columns: Vec<Column> = Vec::new();
    for (at, text) in row.filled() {
        let Some((field, unit)) = field_of(text, asked) else {
            continue;
        };
        let unit = unit.filter(|unit| fits(*unit, field));
        match columns.iter().find(|column| column.field.key == field.key) {
            Some(other) if is_mapped(text, asked) == is_mapped(row.cell(other.at), asked) => {
                return Err(twice(name, row, other, at, field));
            }
            // One of the two was mapped to the key: the other is a remark.
            Some(_) if !is_mapped(text, asked) => {}
            _ => {
                columns.retain(|column| column.field.key != field.key);
                columns.push(Column { at, field, unit });
            }
        }
    }
    let units = units_below(sheet, index, &mut columns);
    let read = row
        .cells
        .iter()
        .enumerate()
        .filter(|(_, text)| !text.is_empty())
        .map(|(at, text)| read_column(at, text, &columns))
        .collect();
    Ok(Columns {
        headings: row.clone(),
        units,
        columns,
        read,
    })
}

fn read_column(at: usize, text: &str, columns: &[Column]) -> ReadColumn {
    let column = columns.iter().find(|column| column.at == at);
    ReadColumn {
        column: letter(at),
        heading: text.split_whitespace().collect::<Vec<_>>().join(" "),
        key: column.map(|column| column.field.key),
        unit: column.and_then(|column| column.unit),
    }
}

/// Whether a unit is one of what the field measures.
fn fits(unit: FieldUnit, field: &Field) -> bool {
    match field.kind {
        Kind::Length | Kind::Distance => !unit.temperature,
        Kind::Temperature => unit.temperature,
        _ => false,
    }
}

fn is_mapped(heading: &str, asked: &Asked) -> bool {
    let plain = fields::plain(heading);
    asked
        .map
        .iter()
        .any(|(_, wanted)| fields::plain(wanted) == plain)
}

/// What a heading names, and the unit in it.
fn field_of(heading: &str, asked: &Asked) -> Option<(&'static Field, Option<FieldUnit>)> {
    let plain = fields::plain(heading);
    if plain.is_empty() {
        return None;
    }
    let (without, unit) = split_unit(heading);
    let mapped = asked
        .map
        .iter()
        .find(|(_, wanted)| fields::plain(wanted) == plain);
    if let Some((key, _)) = mapped {
        return fields::of_key(key).map(|field| (field, unit.or_else(|| fields::unit(&plain))));
    }
    if let Some(field) = fields::named(heading) {
        return Some((field, fields::unit(&plain).or(unit)));
    }
    fields::named(&without).map(|field| (field, unit))
}

/// A heading without its unit, and the unit: in brackets anywhere, or its last word.
fn split_unit(heading: &str) -> (String, Option<FieldUnit>) {
    if let Some((before, rest)) = heading.split_once(['(', '['])
        && let Some((inside, after)) = rest.split_once([')', ']'])
    {
        return (format!("{before} {after}"), fields::unit(inside));
    }
    let trimmed = heading.trim();
    let last = trimmed.rfind([' ', '/', ',', '_', '\n', '-']);
    if let Some((before, word)) = last.and_then(|at| trimmed.split_at_checked(at))
        && let Some(unit) = fields::unit(word.trim_start_matches([' ', '/', ',', '_', '\n', '-']))
    {
        let before = before.trim_end();
        let before = before.strip_suffix(" in").unwrap_or(before);
        return (before.to_owned(), Some(unit));
    }
    (heading.to_owned(), None)
}

/// Takes units from the row under the headings, when it holds nothing but units.
fn units_below(sheet: &Sheet, index: usize, columns: &mut [Column]) -> Option<usize> {
    let row = sheet.rows.get(index + 1)?;
    let bare = |text: &str| text.trim_matches(['(', ')', '[', ']']).to_owned();
    if !row
        .filled()
        .all(|(_, text)| fields::unit(&bare(text)).is_some())
    {
        return None;
    }
    for column in columns {
        let below =
            fields::unit(&bare(row.cell(column.at))).filter(|unit| fits(*unit, column.field));
        column.unit = below.or(column.unit);
    }
    Some(row.number)
}

fn check_keys(asked: &Asked) -> Result<(), Diagnostic> {
    let keys: Vec<&str> = fields::FIELDS.iter().map(|field| field.key).collect();
    for (key, _) in &asked.map {
        if fields::of_key(key).is_none() {
            let near = hint(key, &keys);
            let message = format!("`--map {key}=…`: a run has no key `{key}`{near}");
            let known = format!("keys are {}", keys.join(", "));
            return Err(Diagnostic::error("bad-map", message).help(known));
        }
    }
    Ok(())
}

fn check_map(row: &SheetRow, name: &str, asked: &Asked) -> Result<(), Diagnostic> {
    for (key, wanted) in &asked.map {
        let plain = fields::plain(wanted);
        if row.filled().any(|(_, text)| fields::plain(text) == plain) {
            continue;
        }
        let there: Vec<&str> = row.filled().map(|(_, text)| text).collect();
        let near = nearest(wanted, there.iter().copied());
        let near = near.map_or(String::new(), |near| format!(" (did you mean `{near}`?)"));
        let message = format!(
            "`--map {key}={wanted}`: row {} of {name} has no heading `{wanted}`{near}",
            row.number
        );
        return Err(Diagnostic::error("bad-map", message)
            .help(format!("its headings are {}", there.join(", "))));
    }
    Ok(())
}

fn twice(name: &str, row: &SheetRow, first: &Column, second: usize, field: &Field) -> Diagnostic {
    let message = format!(
        "row {} of {name} has two columns for `{}`: {} `{}` and {} `{}`",
        row.number,
        field.key,
        letter(first.at),
        row.cell(first.at),
        letter(second),
        row.cell(second),
    );
    let help = format!(
        "say which with `--map \"{}={}\"`; the other is then kept as a remark",
        field.key,
        row.cell(first.at)
    );
    Diagnostic::error("two-columns", message).help(help)
}

fn no_headings(sheet: &Sheet, name: &str) -> Diagnostic {
    let first = sheet.rows.first().map_or(String::new(), SheetRow::text);
    let first: String = first.chars().take(60).collect();
    let sheet_name = sheet
        .name
        .as_ref()
        .map_or(String::new(), |one| format!("sheet `{one}` of "));
    let message = format!(
        "no row of {sheet_name}{name} names columns that a run has; it begins with `{}`",
        crate::diagnostic::visible(&first)
    );
    if sheet.rows.is_empty() {
        let message = format!("{sheet_name}{name} holds nothing");
        return Diagnostic::error("empty-take-off", message);
    }
    Diagnostic::error("no-headings", message)
        .help("a take-off has a row of headings, such as `Run, Room, Strip, Length (m), To start (m)`")
        .help("headings in other words are mapped: `--map \"length=Lfd m\"`")
}

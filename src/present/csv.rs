//! Tables as comma-separated values: one file a table, headings that do not change, numbers plain
//! and unrounded, text that no spreadsheet takes for a formula.

use super::document::{Cell, Column, Document, Part, RowKind, Showing};
use super::measured::written;
use super::money;
use super::printable::printable;
use std::borrow::Cow;

/// A table as a file: its name without ending, and its text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct File {
    /// Name without ending.
    pub name: &'static str,
    /// Contents.
    pub text: String,
}

/// The heading of the last column, which says why a figure is `?`.
pub const NOTES: &str = "notes";

/// The tables of a document. Parts of one name go into one file; group headings and totals are
/// left out, since a program reads the rows and the group is a column of its own.
///
/// # Errors
/// When the rows of one name differ in number of columns, which is a fault of this program.
pub fn files(document: &Document) -> Result<Vec<File>, csv::Error> {
    let mut files: Vec<(&'static str, csv::Writer<Vec<u8>>)> = Vec::new();
    for part in document.parts.iter().filter(|part| part.table.is_some()) {
        let known = files.iter().position(|(name, _)| *name == part.name);
        let index = match known {
            Some(index) => index,
            None => {
                let mut writer = csv::Writer::from_writer(Vec::new());
                writer.write_record(headings(part))?;
                files.push((part.name, writer));
                files.len() - 1
            }
        };
        if let Some((_, writer)) = files.get_mut(index) {
            write_rows(writer, part, document.decimals)?;
        }
    }
    files.into_iter().map(finished).collect()
}

fn finished((name, writer): (&'static str, csv::Writer<Vec<u8>>)) -> Result<File, csv::Error> {
    let bytes = writer
        .into_inner()
        .map_err(|error| csv::Error::from(error.into_error()))?;
    let text = String::from_utf8_lossy(&bytes).into_owned();
    Ok(File { name, text })
}

fn is_data(column: &Column) -> bool {
    column.showing != Showing::PaperOnly
}

fn headings(part: &Part) -> Vec<&str> {
    let columns = part.table.iter().flat_map(|table| &table.columns);
    columns
        .filter(|column| is_data(column))
        .map(|column| column.key.as_str())
        .chain([NOTES])
        .collect()
}

fn write_rows(
    writer: &mut csv::Writer<Vec<u8>>,
    part: &Part,
    decimals: u32,
) -> Result<(), csv::Error> {
    let Some(table) = &part.table else {
        return Ok(());
    };
    for row in table.rows.iter().filter(|row| row.kind == RowKind::Body) {
        let mut record: Vec<String> = Vec::new();
        let mut notes: Vec<String> = Vec::new();
        for (column, cell) in table.columns.iter().zip(&row.cells) {
            if is_data(column) {
                record.push(field(cell, decimals));
                if let Cell::Unknown(why) = cell {
                    notes.push(format!("{}: {why}", column.key));
                }
            }
        }
        record.push(guarded(&notes.join("; ")).into_owned());
        writer.write_record(record)?;
    }
    Ok(())
}

fn field(cell: &Cell, decimals: u32) -> String {
    match cell {
        Cell::Text(text) => guarded(text).into_owned(),
        Cell::Figure(figure) => {
            written(figure.value).map_or_else(|| "?".to_owned(), |n| n.to_string())
        }
        Cell::Money(amount) => money::shown(*amount, decimals),
        Cell::Decimal(number) => number.normalize().to_string(),
        Cell::Verdict(word) => (*word).to_owned(),
        Cell::Unknown(_) => "?".to_owned(),
        Cell::Blank | Cell::Empty => String::new(),
    }
}

/// Text that begins as a formula would gets an apostrophe before it, which spreadsheets take as
/// the sign of text.
fn guarded(text: &str) -> Cow<'_, str> {
    let starts_a_formula =
        text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠']);
    if starts_a_formula {
        Cow::Owned(format!("'{}", printable(text)))
    } else {
        printable(text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_are_turned_into_text_and_numbers_are_not() {
        for text in ["=1+1", "+1", "-1", "@sum(a1)", "\t=1", "\r=1"] {
            assert!(guarded(text).starts_with('\''), "{text:?}");
        }
        assert_eq!(guarded("hall-cove"), "hall-cove");
        let minus = Cell::figure(-1.5, crate::quantity::figure::Unit::Percent);
        assert_eq!(field(&minus, 2), "-1.5");
    }
}

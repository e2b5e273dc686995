//! A file's bytes → rows of cells, whatever kind of table it is.

use super::cell::LITERAL;
use super::{delimited, workbook};
use crate::diagnostic::Diagnostic;

/// Cells that are read at most.
pub const MOST_CELLS: usize = 4_000_000;

/// A sheet of cells.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Its name in a workbook.
    pub name: Option<String>,
    /// The rows that hold anything, in order.
    pub rows: Vec<SheetRow>,
    /// Whether commas cannot be decimal signs, because they part the cells and none is quoted.
    pub comma_parts: bool,
}

/// A row of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetRow {
    /// Its number, from 1.
    pub number: usize,
    /// Its cells from the first column on, spaces around them taken off.
    pub cells: Vec<String>,
}

impl SheetRow {
    /// The text of a cell; empty where the row ends before it.
    #[must_use]
    pub fn cell(&self, column: usize) -> &str {
        self.cells.get(column).map_or("", String::as_str)
    }

    /// The cells that hold anything, joined.
    #[must_use]
    pub fn text(&self) -> String {
        let filled: Vec<&str> = self.filled().map(|(_, text)| text).collect();
        filled.join(" | ")
    }

    /// The cells that hold anything, each with its column.
    pub fn filled(&self) -> impl Iterator<Item = (usize, &str)> {
        let cells = self.cells.iter().map(String::as_str).enumerate();
        cells.filter(|(_, text)| !text.is_empty())
    }
}

/// A cell without the spaces around it, unless it is marked to be taken literally.
#[must_use]
pub fn trimmed(cell: &str) -> String {
    let cell = if cell.starts_with(LITERAL) {
        cell
    } else {
        cell.trim()
    };
    cell.to_owned()
}

/// The letter or letters of a column, from 0: `A`, `Z`, `AA`.
#[must_use]
pub fn letter(column: usize) -> String {
    let mut left = column;
    let mut letters = Vec::new();
    loop {
        let digit = u8::try_from(left % 26).unwrap_or(0);
        letters.push(char::from(b'A' + digit));
        match (left / 26).checked_sub(1) {
            Some(next) => left = next,
            None => break,
        }
    }
    letters.iter().rev().collect()
}

/// The sheets of a file: one when it is text.
///
/// # Errors
/// When it is neither a workbook nor a table of text, or holds nothing.
pub fn sheets(bytes: &[u8], name: &str) -> Result<Vec<Sheet>, Diagnostic> {
    if bytes.starts_with(b"PK\x03\x04") {
        return workbook::sheets(bytes, name);
    }
    if bytes.starts_with(b"\xd0\xcf\x11\xe0") {
        let message = format!("{name} is a workbook of an old binary kind");
        return Err(Diagnostic::error("old-workbook", message).help("save it as .xlsx or as CSV"));
    }
    let named_workbook = name.to_ascii_lowercase().ends_with(".xlsx");
    if named_workbook {
        let message = format!("{name} is called .xlsx and is not a workbook: it is no zip archive");
        return Err(Diagnostic::error("not-a-workbook", message)
            .help("if it is a table of text, give it a name that ends in .csv"));
    }
    delimited::sheet(bytes, name).map(|sheet| vec![sheet])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ok_columns_are_lettered_as_in_a_spreadsheet() {
        let letters: Vec<_> = [0, 25, 26, 51, 52, 701, 702].map(letter).into();
        assert_eq!(letters, ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    }
}

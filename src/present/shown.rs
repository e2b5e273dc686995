//! Cells as people read them, on a screen and on paper.

use super::document::{Align, Cell, Column, Document, Part, Row, Showing};
use super::money;
use super::printable::printable;
use crate::quantity::figure::Unit;

/// Why figures are not known, each reason once, numbered in order of appearance.
#[derive(Debug, Default)]
pub struct Notes {
    reasons: Vec<String>,
}

impl Notes {
    /// The mark that stands in place of the figure: `?1`.
    fn mark(&mut self, why: &str) -> String {
        let known = self.reasons.iter().position(|reason| reason == why);
        let index = known.unwrap_or_else(|| {
            self.reasons.push(why.to_owned());
            self.reasons.len() - 1
        });
        format!("?{}", index + 1)
    }

    /// The notes, each with its mark.
    pub fn lines(&self) -> impl Iterator<Item = String> {
        self.reasons
            .iter()
            .enumerate()
            .map(|(index, reason)| format!("?{}  {}", index + 1, printable(reason)))
    }
}

/// The text of a cell; `decimals` are the currency's.
pub fn text(cell: &Cell, column: &Column, decimals: u32, notes: &mut Notes) -> String {
    match cell {
        Cell::Text(text) => printable(text).into_owned(),
        Cell::Figure(figure) if column.unit == Some(figure.unit) => figure.number(),
        Cell::Figure(figure) => figure.to_string(),
        Cell::Money(amount) => money::shown(*amount, decimals),
        Cell::Decimal(number) => number.normalize().to_string(),
        Cell::Verdict(word) => (*word).to_owned(),
        Cell::Unknown(why) => notes.mark(why),
        Cell::Blank | Cell::Empty => String::new(),
    }
}

/// The text of a cell of a document, amounts as its region writes them.
pub fn text_of(document: &Document, cell: &Cell, column: &Column, notes: &mut Notes) -> String {
    match cell {
        Cell::Money(amount) => money::grouped(*amount, document.decimals, document.block.grouping),
        _ => text(cell, column, document.decimals, notes),
    }
}

/// The heading of a column with its unit.
#[must_use]
pub fn heading(column: &Column) -> String {
    match column.unit.map(Unit::sign) {
        Some(sign) if !sign.is_empty() => format!("{} {sign}", column.heading),
        _ => column.heading.clone(),
    }
}

/// How many characters of a number stand after its whole part, unit and all: what aligns a column
/// on the decimal point. A space between digits is in the whole part: on paper every space is a
/// plain one.
#[must_use]
pub fn after_point(text: &str) -> usize {
    let mut rest = text.chars();
    loop {
        let left = rest.clone().count();
        match rest.next() {
            Some('0'..='9' | '-' | ',' | '\u{a0}') => {}
            Some(' ') if rest.clone().next().is_some_and(|c| c.is_ascii_digit()) => {}
            Some(_) | None => return left,
        }
    }
}

/// Whether a row's cells in this column are numbers to be aligned.
#[must_use]
pub fn is_number(column: &Column, cell: &Cell) -> bool {
    column.align == Align::Right
        && matches!(cell, Cell::Figure(_) | Cell::Money(_) | Cell::Decimal(_))
}

/// The cells of a row which are in columns that `keep` keeps.
pub fn kept<'a>(
    columns: &'a [Column],
    row: &'a Row,
    keep: impl Fn(Showing) -> bool,
) -> impl Iterator<Item = (&'a Column, &'a Cell)> {
    columns
        .iter()
        .zip(&row.cells)
        .filter(move |(column, _)| keep(column.showing))
}

/// The text of a group's heading.
#[must_use]
pub fn group_heading(row: &Row) -> String {
    match row.cells.first() {
        Some(Cell::Text(text)) => printable(text).into_owned(),
        _ => String::new(),
    }
}

/// Whether a part says anything.
#[must_use]
pub fn is_empty(part: &Part) -> bool {
    let no_rows = part
        .table
        .as_ref()
        .is_none_or(|table| table.rows.is_empty());
    no_rows && part.drawing.is_none() && part.text.is_empty() && part.notes.is_empty()
}

/// The title block in one line: `Millrace Library, ML-014, revision B, 20 Nov 2026`.
#[must_use]
pub fn block_line(document: &Document) -> String {
    let block = &document.block;
    let revision = if block.revision.is_empty() {
        String::new()
    } else {
        format!("revision {}", block.revision)
    };
    [&block.project, &block.reference, &revision, &block.date]
        .into_iter()
        .filter(|text| !text.is_empty())
        .map(|text| printable(text).into_owned())
        .collect::<Vec<_>>()
        .join(", ")
}

#[cfg(test)]
mod tests {
    use super::after_point;

    #[test]
    fn groups_of_digits_belong_to_the_whole_part_whatever_stands_between_them() {
        for text in ["1\u{a0}256.12", "1 256.12", "1,256.12", "-68.91", "0.32"] {
            assert_eq!(after_point(text), 3, "{text}");
        }
        for (text, after) in [("12", 0), ("12 m", 2), ("4.5 m", 4), ("?", 1), ("", 0)] {
            assert_eq!(after_point(text), after, "{text}");
        }
    }
}

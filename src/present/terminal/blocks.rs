//! Rows of long text, each as a block of lines: what a table of eighty columns can't hold.

use super::{Look, columns, push_line};
use crate::present::document::{Cell, Column, Document, RowKind, Showing, Table};
use crate::present::shown::{self, Notes};
use crate::present::wrap::wrap;
use crate::quantity::number::real;
use unicode_width::UnicodeWidthStr;

/// Set in before each line under a block's head.
const INDENT: usize = 2;

/// Writes each row as a head of its first `head` cells and a line for each of the others.
pub(super) fn push(
    out: &mut String,
    table: &Table,
    head: usize,
    document: &Document,
    look: Look,
    notes: &mut Notes,
) {
    let label_width = table
        .columns
        .iter()
        .skip(head)
        .map(|column| column.heading.width())
        .max()
        .unwrap_or(0);
    for (index, row) in table.rows.iter().enumerate() {
        if row.kind == RowKind::Group {
            continue;
        }
        if index > 0 {
            out.push('\n');
        }
        let mut texts: Vec<(&Column, &Cell, String)> = Vec::new();
        for (column, cell) in shown::kept(&table.columns, row, |showing| {
            matches!(showing, Showing::Always | Showing::WhenWide)
        }) {
            let text = shown::text_of(document, cell, column, notes);
            texts.push((column, cell, text));
        }
        push_head(out, &texts, head, look);
        for (column, cell, text) in texts.iter().skip(head) {
            if !text.is_empty() {
                push_field(
                    out,
                    &column.heading,
                    &with_unit(column, cell, text),
                    label_width,
                    look,
                );
            }
        }
    }
}

fn push_head(out: &mut String, texts: &[(&Column, &Cell, String)], head: usize, look: Look) {
    let mut width = 0;
    let mut line = String::new();
    for (_, cell, text) in texts.iter().take(head) {
        if width > 0 && width + 2 + text.width() > look.width {
            push_line(out, &line);
            (width, line) = (INDENT, " ".repeat(INDENT));
        } else if width > 0 {
            (width, line) = (width + 2, line + "  ");
        }
        width += text.width();
        line.push_str(&coloured(cell, text, look));
    }
    push_line(out, &line);
}

fn coloured(cell: &Cell, text: &str, look: Look) -> String {
    match cell {
        Cell::Verdict("broken") if look.colour => format!("\u{1b}[31m{text}\u{1b}[0m"),
        Cell::Verdict("cannot tell") if look.colour => format!("\u{1b}[33m{text}\u{1b}[0m"),
        _ => text.to_owned(),
    }
}

/// A figure stands by itself here, so its unit stands with it.
fn with_unit(column: &Column, cell: &Cell, text: &str) -> String {
    match (cell, column.unit) {
        (Cell::Figure(figure), Some(_)) => figure.to_string(),
        _ => text.to_owned(),
    }
}

/// A label and its text, whose further lines stand under its first.
pub(super) fn push_field(
    out: &mut String,
    label: &str,
    text: &str,
    label_width: usize,
    look: Look,
) {
    let indent = INDENT + label_width + 2;
    let room = look.width.saturating_sub(indent).max(16);
    for (index, line) in wrap(text, real(room), &columns).iter().enumerate() {
        let shown = if index == 0 { label } else { "" };
        let gap = " ".repeat(label_width.saturating_sub(shown.width()) + 2);
        push_line(out, &format!("{}{shown}{gap}{line}", " ".repeat(INDENT)));
    }
}

//! Documents on a terminal or in a pipe.

mod blocks;
mod table;
mod widths;

use super::document::{Document, Part};
use super::printable::printable;
use super::reading_order::isolated_line;
use super::shown::{self, Notes};
use super::wrap::wrap;
use crate::quantity::number::real;
use unicode_width::UnicodeWidthStr;

/// What the reader's terminal, or the pipe in its place, can show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// Columns.
    pub width: usize,
    /// Whether colour may be added. No meaning is carried by colour alone.
    pub colour: bool,
    /// Whether it can't show signs beyond ASCII.
    pub ascii: bool,
}

/// The documents one under the other.
#[must_use]
pub fn write(documents: &[Document], look: Look) -> String {
    let mut text = String::new();
    for document in documents {
        if !text.is_empty() {
            text.push('\n');
        }
        push_document(&mut text, document, look);
    }
    let cautions = documents.iter().map(|document| &document.cautions);
    if let Some(cautions) = cautions.max_by_key(|cautions| cautions.len()) {
        push_cautions(&mut text, cautions, look);
    }
    if look.ascii { in_ascii(&text) } else { text }
}

fn push_document(out: &mut String, document: &Document, look: Look) {
    let block = shown::block_line(document);
    if document.title.width() + 2 + block.width() <= look.width {
        let title = emphasised(&document.title, look);
        push_line(out, &format!("{title}  {block}"));
    } else {
        push_line(out, &emphasised(&document.title, look));
        push_paragraph(out, &block, "", look);
    }
    for part in document.parts.iter().filter(|part| !shown::is_empty(part)) {
        out.push('\n');
        push_part(out, document, part, look);
    }
}

fn push_part(out: &mut String, document: &Document, part: &Part, look: Look) {
    if !part.heading.is_empty() {
        push_heading(out, &part.heading, look);
    }
    for paragraph in &part.text {
        push_paragraph(out, paragraph, "", look);
    }
    let mut notes = Notes::default();
    if let Some(table) = part.table.as_ref().filter(|table| !table.rows.is_empty()) {
        if !part.text.is_empty() {
            out.push('\n');
        }
        if part.block_head > 0 {
            blocks::push(out, table, part.block_head, document, look, &mut notes);
        } else {
            table::push(out, table, document, look, &mut notes);
        }
    }
    for line in notes.lines() {
        push_paragraph(out, &line, "    ", look);
    }
    for note in &part.notes {
        push_paragraph(out, note, "", look);
    }
}

/// Once after all documents: on a screen they are read as one.
fn push_cautions(out: &mut String, cautions: &[String], look: Look) {
    if !cautions.is_empty() {
        out.push('\n');
        out.push_str(&list("Cautions", cautions, look));
    }
}

/// One part of a document, without the document's head.
#[must_use]
pub fn part(document: &Document, part: &Part, look: Look) -> String {
    let mut out = String::new();
    push_part(&mut out, document, part, look);
    if look.ascii { in_ascii(&out) } else { out }
}

/// Labelled lines under a heading.
#[must_use]
pub fn fields(heading: &str, fields: &[(&str, &str)], look: Look) -> String {
    let mut out = String::new();
    push_heading(&mut out, heading, look);
    let labels = fields.iter().map(|(label, _)| label.width());
    let label_width = labels.max().unwrap_or(0);
    for (label, text) in fields {
        blocks::push_field(&mut out, label, text, label_width, look);
    }
    if look.ascii { in_ascii(&out) } else { out }
}

/// Lines of text set off from the documents, such as cautions, each with a sign before it.
#[must_use]
pub fn list(heading: &str, items: &[String], look: Look) -> String {
    let mut out = String::new();
    push_heading(&mut out, heading, look);
    for item in items {
        push_paragraph(&mut out, &format!("- {item}"), "  ", look);
    }
    if look.ascii { in_ascii(&out) } else { out }
}

/// A heading, over as many lines as a long name in it takes.
fn push_heading(out: &mut String, text: &str, look: Look) {
    for line in wrap(&printable(text), real(look.width), &columns) {
        push_line(out, &emphasised(line.trim_end(), look));
    }
}

/// A paragraph, its lines after the first set in by `hanging`.
fn push_paragraph(out: &mut String, text: &str, hanging: &str, look: Look) {
    let text = printable(text);
    let room = look.width.saturating_sub(hanging.len()).max(1);
    for (index, line) in wrap(&text, real(room), &columns).iter().enumerate() {
        let indent = if index == 0 { "" } else { hanging };
        push_line(out, &format!("{indent}{line}"));
    }
}

fn push_line(out: &mut String, line: &str) {
    out.push_str(&isolated_line(line.trim_end()));
    out.push('\n');
}

/// Columns that text takes on a terminal.
fn columns(text: &str) -> f64 {
    real(text.width())
}

fn emphasised(text: &str, look: Look) -> String {
    if look.colour && !text.is_empty() {
        format!("\u{1b}[1m{text}\u{1b}[0m")
    } else {
        text.to_owned()
    }
}

/// Signs of the trade in ASCII; what else is not ASCII is shown as `?` rather than garbled.
fn in_ascii(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '²' => out.push('2'),
            'Ω' | '\u{2126}' => out.push_str("ohm"),
            'µ' | 'μ' => out.push('u'),
            '°' => out.push_str("deg "),
            '×' => out.push('x'),
            '≤' => out.push_str("<="),
            '≥' => out.push_str(">="),
            '–' | '—' | '−' | '─' => out.push('-'),
            '’' | '‘' | '′' => out.push('\''),
            '\u{a0}' => out.push(' '),
            // They take no room, and what they keep apart is not shown.
            '\u{2068}' | '\u{2069}' => {}
            '€' => out.push_str("EUR"),
            '£' => out.push_str("GBP"),
            _ if c.is_ascii() => out.push(c),
            _ => out.push('?'),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ascii_spells_the_trades_signs() {
        assert_eq!(in_ascii("1.5 mm² ≤ 2 Ω"), "1.5 mm2 <= 2 ohm");
        assert_eq!(in_ascii("Łódź"), "??d?");
    }
}

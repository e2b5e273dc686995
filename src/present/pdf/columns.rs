//! How wide each column of a table on paper is.

use super::font::Face;
use super::press::Press;
use crate::present::document::{Align, Cell, Column, Document, RowKind, Showing, Table};
use crate::present::shown::{self, Notes};
use crate::quantity::number::real;

/// Between two columns.
pub(super) const GAP: f64 = 8.0;
/// A column of text is not made narrower than this.
const LEAST_TEXT: f64 = 34.0;
/// The same for a column of sentences.
const LEAST_SENTENCE: f64 = 96.0;
/// Text up to this is not broken.
const WHOLE: f64 = 56.0;
/// A piece of text longer than this may be broken anywhere.
const LONGEST_PIECE: f64 = 92.0;
/// A column of names takes no more than this, however long they are.
const MOST_NAME: f64 = 150.0;
/// A column of sentences asks for no more than this.
const MOST_TEXT: f64 = 330.0;
/// Room to write in by hand.
const BY_HAND: f64 = 40.0;
/// A line on which a sentence is written is made no longer than this, however much room is left.
const MOST_BY_HAND: f64 = 170.0;

/// A column with the texts of its cells, one a row that is not a group's heading.
pub(super) struct Laid<'a> {
    pub column: &'a Column,
    pub heading: String,
    pub unit: String,
    pub cells: Vec<&'a Cell>,
    pub texts: Vec<String>,
    pub width: f64,
    /// Width of what stands after the whole part of its numbers.
    pub after_point: f64,
}

/// The columns with their texts, not yet given a width.
pub(super) fn laid_out<'a>(
    table: &'a Table,
    document: &Document,
    press: &mut Press,
    notes: &mut Notes,
) -> Vec<Laid<'a>> {
    let on_paper = |column: &Column| column.showing != Showing::DataOnly;
    let mut laid: Vec<Laid<'a>> = table
        .columns
        .iter()
        .map(|column| Laid {
            column,
            heading: press.fit(&column.heading),
            unit: column.unit.map_or("", |unit| unit.sign()).to_owned(),
            cells: Vec::new(),
            texts: Vec::new(),
            width: 0.0,
            after_point: 0.0,
        })
        .collect();
    for row in table.rows.iter().filter(|row| row.kind != RowKind::Group) {
        for (into, cell) in laid.iter_mut().zip(&row.cells) {
            if on_paper(into.column) {
                let text = shown::text_of(document, cell, into.column, notes);
                into.texts.push(press.fit(&text));
                into.cells.push(cell);
            }
        }
    }
    laid.retain(|it| on_paper(it.column));
    laid
}

/// Gives each column its width. Whether all fit in `room` without breaking words.
pub(super) fn set_widths(laid: &mut [Laid], press: &Press, size: f64, room: f64) -> bool {
    for it in laid.iter_mut() {
        it.after_point = after_point(it, press, size);
    }
    let needs: Vec<(f64, f64)> = laid.iter().map(|it| need(it, press, size)).collect();
    let gaps = GAP * real(needs.len().saturating_sub(1));
    let least: f64 = needs.iter().map(|(least, _)| least).sum();
    let most: f64 = needs.iter().map(|(_, most)| most).sum();
    let room = room - gaps;
    let fits = least <= room;
    for (it, (column_least, column_most)) in laid.iter_mut().zip(&needs) {
        let share = ((room - least) / (most - least).max(1.0)).clamp(0.0, 1.0);
        it.width = column_least + (column_most - column_least) * share;
    }
    if fits {
        widen_by_hand(laid, room);
    } else {
        squeeze_text(laid, room);
    }
    fits
}

/// Where sentences are written by hand, what room is left is theirs.
fn widen_by_hand(laid: &mut [Laid], room: f64) {
    let is_written = |it: &Laid| {
        let mut cells = it.cells.iter();
        it.column.stretch > 0 && cells.any(|cell| matches!(cell, Cell::Blank))
    };
    let written = laid.iter().filter(|it| is_written(it)).count();
    let left = room - laid.iter().map(|it| it.width).sum::<f64>();
    if written == 0 || left <= 0.0 {
        return;
    }
    for it in laid.iter_mut().filter(|it| is_written(it)) {
        let wider = (it.width + left / real(written)).min(MOST_BY_HAND);
        it.width = it.width.max(wider);
    }
}

/// When nothing fits, numbers keep their width and text takes what is left.
fn squeeze_text(laid: &mut [Laid], room: f64) {
    let is_text = |it: &Laid| it.column.align == Align::Left;
    let numbers: f64 = laid
        .iter()
        .filter(|it| !is_text(it))
        .map(|it| it.width)
        .sum();
    let text: f64 = laid
        .iter()
        .filter(|it| is_text(it))
        .map(|it| it.width)
        .sum();
    let share = ((room - numbers) / text.max(1.0)).clamp(0.2, 1.0);
    for it in laid.iter_mut().filter(|it| is_text(it)) {
        it.width *= share;
    }
}

fn after_point(laid: &Laid, press: &Press, size: f64) -> f64 {
    laid.texts
        .iter()
        .zip(&laid.cells)
        .filter(|(_, cell)| shown::is_number(laid.column, cell))
        .map(|(text, _)| press.width(Face::Bold, size, split_at_point(text).1))
        .fold(0.0, f64::max)
}

/// A number's whole part and the rest, unit and all.
pub(super) fn split_at_point(text: &str) -> (&str, &str) {
    let chars = text.chars().count() - shown::after_point(text);
    let at = text
        .char_indices()
        .nth(chars)
        .map_or(text.len(), |(at, _)| at);
    text.split_at_checked(at).unwrap_or((text, ""))
}

/// Least and most width that a column asks for.
fn need(laid: &Laid, press: &Press, size: f64) -> (f64, f64) {
    let wide = |text: &str| press.width(Face::Bold, size, text);
    let heading = laid.heading.split(' ').map(wide).fold(0.0, f64::max);
    let heading = heading.max(wide(&laid.unit));
    let by_hand = laid.cells.iter().any(|cell| matches!(cell, Cell::Blank));
    let floor = if by_hand {
        BY_HAND.max(heading)
    } else {
        heading
    };
    match laid.column.align {
        Align::Right => {
            let whole = |(text, cell): (&String, &&Cell)| {
                if shown::is_number(laid.column, cell) {
                    wide(split_at_point(text).0) + laid.after_point
                } else {
                    wide(text)
                }
            };
            let cells = laid.texts.iter().zip(&laid.cells).map(whole);
            let width = cells.fold(floor, f64::max);
            (width, width)
        }
        Align::Left => {
            let whole = wide(&laid.heading).min(WHOLE);
            let most = laid.texts.iter().map(|text| wide(text));
            let most = most.fold(floor.max(whole), f64::max);
            let least = laid.texts.iter().map(|text| least_of(text, &wide));
            let least_text = if laid.column.stretch > 0 {
                LEAST_SENTENCE
            } else {
                LEAST_TEXT
            };
            let least = least.fold(least_text, f64::max).max(floor).min(most);
            let cap = if laid.column.stretch > 0 {
                MOST_TEXT
            } else {
                MOST_NAME
            };
            (least, most.min(cap.max(least)))
        }
    }
}

/// Short text stays whole; of longer text, its longest piece.
fn least_of(text: &str, wide: &impl Fn(&str) -> f64) -> f64 {
    let whole = wide(text);
    if whole <= WHOLE {
        return whole;
    }
    pieces(text)
        .map(wide)
        .fold(0.0, f64::max)
        .min(LONGEST_PIECE)
}

/// What text can be broken into without looking broken.
fn pieces(text: &str) -> impl Iterator<Item = &str> {
    text.split(' ')
        .flat_map(|word| word.split_inclusive(['-', '/', '_', ',']))
}

//! A table on paper: its head, and its rows as blocks that are not split over sheets.

use super::columns::{GAP, Laid, laid_out, set_widths, split_at_point};
use super::font::Face;
use super::mark::{Block, Mark};
use super::paper::leading;
use super::press::{Press, line_mark};
use crate::present::document::{Align, Cell, Document, RowKind, Table};
use crate::present::shown::{self, Notes};
use crate::quantity::number::real;

/// Above and below the lines of a row.
const PAD: f64 = 2.2;
/// Weights of rules.
const HEAVY: f64 = 0.8;
const LIGHT: f64 = 0.25;
/// Lines of one cell that go into one block; what is longer goes on in the next.
const MOST_LINES: usize = 24;

/// A laid-out table.
pub(super) struct Set {
    /// Repeated on every sheet that the table goes on to.
    pub head: Block,
    /// Rows with their kinds.
    pub rows: Vec<(RowKind, Block)>,
}

/// Whether the table fits `room` at `size` without breaking words.
pub(super) fn fits(
    table: &Table,
    document: &Document,
    press: &mut Press,
    size: f64,
    room: f64,
) -> bool {
    let mut laid = laid_out(table, document, press, &mut Notes::default());
    set_widths(&mut laid, press, size, room)
}

/// Sets the table.
pub(super) fn set(
    table: &Table,
    document: &Document,
    press: &mut Press,
    notes: &mut Notes,
    size: f64,
    room: f64,
) -> Set {
    let mut laid = laid_out(table, document, press, notes);
    set_widths(&mut laid, press, size, room);
    let width = laid.iter().map(|it| it.width + GAP).sum::<f64>() - GAP;
    let mut rows = Vec::new();
    let mut index = 0;
    for row in &table.rows {
        if row.kind == RowKind::Group {
            let heading = press.fit(&shown::group_heading(row));
            rows.push((row.kind, group(&heading, press, size, width)));
        } else {
            for block in body(&laid, index, row.kind, press, size, width) {
                rows.push((row.kind, block));
            }
            index += 1;
        }
    }
    Set {
        head: head(&laid, press, size, width),
        rows,
    }
}

/// Column headings stand on the rule; units in lines of their own under them.
fn head(laid: &[Laid], press: &Press, size: f64, width: f64) -> Block {
    let headings: Vec<Vec<String>> = laid
        .iter()
        .map(|it| {
            let mut lines = press.lines(Face::Bold, size, &it.heading, it.width);
            if !it.unit.is_empty() {
                lines.push(it.unit.clone());
            }
            lines
        })
        .collect();
    let most = headings.iter().map(Vec::len).max().unwrap_or(1);
    let mut block = Block {
        height: real(most) * leading(size) + 2.0 * PAD,
        marks: Vec::new(),
    };
    let mut left = 0.0;
    for (it, lines) in laid.iter().zip(&headings) {
        let first = block.height - PAD - real(lines.len()) * leading(size);
        for (line, text) in lines.iter().enumerate() {
            let is_unit = !it.unit.is_empty() && line + 1 == lines.len();
            let face = if is_unit { Face::Regular } else { Face::Bold };
            let x = match it.column.align {
                Align::Left => left,
                Align::Right => left + it.width - press.width(face, size, text),
            };
            let y = first + real(line) * leading(size) + size;
            block.marks.push(line_mark(x, y, size, face, text));
        }
        left += it.width + GAP;
    }
    let (from, to) = ((0.0, block.height), (width, block.height));
    block.marks.push(Mark::rule(from, to, HEAVY, 0.0));
    block
}

fn group(heading: &str, press: &Press, size: f64, width: f64) -> Block {
    let mut block = Block {
        height: 2.0 * PAD,
        marks: Vec::new(),
    };
    for line in press.lines(Face::Bold, size, heading, width) {
        let y = block.height - PAD + size;
        block.marks.push(line_mark(0.0, y, size, Face::Bold, &line));
        block.height += leading(size);
    }
    block.rule_above(width, HEAVY / 2.0, 0.0);
    block
}

/// A row: one block, or several when a cell has more lines than a sheet could hold.
fn body(
    laid: &[Laid],
    index: usize,
    kind: RowKind,
    press: &Press,
    size: f64,
    width: f64,
) -> Vec<Block> {
    let face = if kind == RowKind::Total {
        Face::Bold
    } else {
        Face::Regular
    };
    let cells: Vec<Vec<String>> = laid
        .iter()
        .map(|it| {
            let text = it.texts.get(index).map_or("", String::as_str);
            match it.column.align {
                Align::Left => press.lines(face, size, text, it.width),
                Align::Right => vec![text.to_owned()],
            }
        })
        .collect();
    let most = cells.iter().map(Vec::len).max().unwrap_or(1);
    let mut blocks = Vec::new();
    let mut from = 0;
    while from < most {
        let lines = (most - from).min(MOST_LINES);
        let mut block = Block {
            height: real(lines) * leading(size) + 2.0 * PAD,
            marks: Vec::new(),
        };
        match kind {
            RowKind::Total => block.rule_above(width, HEAVY / 2.0, 0.0),
            _ if from == 0 => block.rule_above(width, LIGHT, 0.7),
            _ => {}
        }
        let row = Row {
            index,
            from,
            lines,
            face,
            size,
        };
        put_cells(&mut block, laid, &cells, &row, press);
        blocks.push(block);
        from += lines;
    }
    blocks
}

/// Which lines of which row are put, and how.
struct Row {
    index: usize,
    from: usize,
    lines: usize,
    face: Face,
    size: f64,
}

fn put_cells(block: &mut Block, laid: &[Laid], cells: &[Vec<String>], row: &Row, press: &Press) {
    let mut left = 0.0;
    for (it, lines) in laid.iter().zip(cells) {
        let cell = it.cells.get(row.index);
        if matches!(cell, Some(Cell::Blank)) && row.from == 0 {
            block.marks.push(by_hand(left, it.width, block.height));
        }
        for (line, text) in lines.iter().skip(row.from).take(row.lines).enumerate() {
            if !text.is_empty() {
                let y = PAD + real(line) * leading(row.size) + row.size;
                let x = left + offset(it, cell, text, row, press);
                block.marks.push(line_mark(x, y, row.size, row.face, text));
            }
        }
        left += it.width + GAP;
    }
}

/// How far into its column a text begins.
fn offset(laid: &Laid, cell: Option<&&Cell>, text: &str, row: &Row, press: &Press) -> f64 {
    let width = |text: &str| press.width(row.face, row.size, text);
    match (laid.column.align, cell) {
        (Align::Left, _) => 0.0,
        (Align::Right, Some(cell)) if shown::is_number(laid.column, cell) => {
            laid.width - laid.after_point - width(split_at_point(text).0)
        }
        (Align::Right, _) => laid.width - width(text),
    }
}

/// A line to write on.
fn by_hand(left: f64, width: f64, height: f64) -> Mark {
    let y = height - PAD;
    Mark::rule((left, y), (left + width, y), LIGHT * 2.0, 0.3)
}

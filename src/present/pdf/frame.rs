//! What stands on every sheet around its contents: the title block above, the cautions below.

use super::font::Face;
use super::mark::{Block, Mark};
use super::paper::{CAUTION, LABEL, Page, SIDE, TITLE, TOP, leading};
use super::press::{Press, line_mark};
use crate::present::document::{Document, TitleBlock};
use crate::quantity::number::real;

/// Type of the title block's values.
const VALUE: f64 = 8.5;
/// Inside the frame of the cautions.
const INSET: f64 = 5.0;
/// Between the columns of the cautions.
const GUTTER: f64 = 14.0;

/// The title block of a sheet: the document and the project on the left; reference, revision, date
/// and sheet number on the right; a rule under both.
pub(super) fn title_block(
    document: &Document,
    page: Page,
    sheet: usize,
    sheets: usize,
    press: &mut Press,
) -> Block {
    let fields = fields(&document.block, sheet, sheets, press);
    let widths: Vec<f64> = fields
        .iter()
        .map(|(label, value)| {
            let label = press.width(Face::Regular, LABEL, label);
            label.max(press.width(Face::Bold, VALUE, value)).min(120.0)
        })
        .collect();
    let right: f64 = widths.iter().map(|width| width + GUTTER).sum();
    let mut block = left_half(document, page.room() - right, press);
    let mut x = page.room() - right + GUTTER;
    let mut lowest: f64 = 0.0;
    for ((label, value), width) in fields.iter().zip(&widths) {
        block
            .marks
            .push(line_mark(x, TITLE - VALUE, LABEL, Face::Regular, label));
        let mut y = TITLE - VALUE + leading(VALUE);
        for line in press.lines(Face::Bold, VALUE, value, *width) {
            block.marks.push(line_mark(x, y, VALUE, Face::Bold, &line));
            y += leading(VALUE);
        }
        lowest = lowest.max(y - VALUE);
        x += width + GUTTER;
    }
    block.height = block.height.max(lowest) + 5.0;
    let (from, to) = ((0.0, block.height), (page.room(), block.height));
    block.marks.push(Mark::rule(from, to, 1.2, 0.0));
    let height = block.height + 10.0;
    Block {
        height,
        marks: moved(block.marks, SIDE, TOP),
    }
}

fn left_half(document: &Document, room: f64, press: &mut Press) -> Block {
    let block = &document.block;
    let mut out = press.paragraph(Face::Bold, TITLE, &document.title, room, 0.0);
    let mut lines = vec![block.project.clone()];
    if !block.customer.is_empty() {
        lines.push(format!("for {}", block.customer));
    }
    for line in lines {
        let more = press.paragraph(Face::Regular, VALUE, &line, room, 0.0);
        let down = out.height;
        out.marks.extend(moved(more.marks, 0.0, down));
        out.height += more.height;
    }
    out
}

fn fields(
    block: &TitleBlock,
    sheet: usize,
    sheets: usize,
    press: &mut Press,
) -> Vec<(&'static str, String)> {
    let date = if block.date.is_empty() {
        "not dated"
    } else {
        &block.date
    };
    let sheet = format!("{sheet} of {sheets}");
    let all = [
        ("Reference", block.reference.as_str()),
        ("Revision", &block.revision),
        ("Date", date),
        ("Prepared by", &block.prepared_by),
        ("Region", &block.region),
        ("Sheet", &sheet),
    ];
    all.into_iter()
        .filter(|(_, value)| !value.is_empty())
        .map(|(label, value)| (label, press.fit(value)))
        .collect()
}

fn moved(marks: Vec<Mark>, right: f64, down: f64) -> Vec<Mark> {
    marks
        .into_iter()
        .map(|mark| mark.moved(right, down))
        .collect()
}

/// The framed cautions, in as many columns as the sheet has room for; its place is from its own
/// upper left corner. Nothing when the document has none.
pub(super) fn cautions(document: &Document, page: Page, press: &mut Press) -> Block {
    if document.cautions.is_empty() {
        return Block::default();
    }
    let columns: usize = if page.width > page.height { 3 } else { 2 };
    let room = page.room() - 2.0 * INSET - GUTTER * real(columns - 1);
    let width = room / real(columns);
    let mut blocks = vec![press.paragraph(
        Face::Bold,
        CAUTION,
        "Before you wire from this sheet",
        width,
        0.0,
    )];
    for caution in &document.cautions {
        blocks.push(press.paragraph(Face::Regular, CAUTION, caution, width, 6.0));
    }
    let height = column_height(&blocks, columns);
    let mut out = Block {
        height: height + 2.0 * INSET,
        marks: Vec::new(),
    };
    let (mut x, mut y) = (INSET, INSET);
    for block in blocks {
        if y + block.height > INSET + height + 0.01 {
            (x, y) = (x + width + GUTTER, INSET);
        }
        out.marks.extend(moved(block.marks, x, y - 1.0));
        y += block.height;
    }
    let frame = Mark::frame(0.0, 0.0, page.room(), out.height, 1.0);
    out.marks.push(frame);
    out
}

/// The least height at which the blocks, in order and unbroken, go into so many columns.
fn column_height(blocks: &[Block], columns: usize) -> f64 {
    let step = leading(CAUTION);
    let total: f64 = blocks.iter().map(|block| block.height).sum();
    let mut height = blocks.iter().map(|it| it.height).fold(0.0, f64::max);
    while height < total && columns_needed(blocks, height) > columns {
        height += step;
    }
    height
}

fn columns_needed(blocks: &[Block], height: f64) -> usize {
    let (mut columns, mut y) = (1, 0.0);
    for block in blocks {
        if y + block.height > height + 0.01 {
            (columns, y) = (columns + 1, 0.0);
        }
        y += block.height;
    }
    columns
}

//! One table on a terminal.

use super::{Look, emphasised, push_line, push_paragraph};
use crate::present::document::{Align, Cell, Column, Document, Row, RowKind, Showing, Table};
use crate::present::shown::{self, Notes};
use comfy_table::{
    CellAlignment, Color, ColumnConstraint, ContentArrangement, ContentLineStyle, LineStyle,
    TableStyle,
};
use unicode_width::UnicodeWidthStr;

/// Between two columns.
const GAP: usize = 2;
/// Least width of a column whose text may take several lines.
const LEAST_LONG: usize = 14;
/// Names up to this are kept on one line.
const LONGEST_NAME: usize = 24;
/// Stands for a group's heading while the table is laid out, since its cells can't be joined; no
/// text can hold it, as private characters are replaced before.
const GROUP: char = '\u{E000}';

/// A column with the texts of all its cells, one a row that is not a group's heading.
struct Laid<'a> {
    column: &'a Column,
    heading: String,
    texts: Vec<String>,
    cells: Vec<&'a Cell>,
}

impl Laid<'_> {
    fn widest(&self) -> usize {
        let cells = self.texts.iter().map(|text| text.width()).max();
        let heading = self.heading.lines().map(UnicodeWidthStr::width).max();
        cells.unwrap_or(0).max(heading.unwrap_or(0))
    }

    /// The least it can be shown in.
    fn least(&self) -> usize {
        let wraps = self.column.align == Align::Left;
        let heading = self.heading.lines().map(UnicodeWidthStr::width).max();
        let heading = heading.unwrap_or(0);
        match (wraps, self.column.stretch) {
            (true, 0) => self.widest().min(LONGEST_NAME.max(heading)),
            (true, _) => self.widest().min(LEAST_LONG.max(heading)),
            (false, _) => self.widest(),
        }
    }
}

/// Writes the table, with as many of its columns as the width allows.
pub(super) fn push(
    out: &mut String,
    table: &Table,
    document: &Document,
    look: Look,
    notes: &mut Notes,
) {
    let mut columns = laid_out(table, document, notes);
    let left_out = drop_until_it_fits(&mut columns, look.width);
    let lines = lines(table, &columns, look);
    let mut groups = table.rows.iter().filter(|row| row.kind == RowKind::Group);
    for line in lines {
        if line.contains(GROUP) {
            let heading = groups.next().map(shown::group_heading).unwrap_or_default();
            for part in super::wrap(
                &heading,
                crate::quantity::number::real(look.width),
                &super::columns,
            ) {
                push_line(out, &emphasised(&part, look));
            }
        } else {
            push_line(out, &line);
        }
    }
    if !left_out.is_empty() {
        let names = left_out.join(", ");
        push_paragraph(out, &format!("Left out at this width: {names}."), "", look);
    }
}

fn laid_out<'a>(table: &'a Table, document: &Document, notes: &mut Notes) -> Vec<Laid<'a>> {
    let mut columns: Vec<Laid<'a>> = table
        .columns
        .iter()
        .map(|column| Laid {
            column,
            heading: broken_heading(column),
            texts: Vec::new(),
            cells: Vec::new(),
        })
        .collect();
    for row in table.rows.iter().filter(|row| row.kind != RowKind::Group) {
        for (laid, cell) in columns.iter_mut().zip(&row.cells) {
            if is_shown(laid.column) {
                laid.texts
                    .push(shown::text(cell, laid.column, document.decimals, notes));
                laid.cells.push(cell);
            }
        }
    }
    columns.retain(|laid| is_shown(laid.column));
    columns.iter_mut().for_each(align_points);
    columns
}

fn is_shown(column: &Column) -> bool {
    matches!(column.showing, Showing::Always | Showing::WhenWide)
}

/// Headings of figures stand word under word, so that they are no wider than the figures.
fn broken_heading(column: &Column) -> String {
    let heading = shown::heading(column);
    if column.align == Align::Right {
        heading.replace(' ', "\n")
    } else {
        heading
    }
}

/// Puts spaces after numbers so that their decimal points stand one under the other.
fn align_points(laid: &mut Laid) {
    let after = |text: &str, cell: &&Cell| {
        shown::is_number(laid.column, cell).then(|| shown::after_point(text))
    };
    let depths: Vec<Option<usize>> = laid
        .texts
        .iter()
        .zip(&laid.cells)
        .map(|(text, cell)| after(text, cell))
        .collect();
    let most = depths.iter().flatten().max().copied().unwrap_or(0);
    for (text, depth) in laid.texts.iter_mut().zip(depths) {
        if let Some(depth) = depth {
            text.push_str(&" ".repeat(most - depth));
        }
    }
}

/// Leaves out columns that may be left out, the last first, until the table fits; their headings.
fn drop_until_it_fits(columns: &mut Vec<Laid>, width: usize) -> Vec<String> {
    let mut left_out = Vec::new();
    let needed = |columns: &[Laid]| {
        let cells: usize = columns.iter().map(|laid| laid.least() + GAP).sum();
        cells.saturating_sub(GAP)
    };
    while needed(columns) > width {
        let last = columns
            .iter()
            .rposition(|laid| laid.column.showing == Showing::WhenWide);
        let Some(at) = last else { break };
        left_out.insert(0, columns.remove(at).column.heading.to_lowercase());
    }
    left_out
}

fn lines(table: &Table, columns: &[Laid], look: Look) -> Vec<String> {
    let rule = if look.ascii { '-' } else { '─' };
    let mut drawn = comfy_table::Table::new();
    drawn
        .load_style(
            TableStyle::new()
                .header_lines(ContentLineStyle::none())
                .header_separator(LineStyle::none().fill(rule).junction(rule))
                .content_lines(ContentLineStyle::none()),
        )
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(u16::try_from(look.width).unwrap_or(u16::MAX))
        .set_header(columns.iter().map(|laid| heading_cell(laid, look)));
    if look.colour {
        drawn.enforce_styling();
    } else {
        drawn.force_no_tty();
    }
    let mut index = 0;
    for row in &table.rows {
        if row.kind == RowKind::Group {
            drawn.add_row([GROUP.to_string()]);
        } else {
            drawn.add_row(columns.iter().map(|laid| body_cell(laid, index, row, look)));
            index += 1;
        }
    }
    set_widths(&mut drawn, columns, look.width);
    drawn.lines().collect()
}

fn set_widths(drawn: &mut comfy_table::Table, columns: &[Laid], width: usize) {
    let least: usize = columns.iter().map(|laid| laid.least() + GAP).sum();
    let fits = least <= width + GAP;
    for (index, laid) in columns.iter().enumerate() {
        let last = index + 1 == columns.len();
        let Some(column) = drawn.column_mut(index) else {
            continue;
        };
        column.set_padding((0, if last { 0 } else { 2 }));
        let fixed = laid.column.align == Align::Right
            || laid.widest() <= laid.least() && laid.column.stretch == 0;
        if fits && fixed {
            column.set_constraint(ColumnConstraint::ContentWidth);
        }
    }
}

fn heading_cell(laid: &Laid, look: Look) -> comfy_table::Cell {
    let cell = comfy_table::Cell::new(&laid.heading).set_alignment(alignment(laid.column));
    if look.colour {
        cell.add_attribute(comfy_table::Attribute::Bold)
    } else {
        cell
    }
}

fn body_cell(laid: &Laid, index: usize, row: &Row, look: Look) -> comfy_table::Cell {
    let text = laid.texts.get(index).map_or("", String::as_str);
    let mut cell = comfy_table::Cell::new(text).set_alignment(alignment(laid.column));
    if !look.colour {
        return cell;
    }
    if row.kind == RowKind::Total {
        cell = cell.add_attribute(comfy_table::Attribute::Bold);
    }
    match laid.cells.get(index) {
        Some(Cell::Verdict("broken")) => cell.fg(Color::Red),
        Some(Cell::Verdict("cannot tell") | Cell::Unknown(_)) => cell.fg(Color::Yellow),
        _ => cell,
    }
}

fn alignment(column: &Column) -> CellAlignment {
    match column.align {
        Align::Left => CellAlignment::Left,
        Align::Right => CellAlignment::Right,
    }
}

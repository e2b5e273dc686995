//! One table on a terminal.

use super::widths::{Need, Widths, fit};
use super::{Look, columns, emphasised, push_line, push_paragraph};
use crate::present::document::{Align, Cell, Column, Document, Row, RowKind, Showing, Table};
use crate::present::shown::{self, Notes};
use crate::present::wrap::wrap;
use crate::quantity::number::real;
use comfy_table::{
    CellAlignment, Color, ColumnConstraint, ContentArrangement, ContentLineStyle, LineStyle,
    TableStyle, Width,
};

/// Stands for a group's heading while the table is laid out, since its cells can't be joined; no
/// text can hold it, as private characters are replaced before.
const GROUP: char = '\u{E000}';

/// Writes the table, with as many of its columns as the width allows.
pub(super) fn push(
    out: &mut String,
    table: &Table,
    document: &Document,
    look: Look,
    notes: &mut Notes,
) {
    let mut laid = laid_out(table, document, &mut Notes::default());
    let needs: Vec<Need> = laid.iter().map(Laid::need).collect();
    let widths = fit(&needs, look.width);
    let left_out = left_out(&laid, &widths);
    // Once more without what is left out, so that notes are numbered by what is seen.
    let shown: Vec<&Column> = kept(&laid, &widths).map(|it| it.column).collect();
    laid = of_columns(&shown, table, document, notes);
    let widths_shown: Vec<usize> = widths.columns.iter().flatten().copied().collect();
    push_lines(
        out,
        table,
        look,
        &drawn(table, &laid, &widths_shown, widths.gap, look),
    );
    if !left_out.is_empty() {
        let names = left_out.join(", ");
        push_paragraph(out, &format!("Left out at this width: {names}."), "", look);
    }
}

/// Writes the drawn lines, with the groups' headings in their places.
fn push_lines(out: &mut String, table: &Table, look: Look, drawn: &comfy_table::Table) {
    let mut groups = table.rows.iter().filter(|row| row.kind == RowKind::Group);
    for line in drawn.lines() {
        if line.contains(GROUP) {
            let heading = groups.next().map(shown::group_heading).unwrap_or_default();
            for part in wrap(&heading, real(look.width), &columns) {
                push_line(out, &emphasised(&part, look));
            }
        } else {
            push_line(out, &line);
        }
    }
}

/// A column with the texts of all its cells, one a row that is not a group's heading.
struct Laid<'a> {
    column: &'a Column,
    heading: String,
    texts: Vec<String>,
    cells: Vec<&'a Cell>,
}

impl Laid<'_> {
    fn need(&self) -> Need {
        let texts = self.texts.iter().map(String::as_str);
        Need::of(self.column, &self.heading, texts)
    }
}

fn laid_out<'a>(table: &'a Table, document: &Document, notes: &mut Notes) -> Vec<Laid<'a>> {
    let shown = |column: &&Column| matches!(column.showing, Showing::Always | Showing::WhenWide);
    let columns: Vec<&Column> = table.columns.iter().filter(shown).collect();
    of_columns(&columns, table, document, notes)
}

fn of_columns<'a>(
    chosen: &[&'a Column],
    table: &'a Table,
    document: &Document,
    notes: &mut Notes,
) -> Vec<Laid<'a>> {
    let mut laid: Vec<Laid<'a>> = chosen
        .iter()
        .map(|column| Laid {
            column,
            heading: broken_heading(column),
            texts: Vec::new(),
            cells: Vec::new(),
        })
        .collect();
    for row in table.rows.iter().filter(|row| row.kind != RowKind::Group) {
        for (column, cell) in table.columns.iter().zip(&row.cells) {
            if let Some(into) = laid.iter_mut().find(|it| it.column.key == column.key) {
                into.texts
                    .push(shown::text_of(document, cell, column, notes));
                into.cells.push(cell);
            }
        }
    }
    laid.iter_mut().for_each(align_points);
    laid
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
    let depths: Vec<Option<usize>> = laid
        .texts
        .iter()
        .zip(&laid.cells)
        .map(|(text, cell)| shown::is_number(laid.column, cell).then(|| shown::after_point(text)))
        .collect();
    let most = depths.iter().flatten().max().copied().unwrap_or(0);
    for (text, depth) in laid.texts.iter_mut().zip(depths) {
        if let Some(depth) = depth {
            text.push_str(&" ".repeat(most - depth));
        }
    }
}

fn kept<'a, 'b>(laid: &'b [Laid<'a>], widths: &'b Widths) -> impl Iterator<Item = &'b Laid<'a>> {
    laid.iter()
        .zip(&widths.columns)
        .filter(|(_, width)| width.is_some())
        .map(|(laid, _)| laid)
}

fn left_out(laid: &[Laid], widths: &Widths) -> Vec<String> {
    laid.iter()
        .zip(&widths.columns)
        .filter(|(_, width)| width.is_none())
        .map(|(laid, _)| laid.column.heading.to_lowercase())
        .collect()
}

fn drawn(
    table: &Table,
    laid: &[Laid],
    widths: &[usize],
    gap: usize,
    look: Look,
) -> comfy_table::Table {
    let rule = if look.ascii { '-' } else { '─' };
    let mut drawn = comfy_table::Table::new();
    drawn
        .load_style(
            TableStyle::new()
                .header_lines(ContentLineStyle::none())
                .header_separator(LineStyle::none().fill(rule).junction(rule))
                .content_lines(ContentLineStyle::none()),
        )
        .set_content_arrangement(ContentArrangement::Disabled)
        .set_header(laid.iter().map(|it| heading_cell(it, look)));
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
            let cells = laid.iter().zip(widths);
            drawn.add_row(cells.map(|(it, width)| body_cell(it, *width, index, row, look)));
            index += 1;
        }
    }
    set_widths(&mut drawn, widths, gap);
    drawn
}

fn set_widths(drawn: &mut comfy_table::Table, widths: &[usize], gap: usize) {
    for (index, width) in widths.iter().enumerate() {
        // One space is drawn between columns in any case.
        let last = index + 1 == widths.len();
        let padding = u16::try_from(if last { 0 } else { gap - 1 }).unwrap_or(0);
        let width = u16::try_from(*width).unwrap_or(u16::MAX);
        if let Some(column) = drawn.column_mut(index) {
            column.set_padding((0, padding));
            let whole = width.saturating_add(padding);
            column.set_constraint(ColumnConstraint::Absolute(Width::Fixed(whole)));
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

fn body_cell(laid: &Laid, width: usize, index: usize, row: &Row, look: Look) -> comfy_table::Cell {
    let text = laid.texts.get(index).map_or("", String::as_str);
    let text = match laid.column.align {
        Align::Left => wrap(text, real(width), &columns).join("\n"),
        Align::Right => text.to_owned(),
    };
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

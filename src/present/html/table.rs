//! A table, each cell with the name of its column for screens too narrow for the heads.

use super::escape::{escaped, marked};
use super::style::MOST_SET_IN;
use crate::present::document::{Align, Cell, Column, Row, RowKind, Showing, Table};
use crate::present::shown::{self, Notes};

pub(super) fn push(out: &mut String, table: &Table, decimals: u32, notes: &mut Notes) {
    let columns: Vec<&Column> = table.columns.iter().filter(|it| is_shown(it)).collect();
    out.push_str("<table>\n<thead><tr>");
    for column in &columns {
        let heading = escaped(&shown::heading(column));
        out.push_str(&format!("<th{}>{heading}</th>", class(&classes(column))));
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    let texts = texts(table, decimals, notes);
    let depths = depths(table, &texts);
    for (row, texts) in table.rows.iter().zip(&texts) {
        match row.kind {
            RowKind::Group => {
                let heading = marked(&shown::group_heading(row));
                let span = columns.len();
                out.push_str(&format!(
                    "<tr class=\"group\"><th colspan=\"{span}\">{heading}</th></tr>\n"
                ));
            }
            RowKind::Body => push_row(out, "<tr>", table, row, texts, &depths),
            RowKind::Total => {
                push_row(out, "<tr class=\"total\">", table, row, texts, &depths);
            }
        }
    }
    out.push_str("</tbody>\n</table>\n");
}

fn is_shown(column: &Column) -> bool {
    column.showing != Showing::DataOnly
}

/// The texts of all cells; those of columns that are not shown are empty and make no note.
fn texts(table: &Table, decimals: u32, notes: &mut Notes) -> Vec<Vec<String>> {
    let mut text = |column: &Column, cell: &Cell| {
        if is_shown(column) {
            shown::text(cell, column, decimals, notes)
        } else {
            String::new()
        }
    };
    let mut all = Vec::with_capacity(table.rows.len());
    for row in &table.rows {
        let cells = table.columns.iter().zip(&row.cells);
        all.push(if row.kind == RowKind::Group {
            Vec::new()
        } else {
            cells.map(|(column, cell)| text(column, cell)).collect()
        });
    }
    all
}

/// The most characters after the whole part of each column's numbers.
fn depths(table: &Table, texts: &[Vec<String>]) -> Vec<usize> {
    let mut depths = vec![0; table.columns.len()];
    for (row, texts) in table.rows.iter().zip(texts) {
        let cells = table.columns.iter().zip(&row.cells).zip(texts);
        for (depth, ((column, cell), text)) in depths.iter_mut().zip(cells) {
            if shown::is_number(column, cell) {
                *depth = (*depth).max(shown::after_point(text));
            }
        }
    }
    depths
}

fn push_row(
    out: &mut String,
    opening: &str,
    table: &Table,
    row: &Row,
    texts: &[String],
    depths: &[usize],
) {
    out.push_str(opening);
    let cells = table.columns.iter().zip(&row.cells).zip(texts).zip(depths);
    let mut first = true;
    for (((column, cell), text), depth) in cells.filter(|(((it, _), _), _)| is_shown(it)) {
        let mut classes = classes(column);
        if shown::is_number(column, cell) {
            let half_digits = set_in(shown::after_point(text), *depth);
            classes.extend((half_digits > 0).then(|| format!("i{half_digits}")));
        }
        if matches!(cell, Cell::Blank) {
            classes.push("blank".to_owned());
        }
        if matches!(cell, Cell::Verdict(word) if *word != "holds") {
            classes.push("look".to_owned());
        }
        // The first cell names the row, and is its card's heading.
        let tag = if first { "th" } else { "td" };
        let label = if first {
            " scope=\"row\"".to_owned()
        } else {
            format!(" data-of=\"{}\"", escaped(&shown::heading(column)))
        };
        let class = class(&classes);
        out.push_str(&format!("<{tag}{class}{label}>{}</{tag}>", marked(text)));
        first = false;
    }
    out.push_str("</tr>\n");
}

/// By how many halves of a digit a number is set in, so that its point stands under those of
/// numbers with `deepest` characters after their whole part. A point is half as wide as a digit.
fn set_in(own: usize, deepest: usize) -> usize {
    let point = usize::from(own == 0 && deepest > 0);
    (2 * deepest.saturating_sub(own))
        .saturating_sub(point)
        .min(MOST_SET_IN)
}

fn classes(column: &Column) -> Vec<String> {
    let mut classes = Vec::new();
    if column.align == Align::Right {
        classes.push("n".to_owned());
    }
    if column.showing == Showing::PaperOnly {
        classes.push("paper".to_owned());
    }
    classes
}

fn class(classes: &[String]) -> String {
    if classes.is_empty() {
        String::new()
    } else {
        format!(" class=\"{}\"", classes.join(" "))
    }
}

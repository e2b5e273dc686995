//! One sheet: the heads, which stay in sight; the rows; under them what is said about them and the
//! cautions.

use super::gather::{Schedule, is_shown};
use super::style::{self, Weight};
use super::sums::{self, Sum};
use super::text;
use crate::present::document::{Align, Cell, Column, Document, Part, Row, RowKind, Table};
use crate::present::measured::written;
use crate::present::pdf::Paper;
use crate::present::shown::{self, Notes};
use crate::quantity::number::{real, whole};
use num_traits::ToPrimitive;
use rust_xlsxwriter::utility::row_col_to_cell;
use rust_xlsxwriter::{Format, Formula, Workbook, Worksheet, XlsxError};

/// Widths of columns, in digits.
const LEAST_WIDTH: usize = 7;
const MOST_WIDTH: usize = 44;
/// Digits over which paragraphs run at least.
const PARAGRAPH_WIDTH: usize = 90;
/// Width of a column that has none set.
const USUAL_WIDTH: usize = 8;
/// Digits to a line of an upright page, about.
const UPRIGHT_WIDTH: usize = 100;
/// Height of a paragraph's line, in points.
const LINE: f64 = 12.5;
/// Rows of a sheet that are held in memory.
const MOST_HELD: usize = 5_000;
/// The heading of the last column, which says why a figure is `?`.
const NOTES: &str = "Notes";
/// ISO A4 and letter by the format's numbers (ECMA-376, part 1, 18.3.1.63).
const A4: u8 = 9;
const LETTER: u8 = 1;

/// Adds it. The rows of a long sheet are kept in a file of no name until the workbook is written:
/// each cell takes many times the memory that it takes in there.
pub(super) fn add(book: &mut Workbook, schedule: &Schedule, paper: Paper) -> Result<(), XlsxError> {
    let sheet = match schedule.rows() > MOST_HELD {
        true => book.add_worksheet_with_low_memory()?,
        false => book.add_worksheet(),
    };
    sheet.set_name(&schedule.name)?;
    set_paper(sheet, paper);
    sheet.set_header(header(schedule.document));
    sheet.set_footer("&L&A&RPage &P of &N");
    let mut writer = Writer {
        sheet,
        document: schedule.document,
        row: 0,
        widths: Vec::new(),
    };
    if let Some(table) = schedule.table() {
        writer.head(&table.columns)?;
        for part in &schedule.parts {
            writer.rows(part)?;
        }
        writer.set_widths()?;
    }
    writer.said(schedule)?;
    writer.cautions()
}

pub(super) fn set_paper(sheet: &mut Worksheet, paper: Paper) {
    sheet.set_paper_size(match paper {
        Paper::A4 => A4,
        Paper::Letter => LETTER,
    });
    sheet.set_print_fit_to_pages(1, 0);
}

/// The title block in the header of the printed page, where `&` begins an instruction.
fn header(document: &Document) -> String {
    let safe = |said: &str, most: usize| {
        let said: String = text(said).chars().take(most).collect();
        said.replace('&', "&&")
    };
    let title = safe(&document.title, 60);
    let block = safe(&shown::block_line(document), 90);
    format!("&L&B{title}&B&R{block}")
}

struct Writer<'a> {
    sheet: &'a mut Worksheet,
    document: &'a Document,
    row: u32,
    /// Of each column so far, the notes' last.
    widths: Vec<usize>,
}

impl Writer<'_> {
    fn head(&mut self, columns: &[Column]) -> Result<(), XlsxError> {
        for (at, column) in (0_u16..).zip(columns.iter().filter(|column| is_shown(column))) {
            let heading = text(&shown::heading(column));
            let format = match column.align {
                Align::Left => style::text_heading(),
                Align::Right => style::number_heading(),
            };
            self.sheet
                .write_string_with_format(self.row, at, &heading, &format)?;
            let longest = heading.split(' ').map(|word| word.chars().count()).max();
            self.widths.push(longest.unwrap_or(0));
        }
        let last = u16::try_from(self.widths.len()).unwrap_or(u16::MAX);
        self.sheet
            .write_string_with_format(self.row, last, NOTES, &style::text_heading())?;
        self.widths.push(NOTES.len());
        self.sheet.set_freeze_panes(1, 1)?;
        self.sheet.set_repeat_rows(0, 0)?;
        self.row += 1;
        Ok(())
    }

    fn rows(&mut self, part: &Part) -> Result<(), XlsxError> {
        let Some(table) = &part.table else {
            return Ok(());
        };
        // Where each row of the table is on the sheet; groups are a column of their own.
        let mut places: Vec<u32> = Vec::new();
        for (index, row) in table.rows.iter().enumerate() {
            places.push(self.row);
            if row.kind != RowKind::Group {
                self.cells(table, index, row, &places)?;
                self.row += 1;
            }
        }
        Ok(())
    }

    fn cells(
        &mut self,
        table: &Table,
        index: usize,
        row: &Row,
        places: &[u32],
    ) -> Result<(), XlsxError> {
        let weight = match row.kind {
            RowKind::Total => Weight::Total,
            RowKind::Body | RowKind::Group => Weight::Ordinary,
        };
        let mut why = Vec::new();
        let mut at = 0;
        for (number, (column, cell)) in table.columns.iter().zip(&row.cells).enumerate() {
            if !is_shown(column) {
                continue;
            }
            if let Cell::Unknown(reason) = cell {
                why.push(format!("{}: {reason}", column.heading));
            }
            let sum = (weight == Weight::Total)
                .then(|| sums::found(&table.rows, index, number))
                .flatten();
            let formula = sum.map(|sum| formula(sum, &table.rows, places, at));
            self.cell(at, column, cell, weight, formula)?;
            at += 1;
        }
        let why = text(&why.join("; "));
        if why.is_empty() {
            self.sheet
                .write_blank(self.row, at, &style::blank(weight))?;
        } else {
            self.put_text(at, &why, weight)?;
        }
        Ok(())
    }

    fn cell(
        &mut self,
        at: u16,
        column: &Column,
        cell: &Cell,
        weight: Weight,
        formula: Option<String>,
    ) -> Result<(), XlsxError> {
        let decimals = usize::try_from(self.document.decimals).unwrap_or(0);
        match cell {
            Cell::Text(said) => return self.put_text(at, &text(said), weight),
            Cell::Verdict(word) => return self.put_text(at, word, weight),
            Cell::Unknown(_) => {
                let format = style::unknown(weight);
                self.sheet
                    .write_string_with_format(self.row, at, "?", &format)?;
            }
            Cell::Blank => {
                self.sheet.write_blank(self.row, at, &style::by_hand())?;
            }
            Cell::Empty => {
                self.sheet
                    .write_blank(self.row, at, &style::blank(weight))?;
            }
            Cell::Figure(figure) => {
                let unit = (column.unit != Some(figure.unit)).then_some(figure.unit);
                let format = style::number(weight, figure.unit.digits(), unit);
                self.number(at, written(figure.value), &format, formula)?;
            }
            Cell::Money(amount) => {
                let amount = amount.to_f64().and_then(written);
                let format = style::number(weight, decimals, None);
                self.number(at, amount, &format, formula)?;
            }
            Cell::Decimal(number) => {
                let number = number.to_f64().and_then(written);
                self.number(at, number, &style::plain_number(weight), formula)?;
            }
        }
        let shown = shown::text(cell, column, self.document.decimals, &mut Notes::default());
        self.widen(at, shown.chars().count());
        Ok(())
    }

    fn number(
        &mut self,
        at: u16,
        value: Option<f64>,
        format: &Format,
        formula: Option<String>,
    ) -> Result<(), XlsxError> {
        match (value, formula) {
            (Some(value), Some(formula)) => {
                let formula = Formula::new(formula).set_result(value.to_string());
                self.sheet
                    .write_formula_with_format(self.row, at, formula, format)?;
            }
            (Some(value), None) => {
                self.sheet
                    .write_number_with_format(self.row, at, value, format)?;
            }
            (None, _) => {
                self.sheet
                    .write_string_with_format(self.row, at, "?", format)?;
            }
        }
        Ok(())
    }

    fn put_text(&mut self, at: u16, said: &str, weight: Weight) -> Result<(), XlsxError> {
        let format = style::text(weight, said);
        self.sheet
            .write_string_with_format(self.row, at, said, &format)?;
        self.widen(at, said.chars().count());
        Ok(())
    }

    fn widen(&mut self, at: u16, characters: usize) {
        if let Some(width) = self.widths.get_mut(usize::from(at)) {
            *width = (*width).max(characters);
        }
    }

    fn set_widths(&mut self) -> Result<(), XlsxError> {
        for (at, width) in (0_u16..).zip(&mut self.widths) {
            // A little more than the digits: bold ones are wider.
            *width = (*width + 2).clamp(LEAST_WIDTH, MOST_WIDTH);
            self.sheet.set_column_width(at, real(*width))?;
        }
        if self.widths.iter().sum::<usize>() > UPRIGHT_WIDTH {
            self.sheet.set_landscape();
        }
        Ok(())
    }

    /// Headings, paragraphs and notes of the parts, under the rows.
    fn said(&mut self, schedule: &Schedule) -> Result<(), XlsxError> {
        let several = schedule.parts.len() > 1;
        for part in &schedule.parts {
            let lines = part.text.iter().chain(&part.notes);
            let lines: Vec<&String> = lines.collect();
            if lines.is_empty() {
                continue;
            }
            self.row += 1;
            if !part.heading.is_empty() && (several || part.table.is_none()) {
                let heading = text(&part.heading);
                self.sheet
                    .write_string_with_format(self.row, 0, &heading, &style::strong())?;
                self.row += 1;
            }
            for line in lines {
                self.paragraph(line, &style::paragraph())?;
            }
        }
        Ok(())
    }

    fn cautions(&mut self) -> Result<(), XlsxError> {
        let document = self.document;
        if document.cautions.is_empty() {
            return Ok(());
        }
        self.row += 1;
        let heading = "Before you wire from this sheet";
        self.sheet
            .write_string_with_format(self.row, 0, heading, &style::strong())?;
        self.row += 1;
        for caution in &document.cautions {
            self.paragraph(caution, &style::caution())?;
        }
        Ok(())
    }

    /// A paragraph across as many columns as it needs to be read, as high as its lines.
    fn paragraph(&mut self, said: &str, format: &Format) -> Result<(), XlsxError> {
        let said = text(said);
        let (mut last, mut width) = (0_u16, 0);
        loop {
            let own = self.widths.get(usize::from(last)).copied();
            width += own.unwrap_or(USUAL_WIDTH);
            if width >= PARAGRAPH_WIDTH {
                break;
            }
            last += 1;
        }
        // Letters are narrower than digits on the whole, and words do not fill a line.
        let lines = whole((real(said.chars().count()) / real(width)).ceil());
        let height = LINE * real(lines.unwrap_or(1).max(1));
        if last == 0 {
            self.sheet
                .write_string_with_format(self.row, 0, &said, format)?;
        } else {
            self.sheet
                .merge_range(self.row, 0, self.row, last, &said, format)?;
        }
        self.sheet.set_row_height(self.row, height)?;
        self.row += 1;
        Ok(())
    }
}

/// The formula in column `at` of the sheet; `places` are the rows' so far.
fn formula(sum: Sum, rows: &[Row], places: &[u32], at: u16) -> String {
    let cell = |place: u32| row_col_to_cell(place, at);
    // Each unbroken run of ordinary rows from one place in the table to another.
    let ranges = |from: usize, to: usize| -> Vec<String> {
        let known = rows.iter().zip(places).take(to).skip(from);
        let mut runs: Vec<(u32, u32)> = Vec::new();
        for (_, place) in known.filter(|(row, _)| row.kind == RowKind::Body) {
            match runs.last_mut() {
                Some((_, last)) if *last + 1 == *place => *last = *place,
                _ => runs.push((*place, *place)),
            }
        }
        let range = |(first, last): (u32, u32)| format!("SUM({}:{})", cell(first), cell(last));
        runs.into_iter().map(range).collect()
    };
    let end = places.len().saturating_sub(1);
    let terms = match sum {
        Sum::RowsFrom(from) => ranges(from, end),
        Sum::TotalAndRows(total) => {
            let before = places.get(total).copied().map(cell);
            before.into_iter().chain(ranges(total, end)).collect()
        }
        Sum::AllRows => ranges(0, end),
    };
    format!("={}", terms.join("+"))
}

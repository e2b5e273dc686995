//! Documents as a workbook: a sheet for each table, its numbers as numbers with the unit in the
//! heading, its totals as formulas, its text never anything but text.

mod front;
mod gather;
mod sheet;
mod style;
mod sums;

use super::document::Document;
use super::pdf::Paper;
use super::printable::printable;
use gather::schedules;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, XlsxError};
use std::borrow::Borrow;
use time::Date;

/// The longest text that a cell holds, of what the format allows.
const MOST_TEXT: usize = 32_000;

/// The documents' tables in one workbook. `date` is the project's: the file carries no other.
///
/// # Errors
/// When there are more rows than a sheet can have, or the writing fails.
pub fn write<D: Borrow<Document>>(
    title: &str,
    documents: &[D],
    paper: Paper,
    date: Option<Date>,
) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let properties = DocProperties::new()
        .set_title(text(title))
        .set_creation_datetime(&moment(date)?);
    book.set_properties(&properties);
    let documents: Vec<&Document> = documents.iter().map(Borrow::borrow).collect();
    let schedules = schedules(&documents);
    front::add(&mut book, &documents, &schedules, paper)?;
    for schedule in &schedules {
        sheet::add(&mut book, schedule, paper)?;
    }
    book.save_to_buffer()
}

/// The project's day; where it has none, the first that the format knows.
fn moment(date: Option<Date>) -> Result<ExcelDateTime, XlsxError> {
    let known = date.and_then(|day| {
        let year = u16::try_from(day.year()).ok()?;
        ExcelDateTime::from_ymd(year, u8::from(day.month()), day.day()).ok()
    });
    known.map_or_else(|| ExcelDateTime::from_ymd(1900, 1, 1), Ok)
}

/// Text as a cell may hold it, with a sign where it is cut.
fn text(text: &str) -> String {
    let shown = printable(text);
    match shown.char_indices().nth(MOST_TEXT) {
        Some((at, _)) => format!("{}… (cut here)", shown.get(..at).unwrap_or_default()),
        None => shown.into_owned(),
    }
}

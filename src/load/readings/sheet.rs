//! The data file of the test sheet with its reading column filled in. Columns may stand in any
//! order and others may be missing; commas or semicolons part them, and with semicolons a decimal
//! comma is read as well.

use super::{unknown_test, value};
use crate::diagnostic::Diagnostic;
use crate::load::desk::Desk;
use crate::load::nearest::nearest;
use crate::model::reading::{Given, GivenOf, Readable};
use csv::StringRecord;
use std::ops::Range;

/// The readings of a sheet; rows left blank are passed over.
pub(super) fn read(readable: &Readable, desk: &mut Desk) -> Vec<Given> {
    let source = std::sync::Arc::clone(&desk.source);
    let text = source.text();
    let head = text.lines().next().unwrap_or_default();
    let semicolon = head.matches(';').count() > head.matches(',').count();
    let mut rows = csv::ReaderBuilder::new()
        .delimiter(if semicolon { b';' } else { b',' })
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let headings = match rows.headers() {
        Ok(headings) => headings.clone(),
        Err(error) => {
            complain(
                desk,
                "bad-sheet",
                format!("the sheet can't be read: {error}"),
                0..head.len(),
            );
            return Vec::new();
        }
    };
    let Some([test, reading]) = columns(&headings, desk, 0..head.len()) else {
        return Vec::new();
    };
    let mut given = Vec::new();
    for row in rows.records() {
        let row = match row {
            Ok(row) => row,
            Err(error) => {
                let at = error.position().map_or(0, csv::Position::byte);
                let at = usize::try_from(at).unwrap_or(0);
                complain(
                    desk,
                    "bad-sheet",
                    format!("the row can't be read: {error}"),
                    at..at + 1,
                );
                continue;
            }
        };
        let shown = row.get(reading).unwrap_or_default();
        if !shown.is_empty() {
            let name = row.get(test).unwrap_or_default();
            given.extend(one(&row, name, shown, semicolon, readable, desk));
        }
    }
    if given.is_empty() && !desk.complaints.has_errors() {
        let message = "no reading is filled in: write what was found into the column `reading`";
        complain(desk, "nothing-read", message.to_owned(), 0..head.len());
    }
    given
}

/// Where the test's name and its reading stand.
fn columns(headings: &StringRecord, desk: &mut Desk, at: Range<usize>) -> Option<[usize; 2]> {
    let mut found = [None; 2];
    for (wanted, found) in ["test", "reading"].into_iter().zip(&mut found) {
        *found = headings
            .iter()
            .position(|it| it.eq_ignore_ascii_case(wanted));
        if found.is_none() {
            let near = nearest(wanted, headings.iter());
            let near = near.map_or(String::new(), |it| format!(" (`{it}` is near)"));
            let message = format!(
                "the sheet has no column `{wanted}`{near}: fill in the data file of the test sheet \
                 that `report` writes, `test-sheet.csv`"
            );
            complain(desk, "no-column", message, at.clone());
        }
    }
    let [Some(test), Some(reading)] = found else {
        return None;
    };
    Some([test, reading])
}

fn one(
    row: &StringRecord,
    name: &str,
    shown: &str,
    semicolon: bool,
    readable: &Readable,
    desk: &mut Desk,
) -> Option<Given> {
    let start = row.position().map_or(0, csv::Position::byte);
    let start = usize::try_from(start).unwrap_or(0);
    let Some(asked) = readable.tests.iter().find(|it| it.test == name) else {
        let at = field(desk, start, name);
        complain(desk, "unknown-test", unknown_test(name, readable), at);
        return None;
    };
    let at = field(desk, start, shown);
    let text = value::with_unit(shown, &asked.answer, semicolon);
    match value::read(&text, &asked.answer) {
        Ok(found) => Some(Given {
            of: GivenOf::Test(name.to_owned()),
            found,
            place: desk.source.place(at.start),
        }),
        Err(unread) => {
            let message = format!("test `{name}`: {}", unread.message);
            complain(desk, unread.code, message, at);
            None
        }
    }
}

/// Where a field stands in the row that begins at `start`: the last place that reads so, because
/// numbers that were printed come before those that were written in.
fn field(desk: &Desk, start: usize, text: &str) -> Range<usize> {
    let (_, begin, line) = desk.source.line(start);
    let within = line.rfind(text).unwrap_or(0);
    begin + within..begin + within + text.len().max(1)
}

fn complain(desk: &mut Desk, code: &'static str, message: String, at: Range<usize>) {
    let fault = Diagnostic::error(code, message).at(&desk.source, at);
    desk.complaints.push(fault);
}

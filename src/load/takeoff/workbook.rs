//! Workbooks: the cells of each sheet of an .xlsx file.

use super::sheet::{MOST_CELLS, Sheet, SheetRow, trimmed};
use crate::diagnostic::Diagnostic;
use calamine::{DataRef, Reader, Xlsx};
use std::collections::BTreeMap;
use std::io::Cursor;
use zip::ZipArchive;

/// Bytes that the archive may unpack to.
const MOST_BYTES: u64 = 256 * 1024 * 1024;
/// Columns of a sheet that are read.
const MOST_COLUMNS: usize = 1024;

/// The sheets of a workbook, in order.
pub fn sheets(bytes: &[u8], name: &str) -> Result<Vec<Sheet>, Diagnostic> {
    refuse_bomb(bytes, name)?;
    let mut book: Xlsx<Cursor<&[u8]>> =
        Xlsx::new(Cursor::new(bytes)).map_err(|error| unreadable(name, &error.to_string()))?;
    let mut sheets = Vec::new();
    let mut count = 0;
    for sheet in book.sheet_names() {
        // A chart has a sheet of its own, without cells.
        let Ok(mut cells) = book.worksheet_cells_reader(&sheet) else {
            continue;
        };
        let mut rows: BTreeMap<usize, BTreeMap<usize, String>> = BTreeMap::new();
        loop {
            let cell = cells
                .next_cell()
                .map_err(|error| unreadable(name, &error.to_string()))?;
            let Some(cell) = cell else { break };
            count += 1;
            let (row, column) = cell.get_position();
            let (row, column) = (place(row), place(column));
            if count > MOST_CELLS || column >= MOST_COLUMNS {
                let message = format!(
                    "sheet `{sheet}` of {name} is too large: at most {MOST_CELLS} cells in \
                     {MOST_COLUMNS} columns are read"
                );
                return Err(Diagnostic::error("too-large", message));
            }
            let text = text(cell.get_value());
            if !text.is_empty() {
                rows.entry(row).or_default().insert(column, text);
            }
        }
        sheets.push(Sheet {
            name: Some(sheet),
            rows: rows.into_iter().map(filled).collect(),
            comma_parts: false,
        });
    }
    Ok(sheets)
}

fn place(at: u32) -> usize {
    usize::try_from(at).unwrap_or(usize::MAX)
}

fn filled((row, cells): (usize, BTreeMap<usize, String>)) -> SheetRow {
    let width = cells.last_key_value().map_or(0, |(last, _)| last + 1);
    let mut row_cells = vec![String::new(); width];
    for (column, text) in cells {
        if let Some(cell) = row_cells.get_mut(column) {
            *cell = text;
        }
    }
    SheetRow {
        number: row.saturating_add(1),
        cells: row_cells,
    }
}

/// A cell as text, a number in the shortest digits that mean the same.
fn text(cell: &DataRef) -> String {
    match cell {
        DataRef::Int(value) => value.to_string(),
        DataRef::Float(value) => value.to_string(),
        DataRef::String(text) => trimmed(text),
        DataRef::SharedString(text) => trimmed(text),
        DataRef::Bool(true) => "yes".to_owned(),
        DataRef::Bool(false) => "no".to_owned(),
        DataRef::DateTime(date) => date.to_string(),
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => text.clone(),
        DataRef::Error(error) => error.to_string(),
        DataRef::Empty => String::new(),
    }
}

/// Refuses an archive that says it unpacks to far more than a take-off needs.
fn refuse_bomb(bytes: &[u8], name: &str) -> Result<(), Diagnostic> {
    let mut archive = ZipArchive::new(Cursor::new(bytes))
        .map_err(|_| unreadable(name, "it is cut off, or no workbook at all"))?;
    let mut total = 0_u64;
    for index in 0..archive.len() {
        let file = archive
            .by_index_raw(index)
            .map_err(|error| unreadable(name, &error.to_string()))?;
        total = total.saturating_add(file.size());
    }
    if total > MOST_BYTES {
        let mebibytes = MOST_BYTES / 1024 / 1024;
        let message = format!("{name} unpacks to more than {mebibytes} MiB");
        return Err(Diagnostic::error("too-large", message));
    }
    Ok(())
}

fn unreadable(name: &str, why: &str) -> Diagnostic {
    let message = format!("{name} can't be read as a workbook: {why}");
    Diagnostic::error("not-a-workbook", message).help("save it again as .xlsx, or as CSV")
}

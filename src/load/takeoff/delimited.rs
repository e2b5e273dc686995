//! Tables of text: comma, semicolon or tab between cells; UTF-8, UTF-16 with its mark, or
//! Windows-1252.

use super::sheet::{MOST_CELLS, Sheet, SheetRow, trimmed};
use crate::diagnostic::Diagnostic;
use csv::{ReaderBuilder, StringRecord};
use encoding_rs::{Encoding, UTF_8, WINDOWS_1252};

/// What may part cells, the likeliest last: of equals the last wins.
const SEPARATORS: [u8; 4] = [b'|', b',', b'\t', b';'];
/// Rows by which the separator is told.
const TELLING: usize = 60;

/// The sheet of a file of text.
pub fn sheet(bytes: &[u8], name: &str) -> Result<Sheet, Diagnostic> {
    let text = decoded(bytes, name)?;
    if text.trim().is_empty() {
        return Err(Diagnostic::error(
            "empty-take-off",
            format!("{name} holds nothing"),
        ));
    }
    let (declared, text) = declaration(&text);
    let separator = declared.unwrap_or_else(|| separator(text));
    let rows = rows(text, separator, name)?;
    let quoted = text.contains('"');
    Ok(Sheet {
        name: None,
        rows,
        comma_parts: separator == b',' && !quoted,
    })
}

/// The text of the bytes, with one kind of line end.
fn decoded(bytes: &[u8], name: &str) -> Result<String, Diagnostic> {
    let marked = Encoding::for_bom(bytes);
    let encoding = match marked {
        Some((encoding, _)) => encoding,
        None if std::str::from_utf8(bytes).is_ok() => UTF_8,
        None => WINDOWS_1252,
    };
    let (text, _, faulty) = encoding.decode(bytes);
    let control = |c: char| c.is_control() && !matches!(c, '\n' | '\r' | '\t' | '\u{b}' | '\u{c}');
    if let Some(at) = text.find(control) {
        let line = text.get(..at).unwrap_or_default().matches('\n').count() + 1;
        let what = text.get(at..).and_then(|rest| rest.chars().next());
        let what = what.map_or(0, u32::from);
        let message = format!(
            "{name} is not a table of text: line {line} holds the control character U+{what:04X}"
        );
        return Err(Diagnostic::error("not-a-table", message)
            .help("a take-off is a CSV file or an .xlsx workbook"));
    }
    if faulty {
        let message = format!("{name} is not whole {} text", encoding.name());
        return Err(Diagnostic::error("not-a-table", message).help("save the file as UTF-8"));
    }
    Ok(text.replace("\r\n", "\n").replace('\r', "\n"))
}

/// A first line such as `sep=;`, which some spreadsheets write.
fn declaration(text: &str) -> (Option<u8>, &str) {
    let declared = text.split_once('\n').and_then(|(first, rest)| {
        let sign = first.trim().strip_prefix("sep=")?.as_bytes();
        Some((*sign.first()?, rest))
    });
    match declared {
        Some((sign, rest)) => (Some(sign), rest),
        None => (None, text),
    }
}

/// The separator by which most of the first rows have the same number of cells, and more than one.
fn separator(text: &str) -> u8 {
    let mut best = (0, b',');
    for sign in SEPARATORS {
        let counts: Vec<usize> = reader(text, sign)
            .records()
            .take(TELLING)
            .filter_map(Result::ok)
            .map(|record| record.len())
            .filter(|cells| *cells > 1)
            .collect();
        let alike = |count: &usize| counts.iter().filter(|other| *other == count).count();
        let score = counts.iter().map(alike).max().unwrap_or(0);
        if score >= best.0 && score > 0 {
            best = (score, sign);
        }
    }
    best.1
}

fn reader(text: &str, separator: u8) -> csv::Reader<&[u8]> {
    ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes())
}

/// The rows that hold anything, numbered as a spreadsheet numbers them: blank lines count, a line
/// break within quotes does not.
fn rows(text: &str, separator: u8, name: &str) -> Result<Vec<SheetRow>, Diagnostic> {
    let mut reader = reader(text, separator);
    let mut record = StringRecord::new();
    let (mut rows, mut number, mut cells) = (Vec::new(), 0, 0);
    loop {
        let before = reader.position().line();
        let more = reader.read_record(&mut record).map_err(|error| {
            Diagnostic::error("not-a-table", format!("{name} can't be read: {error}"))
        })?;
        if !more {
            return Ok(rows);
        }
        let lines = reader.position().line().saturating_sub(before);
        let broken: usize = record.iter().map(|cell| cell.matches('\n').count()).sum();
        let blank = usize::try_from(lines)
            .unwrap_or(0)
            .saturating_sub(broken + 1);
        number += blank + 1;
        cells += record.len();
        if cells > MOST_CELLS {
            let message = format!("{name} has more than {MOST_CELLS} cells");
            return Err(Diagnostic::error("too-large", message));
        }
        let cells: Vec<String> = record.iter().map(trimmed).collect();
        if cells.iter().any(|cell| !cell.is_empty()) {
            rows.push(SheetRow { number, cells });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbered(text: &str) -> Vec<(usize, String)> {
        let sheet = sheet(text.as_bytes(), "take-off.csv").expect("a sheet");
        sheet
            .rows
            .iter()
            .map(|row| (row.number, row.text()))
            .collect()
    }

    #[test]
    fn ok_rows_are_numbered_with_blank_lines_and_without_breaks_in_quotes() {
        let text = "a,b\n\n\"c\nd\",e\n,\nf,g";
        let expected = [(1, "a | b"), (3, "c\nd | e"), (5, "f | g")];
        for ends in ["\n", "\r\n", "\r"] {
            let found = numbered(&text.replace('\n', ends));
            let found: Vec<_> = found
                .iter()
                .map(|(row, text)| (*row, text.as_str()))
                .collect();
            assert_eq!(found, expected, "{ends:?}");
        }
    }

    #[test]
    fn ok_separators_are_told_apart() {
        for (text, sign) in [
            ("a,b,c\n1,2,3", b','),
            ("a;b;c\n1,2;2,5;3,1", b';'),
            ("a\tb\tc\n1,2\t2,5\t3;1", b'\t'),
            ("a|b\n1|2", b'|'),
            ("Take-off, sheet 1\na;b;c\n1;2;3", b';'),
        ] {
            assert_eq!(char::from(separator(text)), char::from(sign), "{text}");
        }
        assert_eq!(numbered("sep=|\na|b;c")[0].1, "a | b;c");
    }

    #[test]
    fn ok_encodings_are_told_apart() {
        let windows = b"Raum;L\xe4nge \xb0C\nFa\xe7ade;3\n";
        let rows = sheet(windows, "t.csv").expect("Windows-1252").rows;
        assert_eq!(rows[0].cells[1], "Länge °C");
        let mut wide = vec![0xff, 0xfe];
        wide.extend("a;b\n1;2\n".encode_utf16().flat_map(u16::to_le_bytes));
        assert_eq!(
            sheet(&wide, "t.csv").expect("UTF-16").rows[1].cells,
            ["1", "2"]
        );
        assert_eq!(numbered("\u{feff}a,b")[0].1, "a | b");
    }

    #[test]
    fn err_bytes_that_are_no_text() {
        for bytes in [
            &b"a,b\n1\x002,3"[..],
            b"\x7fELF\x02\x01\x01\0\0",
            b"",
            b"  \n\n",
        ] {
            sheet(bytes, "t.csv").expect_err("no table");
        }
        let fault = sheet(b"a,b\n1\x002,3", "t.csv").expect_err("NUL");
        assert!(fault.message.contains("line 2"), "{}", fault.message);
    }
}

//! Does the workbook hold what the documents say, as numbers, formulas and harmless text?

use crate::sample;

use calamine::{Data, Range, Reader, Xlsx, open_workbook_from_rs};
use feedpoint::norms::region::Region;
use feedpoint::present::document::{self, Cell, Column, Document, Part, Row, RowKind, Table};
use feedpoint::present::{pdf, xlsx};
use feedpoint::quantity::figure::Unit;
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use std::io::{Cursor, Read, Write};
use std::path::Path;
use std::process::Command;

/// Differences that come from adding in another order.
const ROUNDING: f64 = 1e-9;

fn bytes_of(documents: &[Document]) -> Vec<u8> {
    let job = sample::job();
    let heading = &job.project.heading;
    xlsx::write(&heading.title, documents, pdf::Paper::A4, heading.date).expect("a workbook")
}

fn sample_bytes() -> Vec<u8> {
    bytes_of(&document::all(&sample::job()))
}

/// A sheet's values and formulas.
struct Sheet {
    values: Range<Data>,
    formulas: BTreeMap<(u32, u32), String>,
}

impl Sheet {
    fn value(&self, row: u32, column: u32) -> Data {
        self.values
            .get_value((row, column))
            .cloned()
            .unwrap_or(Data::Empty)
    }

    fn number(&self, row: u32, column: u32) -> f64 {
        match self.value(row, column) {
            Data::Float(value) => value,
            Data::Int(value) => f64::from(i32::try_from(value).expect("a small number")),
            other => panic!("row {row} column {column} holds {other:?}, no number"),
        }
    }

    /// What a formula comes to: sums of ranges, and single cells, with `+` between them.
    fn calculated(&self, formula: &str) -> f64 {
        let terms = formula.trim_start_matches('=').split('+');
        terms.map(|term| self.term(term)).sum()
    }

    fn term(&self, term: &str) -> f64 {
        let Some(range) = term.strip_prefix("SUM(") else {
            let (row, column) = place(term);
            return self.number(row, column);
        };
        let (first, last) = range
            .trim_end_matches(')')
            .split_once(':')
            .expect("a range");
        let ((from, column), (to, _)) = (place(first), place(last));
        let numbers = (from..=to).map(|row| match self.value(row, column) {
            Data::Float(value) => value,
            Data::Int(value) => f64::from(i32::try_from(value).expect("a small number")),
            _ => 0.0,
        });
        numbers.sum()
    }
}

/// `C7` as row 6, column 2.
fn place(reference: &str) -> (u32, u32) {
    let letters: String = reference
        .chars()
        .take_while(char::is_ascii_alphabetic)
        .collect();
    let column = letters.bytes().fold(0, |number, letter| {
        number * 26 + u32::from(letter - b'A') + 1
    });
    let row: u32 = reference[letters.len()..].parse().expect("a row");
    (row - 1, column - 1)
}

fn read(bytes: &[u8]) -> BTreeMap<String, Sheet> {
    let mut book: Xlsx<_> = open_workbook_from_rs(Cursor::new(bytes)).expect("a workbook");
    let mut sheets = BTreeMap::new();
    for name in book.sheet_names() {
        let values = book.worksheet_range(&name).expect("values");
        let range = book.worksheet_formula(&name).expect("formulas");
        let (top, left) = range.start().unwrap_or((0, 0));
        let mut formulas = BTreeMap::new();
        for (row, column, formula) in range.used_cells() {
            let at = |from: u32, step: usize| from + u32::try_from(step).expect("a place");
            formulas.insert((at(top, row), at(left, column)), formula.clone());
        }
        sheets.insert(name, Sheet { values, formulas });
    }
    sheets
}

/// The tables by the sheet they go on, in order; a table that two documents have once.
fn tables(documents: &[Document]) -> Vec<(String, &Document, Vec<&Part>)> {
    let mut found: Vec<(String, &Document, Vec<&Part>)> = Vec::new();
    for document in documents {
        for part in &document.parts {
            if part
                .table
                .as_ref()
                .is_none_or(|table| table.rows.is_empty())
            {
                continue;
            }
            let words = part.name.replace('-', " ");
            let name: String = words[..1].to_uppercase() + &words[1..];
            match found.iter_mut().find(|(known, _, _)| *known == name) {
                Some((_, of, parts)) if of.name == document.name => parts.push(part),
                Some(_) => {}
                None => found.push((name, document, vec![part])),
            }
        }
    }
    found
}

fn rows<'a>(parts: &[&'a Part]) -> Vec<&'a Row> {
    let tables = parts.iter().filter_map(|part| part.table.as_ref());
    let rows = tables.flat_map(|table| &table.rows);
    rows.filter(|row| row.kind != RowKind::Group).collect()
}

/// Holds every cell against its document's; how many are numbers.
fn compared(documents: &[Document]) -> usize {
    let sheets = read(&bytes_of(documents));
    let mut numbers = 0;
    for (name, document, parts) in tables(documents) {
        let sheet = sheets
            .get(&name)
            .unwrap_or_else(|| panic!("no sheet {name}"));
        let columns = &parts[0].table.as_ref().expect("a table").columns;
        for (at, column) in (0..).zip(columns) {
            let Data::String(heading) = sheet.value(0, at) else {
                panic!("{name} has no heading in column {at}");
            };
            assert!(heading.starts_with(&column.heading), "{name}: {heading}");
            let sign = column.unit.map_or("", |unit| unit.sign());
            assert!(heading.ends_with(sign), "{name}: {heading} lacks {sign}");
        }
        for (at, row) in (1..).zip(rows(&parts)) {
            for (column, cell) in (0..).zip(&row.cells) {
                let found = sheet.value(at, column);
                match cell {
                    Cell::Figure(figure) => {
                        let difference = (sheet.number(at, column) - figure.value).abs();
                        assert!(difference <= 1e-9 * figure.value.abs().max(1.0), "{name}");
                        numbers += 1;
                    }
                    Cell::Money(amount) => {
                        let shown = format!("{:.2}", sheet.number(at, column));
                        assert_eq!(shown, amount.round_dp(2).to_string(), "{}", document.name);
                        numbers += 1;
                    }
                    Cell::Decimal(_) => {
                        sheet.number(at, column);
                    }
                    Cell::Unknown(_) => assert_eq!(found, Data::String("?".to_owned())),
                    Cell::Verdict(word) => assert_eq!(found, Data::String((*word).to_owned())),
                    Cell::Text(text) if !text.contains(['\u{1b}', '\u{202e}']) => {
                        assert_eq!(found, Data::String(text.clone()), "{name}");
                    }
                    Cell::Text(_) => assert!(matches!(found, Data::String(_)), "{found:?}"),
                    Cell::Blank | Cell::Empty => assert_eq!(found, Data::Empty, "{name}"),
                }
            }
        }
    }
    numbers
}

#[test]
fn every_table_has_a_sheet_with_every_cell_as_what_it_is() {
    let numbers = compared(&document::all(&sample::job()));
    assert!(numbers > 100, "only {numbers} numbers");
}

#[test]
fn what_is_not_known_says_why_in_the_last_column() {
    let sheets = read(&sample_bytes());
    let sheet = &sheets["Run schedule"];
    let (_, last) = sheet.values.end().expect("a last cell");
    let notes = (0..=last).find(|at| sheet.value(0, *at) == Data::String("Notes".to_owned()));
    let notes = notes.expect("a column of notes");
    let said: Vec<String> = (1..40)
        .map(|row| sheet.value(row, notes).to_string())
        .collect();
    assert!(
        said.iter().any(|note| note.contains("no working point")),
        "{said:?}"
    );
}

/// Holds every total against its formula; how many there are.
fn totalled(documents: &[Document]) -> usize {
    let sheets = read(&bytes_of(documents));
    let mut seen = 0;
    for (name, _, parts) in tables(documents) {
        let sheet = &sheets[&name];
        for (at, row) in (1..).zip(rows(&parts)) {
            for (column, cell) in (0..).zip(&row.cells) {
                let formula = sheet.formulas.get(&(at, column));
                let is_number = matches!(cell, Cell::Figure(_) | Cell::Money(_) | Cell::Decimal(_));
                if row.kind != RowKind::Total || !is_number {
                    assert_eq!(formula, None, "{name}");
                    continue;
                }
                let formula = formula
                    .unwrap_or_else(|| panic!("{name}, row {at}: {cell:?} is no sum of its rows"));
                let (stored, found) = (sheet.number(at, column), sheet.calculated(formula));
                assert!(
                    (stored - found).abs() <= ROUNDING,
                    "{name}: {formula} {stored}"
                );
                seen += 1;
            }
        }
    }
    seen
}

#[test]
fn every_total_that_is_a_number_is_a_formula_that_comes_to_it() {
    let seen = totalled(&document::all(&sample::job()));
    assert!(seen > 10, "only {seen} totals");
}

/// The rows of a long sheet go by way of a file.
#[test]
fn a_long_table_is_written_as_a_short_one_is() {
    let mut documents = document::all(&sample::job());
    documents.truncate(2);
    let mut table = Table::new(vec![
        Column::text("what", "What"),
        Column::figure("length_m", "Length", Unit::Metre),
        Column::number("amount", "Amount"),
        Column::text("by_hand", "By hand"),
    ]);
    let mut sum = Decimal::ZERO;
    for number in 0..12_000_u32 {
        let amount = Decimal::new(i64::from(number) * 7, 2);
        sum += amount;
        table.row(vec![
            Cell::text(["=1+1", "hall", "a <b> & c", ""][number as usize % 4]),
            Cell::figure(f64::from(number) / 8.0, Unit::Metre),
            match number % 1000 {
                7 => Cell::unknown("the catalogue has no price"),
                _ => Cell::Money(amount),
            },
            Cell::Blank,
        ]);
        if number % 1000 == 7 {
            sum -= amount;
        }
        if number == 6_000 {
            table.total("So far", vec![("amount", Cell::Money(sum))]);
        }
    }
    table.total("All", vec![("amount", Cell::Money(sum))]);
    documents[1].parts = vec![Part::table("long", "Long", table)];
    assert!(compared(&documents) > 23_000);
    assert!(totalled(&documents) >= 2);
    assert_eq!(bytes_of(&documents), bytes_of(&documents));
}

#[test]
fn no_text_becomes_a_formula_or_an_address() {
    let sheets = read(&sample_bytes());
    let hostile = sample::HOSTILE.replace(['\u{1b}', '\u{7}', '\u{202e}'], "\u{FFFD}");
    let mut met = 0;
    for (name, sheet) in &sheets {
        for formula in sheet.formulas.values() {
            let plain =
                |c: char| c.is_ascii_uppercase() || c.is_ascii_digit() || "=+():".contains(c);
            assert!(formula.chars().all(plain), "{name}: {formula}");
        }
        for (_, _, value) in sheet.values.used_cells() {
            if let Data::String(text) = value {
                assert!(!text.chars().any(char::is_control), "{name}: {text:?}");
                met += usize::from(*text == hostile);
            }
        }
    }
    assert!(met > 0, "the sample's formula is somewhere, as text");
}

#[test]
fn a_text_that_looks_like_an_escape_stays_as_it_is() {
    let mut documents = vec![document::named("run-schedule", &sample::job()).expect("a document")];
    let table = documents[0].parts[0].table.as_mut().expect("a table");
    let row = table.rows.iter_mut().find(|row| row.kind == RowKind::Body);
    row.expect("a row").cells[0] = Cell::text("_x0041_ _x000D_");
    let sheets = read(&bytes_of(&documents));
    let found = sheets["Run schedule"].value(1, 0).to_string();
    assert!(found.contains("x0041"), "{found}");
    let xml = part(&bytes_of(&documents), "xl/sharedStrings.xml");
    assert!(xml.contains("_x005F_x0041_"), "not escaped");
}

#[test]
fn heads_stay_in_sight_and_are_printed_on_every_page() {
    let bytes = sample_bytes();
    let mut sheets = 0;
    for number in 2.. {
        let name = format!("xl/worksheets/sheet{number}.xml");
        let Some(xml) = part_if_there(&bytes, &name) else {
            break;
        };
        if xml.contains("<f>") {
            assert!(
                xml.contains("ySplit=\"1\"") && xml.contains("state=\"frozen\""),
                "{name}"
            );
            sheets += 1;
        }
    }
    assert!(sheets > 5);
    assert!(part(&bytes, "xl/workbook.xml").contains("_xlnm.Print_Titles"));
}

#[test]
fn every_sheet_to_wire_from_carries_the_cautions() {
    let documents = document::all(&sample::job());
    let sheets = read(&bytes_of(&documents));
    for (name, document, _) in tables(&documents) {
        let cells = sheets[&name].values.used_cells();
        let said: String = cells.map(|(_, _, value)| value.to_string()).collect();
        assert_eq!(
            said.contains("prove dead"),
            !document.cautions.is_empty(),
            "{name}"
        );
    }
}

#[test]
fn the_same_job_gives_the_same_bytes_and_no_other_date() {
    let first = sample_bytes();
    let other = std::thread::spawn(sample_bytes).join().expect("no panic");
    assert!(first == other, "bytes differ");
    let core = part(&first, "docProps/core.xml");
    assert!(core.contains("2026-11-20T00:00:00Z"), "{core}");
    let american = document::all(&sample::job_in(Region::NorthAmerica));
    assert!(bytes_of(&american) != first);
}

/// A file inside the workbook.
fn part(bytes: &[u8], name: &str) -> String {
    part_if_there(bytes, name).unwrap_or_else(|| panic!("no {name}"))
}

fn part_if_there(bytes: &[u8], name: &str) -> Option<String> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).expect("an archive");
    let mut text = String::new();
    archive
        .by_name(name)
        .ok()?
        .read_to_string(&mut text)
        .expect("text");
    Some(text)
}

/// The workbook with every stored result of a formula wrong.
fn spoilt(bytes: &[u8]) -> Vec<u8> {
    let mut from = zip::ZipArchive::new(Cursor::new(bytes)).expect("an archive");
    let mut to = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for index in 0..from.len() {
        let mut file = from.by_index(index).expect("a file");
        let name = file.name().expect("a name").into_owned();
        let mut contents = Vec::new();
        file.read_to_end(&mut contents).expect("contents");
        if name.starts_with("xl/worksheets/sheet") {
            let text = String::from_utf8(contents).expect("text");
            let mut pieces = text.split("</f><v>");
            let mut out = pieces.next().expect("a start").to_owned();
            for piece in pieces {
                let (_, rest) = piece.split_once("</v>").expect("an end");
                out.push_str("</f><v>-12345</v>");
                out.push_str(rest);
            }
            contents = out.into_bytes();
        }
        let options = zip::write::SimpleFileOptions::default();
        to.start_file(name, options).expect("a file");
        to.write_all(&contents).expect("written");
    }
    to.finish().expect("an archive").into_inner()
}

/// Settings of a scratch profile: always calculate when a workbook is opened.
const ALWAYS_CALCULATE: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"#;

/// Opens the workbook in the office suite and saves it again. `None` when there is no such suite.
fn recalculated(bytes: &[u8], folder: &Path) -> Option<Vec<u8>> {
    let settings = folder.join("profile/user");
    std::fs::create_dir_all(&settings).expect("a folder");
    let file = settings.join("registrymodifications.xcu");
    std::fs::write(file, ALWAYS_CALCULATE).expect("settings");
    std::fs::write(folder.join("book.xlsx"), bytes).expect("a workbook");
    let profile = format!(
        "-env:UserInstallation=file://{}",
        folder.join("profile").display()
    );
    let asked = Command::new("soffice")
        .args([&profile, "--headless", "--convert-to", "xlsx", "--outdir"])
        .arg(folder.join("out"))
        .arg(folder.join("book.xlsx"))
        .output();
    let output = match asked {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return None,
        other => other.expect("the office suite starts"),
    };
    let saved = std::fs::read(folder.join("out/book.xlsx"));
    Some(saved.unwrap_or_else(|error| panic!("{error}: {output:?}")))
}

#[test]
#[ignore = "opens a general-purpose office suite: cargo test -- --ignored present_xlsx"]
fn an_office_suite_calculates_the_same_totals() {
    let folder = tempfile::tempdir().expect("a folder");
    let bytes = sample_bytes();
    let Some(saved) = recalculated(&spoilt(&bytes), folder.path()) else {
        println!("skipped: this machine has no office suite (soffice)");
        return;
    };
    let (ours, theirs) = (read(&bytes), read(&saved));
    let mut compared = 0;
    for (name, sheet) in &ours {
        let other = theirs
            .get(name)
            .unwrap_or_else(|| panic!("no sheet {name}"));
        for at in sheet.formulas.keys() {
            let (own, found) = (sheet.number(at.0, at.1), other.number(at.0, at.1));
            assert!(
                (own - found).abs() <= ROUNDING,
                "{name} {at:?}: {own}, {found}"
            );
            assert!(
                other.formulas.contains_key(at),
                "{name} {at:?} is no formula"
            );
            compared += 1;
        }
        let formulas = other.formulas.len();
        assert_eq!(
            formulas,
            sheet.formulas.len(),
            "{name}: a text became a formula"
        );
    }
    assert!(compared > 10, "only {compared} formulas");
    println!("{compared} formulas calculated without difference");
}

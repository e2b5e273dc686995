//! What `feedpoint import` says, to the letter: every refusal, every reason why a cell could not be
//! read, and what it prints of each layout in `tests/data/take-offs`.
//!
//! With `FEEDPOINT_ACCEPT` set the golden files are written anew; read the difference.

use feedpoint::diagnostic::Diagnostic;
use feedpoint::load::takeoff::{self, Asked};
use feedpoint::present::takeoff::{document, runs};
use feedpoint::present::terminal::{self, Look};
use rust_xlsxwriter::Workbook;
use std::collections::BTreeSet;
use std::path::Path;

const LOOK: Look = Look {
    width: 80,
    colour: false,
    ascii: false,
};

/// Holds a text to its golden file.
fn held_to(name: &str, found: &str) {
    let path = Path::new("tests/golden/import").join(name);
    if std::env::var_os("FEEDPOINT_ACCEPT").is_some() {
        std::fs::create_dir_all("tests/golden/import").expect("a folder");
        std::fs::write(&path, found).expect("written");
    }
    let golden = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(golden == found, "{name} differs:\n{found}");
}

fn refused(name: &str, bytes: &[u8], asked: &Asked) -> Diagnostic {
    match takeoff::from_bytes(bytes, name, asked, None) {
        Err(fault) => fault,
        Ok(taken) => panic!("{name} is read: {:?}", taken.runs),
    }
}

fn mapped(key: &str, heading: &str) -> Asked {
    Asked {
        map: vec![(key.to_owned(), heading.to_owned())],
        ..Asked::default()
    }
}

fn of_sheet(name: &str) -> Asked {
    Asked {
        sheet: Some(name.to_owned()),
        ..Asked::default()
    }
}

/// A workbook with a take-off on each of two sheets.
fn two_sheets() -> Vec<u8> {
    let mut book = Workbook::new();
    for name in ["Ground", "First"] {
        let sheet = book.add_worksheet().set_name(name).expect("a name");
        for (column, text) in ["Run", "Length"].into_iter().enumerate() {
            let column = u16::try_from(column).expect("small");
            sheet.write(0, column, text).expect("a cell");
        }
        sheet.write(1, 0, "cove").expect("a cell");
        sheet.write(1, 1, "4 m").expect("a cell");
    }
    book.save_to_buffer().expect("a workbook")
}

/// A workbook with a cell past the last column that is read.
fn wide() -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write(0, 16_000, "far out").expect("a cell");
    book.save_to_buffer().expect("a workbook")
}

fn refusals() -> Vec<(&'static str, Vec<u8>, Asked)> {
    let none = Asked::default;
    let good = b"run,length\na,1 m\n".to_vec();
    let mut cut_off = two_sheets();
    cut_off.truncate(cut_off.len() / 2);
    vec![
        ("empty.csv", Vec::new(), none()),
        ("blank.csv", b"\n \n".to_vec(), none()),
        ("commas.csv", b",,\n,,\n".to_vec(), none()),
        ("no-headings.csv", b"Length\n12 m\n9 m\n".to_vec(), none()),
        (
            "prose.csv",
            b"Nothing was measured today.\n".to_vec(),
            none(),
        ),
        ("nul.csv", b"run,length\na\0b,3 m\n".to_vec(), none()),
        ("half-utf-16.csv", b"\xff\xfer\0u\0n\0,\0x".to_vec(), none()),
        (
            "program.csv",
            b"\x7fELF\x02\x01\x01\0\0\0\0".to_vec(),
            none(),
        ),
        ("zip.csv", b"PK\x03\x04 and nothing more".to_vec(), none()),
        ("cut-off.xlsx", cut_off, none()),
        (
            "old.xls",
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1".to_vec(),
            none(),
        ),
        ("text.xlsx", good.clone(), none()),
        ("wide.xlsx", wide(), none()),
        ("twice.csv", b"run,length,len\na,1 m,2 m\n".to_vec(), none()),
        ("two.xlsx", two_sheets(), none()),
        ("two.xlsx", two_sheets(), of_sheet("Second")),
        ("take-off.csv", good.clone(), of_sheet("Ground")),
        ("take-off.csv", good.clone(), mapped("lenght", "length")),
        ("take-off.csv", good.clone(), mapped("length", "lenth")),
        ("take-off.csv", good, mapped("length", "Lfd m")),
    ]
}

#[test]
fn every_refusal_is_told_to_the_letter() {
    let mut told = String::new();
    let mut codes = BTreeSet::new();
    for (name, bytes, asked) in refusals() {
        let fault = refused(name, &bytes, &asked);
        codes.insert(fault.code);
        told.push_str(&format!("{fault}\n\n"));
    }
    held_to("refused.txt", &told);
    let unseen: Vec<String> = codes_in_source()
        .into_iter()
        .filter(|code| !codes.contains(code.as_str()) && code != "no-runs")
        .collect();
    assert!(unseen.is_empty(), "refusals that are not tried: {unseen:?}");
}

/// The kinds of refusal that the source of the take-off's reading names; `no-runs` is that of the
/// other way, `import --back`.
fn codes_in_source() -> BTreeSet<String> {
    let mut codes = BTreeSet::new();
    for entry in std::fs::read_dir("src/load/takeoff").expect("readable") {
        let text = std::fs::read_to_string(entry.expect("an entry").path()).expect("text");
        for rest in text.split("Diagnostic::error(").skip(1) {
            let code = rest.split('"').nth(1).expect("a code");
            codes.insert(code.to_owned());
        }
    }
    assert!(codes.len() > 8, "{codes:?}");
    codes
}

#[test]
fn nothing_to_write_back_is_told() {
    let source = feedpoint::load::file::text(b"format: 1\n".to_vec(), "job.yaml");
    let told = takeoff::written(&source.expect("text")).expect_err("no runs");
    held_to("no-runs.txt", &format!("{told}\n"));
}

/// A cell of every kind of column that can't be read, each wrong in another way.
const CELLS: &str = "\
run;room;strip;length (m);to_start;to_end;feed;wet;accessible;ambient;bends;count;cupboard
auto;Foyer;none;0;6 m;-3 m;top;maybe;perhaps;30;[{at 3 m};0;auto
b;TBC;?;about 9;12;n/a;every 0 m;yes;no;warm;{at: 3 m}];1.5;none
c;Foyer;w;12,4 m;1,234;12 s;at [9 m;TBC;?;-500 °C;see plan;2000;x
d;Foyer;w;99999999 m;6 m²;6 mA;both;y;n;25 °C;;x;tbd
e;Foyer;w;1.2.3 m;6 ft 14 in;6 1/3 in;start;;;25 K;;-1;
";

#[test]
fn every_reason_why_a_cell_is_not_read_is_told_to_the_letter() {
    let taken = takeoff::from_bytes(CELLS.as_bytes(), "cells.csv", &Asked::default(), None);
    let taken = taken.unwrap_or_else(|fault| panic!("{fault}"));
    assert_eq!(taken.rows.len(), 6, "{:#?}", taken.rows);
    held_to("cells.txt", &terminal::write(&[document(&taken)], LOOK));
}

#[test]
fn what_is_printed_of_each_layout_is_as_it_was() {
    let mut layouts = 0;
    let entries = std::fs::read_dir("tests/data/take-offs").expect("readable");
    let names = entries.map(|entry| entry.expect("an entry").file_name());
    let names = names.map(|name| name.to_string_lossy().into_owned());
    let names: BTreeSet<String> = names.filter(|name| !name.starts_with('.')).collect();
    for name in names {
        let path = format!("tests/data/take-offs/{name}");
        let taken = takeoff::read(&path, &Asked::default(), None);
        let taken = taken.unwrap_or_else(|fault| panic!("{fault}"));
        let told = terminal::write(&[document(&taken)], LOOK);
        held_to(&format!("{name}.txt"), &format!("{}\n{told}", runs(&taken)));
        layouts += 1;
    }
    assert_eq!(layouts, 5, "and a workbook, which tests/import.rs makes");
}

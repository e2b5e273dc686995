//! Do the printed documents hold what they must, on every sheet, and are they the same each time?

use crate::sample;

use feedpoint::norms::region::Region;
use feedpoint::present::document::{
    self, Cell, Column, Document, Part, RowKind, Showing, Table, TitleBlock,
};
use feedpoint::present::drawing::{layout, run};
use feedpoint::present::{pdf, report};
use std::collections::BTreeSet;

fn of_region(region: Region) -> Vec<u8> {
    let job = sample::job_in(region);
    pdf::write(
        &job.project.heading.title,
        &document::all(&job),
        pdf::Paper::of(region),
        job.project.heading.date,
    )
    .expect("a PDF")
}

fn read(bytes: &[u8]) -> lopdf::Document {
    lopdf::Document::load_mem(bytes).expect("a PDF that can be read")
}

/// The text of each sheet, with every run of white space as one space.
fn sheets(bytes: &[u8]) -> Vec<String> {
    let file = read(bytes);
    file.get_pages()
        .keys()
        .map(|number| squeezed(&file.extract_text(&[*number]).expect("text")))
        .collect()
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A text without any white space: cells may be broken into lines anywhere.
fn dense(text: &str) -> String {
    text.split_whitespace().collect()
}

/// A document with one table of two columns.
fn long_document(rows: Vec<(String, f64)>) -> Document {
    let mut table = Table::new(vec![
        Column::long_text("name", "Named so"),
        Column::figure(
            "length_m",
            "Long so",
            feedpoint::quantity::figure::Unit::Metre,
        ),
    ]);
    for (name, length) in rows {
        table.row(vec![
            Cell::text(name),
            Cell::figure(length, feedpoint::quantity::figure::Unit::Metre),
        ]);
    }
    Document {
        name: "long",
        title: "A long table".to_owned(),
        block: TitleBlock {
            project: "Millrace Library".to_owned(),
            ..TitleBlock::default()
        },
        currency: "EUR".to_owned(),
        decimals: 2,
        inside: false,
        parts: vec![Part::table("long", "All of it", table)],
        cautions: vec!["Prove dead.".to_owned()],
    }
}

fn bytes_of(document: Document) -> Vec<u8> {
    pdf::write("Millrace Library", &[document], pdf::Paper::A4, None).expect("a PDF")
}

#[test]
fn the_same_job_gives_the_same_bytes_on_every_thread() {
    let first = of_region(Region::Iec);
    let others: Vec<_> = (0..3)
        .map(|_| std::thread::spawn(|| of_region(Region::Iec)))
        .collect();
    for other in others {
        assert!(other.join().expect("no panic") == first, "bytes differ");
    }
    assert!(of_region(Region::AusNz) != first);
}

#[test]
fn every_cell_of_every_schedule_is_printed_in_the_order_of_the_table() {
    let job = sample::job();
    for document in document::all(&job) {
        if document.parts.iter().all(|part| part.table.is_none()) {
            continue;
        }
        let bytes = pdf::write("t", std::slice::from_ref(&document), pdf::Paper::A4, None);
        let printed = dense(&sheets(&bytes.expect("a PDF")).join(" "));
        let mut seen = 0;
        for table in document.parts.iter().filter_map(|part| part.table.as_ref()) {
            for row in table.rows.iter().filter(|row| row.kind == RowKind::Body) {
                for (column, cell) in table.columns.iter().zip(&row.cells) {
                    if column.showing == Showing::DataOnly {
                        continue;
                    }
                    let text = match cell {
                        Cell::Text(text) if text.is_ascii() && !text.contains('\u{1b}') => {
                            text.clone()
                        }
                        Cell::Figure(figure) => figure.number(),
                        _ => continue,
                    };
                    // A name broken over lines has other cells between its pieces.
                    let first = text.split([' ', '-', '/', '_', ',']).next().unwrap_or("");
                    assert!(printed.contains(first), "{}: {text}", document.name);
                    seen += 1;
                }
            }
        }
        assert!(
            seen > 0,
            "{} has no cell that was looked for",
            document.name
        );
    }
}

#[test]
fn a_row_reads_from_left_to_right() {
    let text = sheets(&of_region(Region::Iec)).join(" ");
    for row in [
        "D-01 pair-120",
        "C1 Panel DB1 1 1 B16 30 ?1 mains-3-2.5",
        "L1 CTL-1 1 Panel DB1 2 2 8 160 250 0.02 0.61 31.00 31.00 1 2",
        "VAT 20 %, without 1 line 143.66 Total, without 1 line 861.98",
    ] {
        assert!(text.contains(row), "{row} in {text}");
    }
}

#[test]
fn every_sheet_says_which_it_is_and_every_sheet_to_wire_from_is_cautioned() {
    let bytes = of_region(Region::Iec);
    let sheets = sheets(&bytes);
    let mut cautioned = 0;
    for (index, text) in sheets.iter().enumerate() {
        for mark in ["Millrace Library", "ML-014", "20 Nov 2026", "Revision"] {
            assert!(text.contains(mark), "sheet {}: {mark}", index + 1);
        }
        assert!(
            text.contains(&format!("{} of {}", index + 1, sheets.len())),
            "{text}"
        );
        let wired = document::DOCUMENTS
            .iter()
            .find(|listed| text.starts_with(listed.title))
            .expect("a document that begins with its title")
            .wired_from;
        let text = dense(text);
        assert_eq!(text.contains("Beforeyouwirefromthissheet"), wired);
        assert_eq!(text.contains("provedead"), wired);
        cautioned += usize::from(wired);
    }
    assert!(cautioned >= 9, "{cautioned} of {}", sheets.len());
}

#[test]
fn a_table_over_several_sheets_keeps_its_head_and_every_row() {
    let rows = 0..180;
    let document = long_document(rows.clone().map(|n| (format!("row-{n:03}"), 1.5)).collect());
    let sheets = sheets(&bytes_of(document));
    assert!(sheets.len() > 2);
    for text in &sheets {
        assert!(text.contains("Named so Long so m"), "{text}");
    }
    let all = sheets.join(" ");
    let found: BTreeSet<i32> = rows
        .clone()
        .filter(|n| all.matches(&format!("row-{n:03} 1.50")).count() == 1)
        .collect();
    assert_eq!(found.len(), rows.len());
}

#[test]
fn a_cell_longer_than_a_sheet_is_printed_whole() {
    let words: Vec<String> = (0..3000).map(|n| format!("word{n}")).collect();
    let text = dense(&sheets(&bytes_of(long_document(vec![(words.join(" "), 1.0)]))).join(" "));
    for word in words {
        assert!(text.contains(&word), "{word}");
    }
}

#[test]
fn what_the_font_lacks_is_marked_and_named() {
    let document = long_document(vec![(
        "hall 日本 \u{1b}[31m \u{2126} \u{03BC}".to_owned(),
        1.0,
    )]);
    let text = sheets(&bytes_of(document)).join(" ");
    assert!(text.contains("hall □□ □[31m Ω µ"), "{text}");
    for code in ["control characters", "U+65E5", "U+672C"] {
        assert!(text.contains(code), "{code} in {text}");
    }
}

#[test]
fn paper_is_the_regions() {
    let of = |region| {
        let file = read(&of_region(region));
        let page = *file.get_pages().get(&1).expect("a first sheet");
        let page = file.get_dictionary(page).expect("its dictionary");
        let sides = page
            .get(b"MediaBox")
            .and_then(lopdf::Object::as_array)
            .expect("its size");
        let side = |at: usize| sides[at].as_float().expect("a number").round();
        (side(2), side(3))
    };
    // ISO 216 A4, 210 × 297 mm, and ANSI/ASME Y14.1 A, 8.5 × 11 in, in points.
    assert_eq!(of(Region::Iec), (595.0, 842.0));
    assert_eq!(of(Region::NorthAmerica), (612.0, 792.0));
}

#[test]
fn the_file_claims_nothing_that_is_not_so() {
    let bytes = of_region(Region::Iec);
    let file = read(&bytes);
    let text = String::from_utf8_lossy(&bytes);
    assert!(!text.contains("GTS_PDFX"));
    assert!(text.contains("D:20261120"), "the project's date");
    assert_eq!(file.version, "1.7");
    let catalog = file.catalog().expect("a catalogue");
    assert!(catalog.has(b"Outlines") && catalog.has(b"Lang"));
    assert!(file.trailer.has(b"ID"));
    let undated = bytes_of(long_document(vec![("one".to_owned(), 1.0)]));
    assert!(!String::from_utf8_lossy(&undated).contains("CreationDate"));
}

#[test]
fn bookmarks_lead_to_every_document() {
    let file = read(&of_region(Region::Iec));
    let contents = file.get_toc().expect("bookmarks").toc;
    let job = sample::job();
    let bound = |it: &&document::Listed| !it.on_request && it.is_made(&job);
    for listed in document::DOCUMENTS.iter().filter(bound) {
        let entry = contents.iter().find(|entry| entry.title == listed.title);
        let entry = entry.unwrap_or_else(|| panic!("no bookmark {}", listed.title));
        let sheet = u32::try_from(entry.page).expect("a sheet number");
        let text = file.extract_text(&[sheet]).expect("text");
        assert!(
            squeezed(&text).starts_with(listed.title),
            "{}",
            listed.title
        );
    }
}

#[test]
fn the_customer_is_not_shown_costs() {
    let files = report::files(&sample::job(), &[]).expect("files");
    let of = |name: &str| {
        let file = files.iter().find(|file| file.name == name).expect(name);
        sheets(&file.bytes).join(" ")
    };
    assert!(of("costs.pdf").contains("Margin, of the price"));
    let public = of("report.pdf");
    for inside in ["Margin", "Overhead", "459.20", "Unit cost"] {
        assert!(!public.contains(inside), "{inside}");
    }
}

#[test]
fn a_report_has_each_file_once_under_a_plain_name() {
    let files = report::files(&sample::job(), &[]).expect("files");
    let names: BTreeSet<&str> = files.iter().map(|file| file.name.as_str()).collect();
    assert_eq!(names.len(), files.len());
    for name in [
        "report.pdf",
        "report.json",
        "run-schedule.csv",
        "loop-members.csv",
    ] {
        assert!(names.contains(name), "{name}");
    }
    for name in names {
        let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.');
        assert!(name.chars().all(plain), "{name}");
    }
    let only = report::files(&sample::job(), &["loop-schedule".to_owned()]).expect("files");
    let names: Vec<&str> = only.iter().map(|file| file.name.as_str()).collect();
    let expected = [
        "loop-schedule.pdf",
        "loop-schedule.xlsx",
        "loop-schedule.html",
        "loop-schedule.csv",
        "loop-members.csv",
        "loop-cable.csv",
    ];
    assert_eq!(names, expected);
}

#[test]
fn a_drawing_stands_whole_between_title_block_and_cautions() {
    let job = sample::job();
    let sized = &job.sizing.runs[0];
    let sheet = layout::bare(&run::drawing(&job, sized));
    let labels: Vec<String> = sheet.labels().map(|label| label.text.clone()).collect();
    let mut document = long_document(Vec::new());
    document.parts = vec![Part::drawing("drawing", "A drawing", sheet)];
    let bytes = bytes_of(document);
    if let Some(path) = std::env::var_os("FEEDPOINT_LOOK") {
        std::fs::write(path, &bytes).expect("a file to look at");
    }
    let sheets = sheets(&bytes);
    assert_eq!(sheets.len(), 1);
    let printed = dense(&sheets[0]);
    for label in labels.iter().filter(|label| label.is_ascii()) {
        assert!(printed.contains(&dense(label)), "{label} in {printed}");
    }
    assert!(printed.ends_with("Provedead."), "{printed}");
}

/// Lengths of the level lines on the first sheet.
fn level_lines(bytes: &[u8]) -> Vec<f32> {
    let file = read(bytes);
    let page = *file.get_pages().get(&1).expect("a first sheet");
    let content = file.get_and_decode_page_content(page).expect("its content");
    let mut from = (0.0, 0.0);
    let mut lengths = Vec::new();
    for operation in content.operations {
        let at = || {
            let number = |at: usize| operation.operands[at].as_float().expect("a number");
            (number(0), number(1))
        };
        match operation.operator.as_str() {
            "m" => from = at(),
            "l" if at().1 == from.1 => lengths.push(at().0 - from.0),
            _ => {}
        }
    }
    lengths
}

#[test]
fn a_line_to_write_a_sentence_on_is_as_long_as_the_room_allows() {
    let written = |columns: usize| {
        let mut table = Table::new(vec![Column::number("number", "No")]);
        let empty = (0..columns).map(|_| Column::long_text("built", "What was built"));
        table.columns.extend(empty);
        let mut cells = vec![Cell::count(1)];
        cells.extend(vec![Cell::Blank; columns]);
        table.row(cells);
        let mut document = long_document(Vec::new());
        document.parts = vec![Part::table("built", "Built", table)];
        let lengths = level_lines(&bytes_of(document));
        // Rules of the table and the frame are longer than any line of it.
        let lines = lengths.into_iter().filter(|it| (30.0..175.0).contains(it));
        lines.filter(|it| *it > 0.0).collect::<Vec<f32>>()
    };
    assert!(written(1).iter().any(|it| (165.0..171.0).contains(it)));
    let five = written(5);
    assert!(
        five.iter().filter(|it| (80.0..120.0).contains(*it)).count() >= 5,
        "{five:?}"
    );
}

/// The checker (qpdf, which reads every object and decodes every stream) finds nothing wrong.
#[test]
#[ignore = "needs a general-purpose PDF checker: cargo test -- --ignored present_pdf"]
fn a_checker_of_files_finds_nothing_wrong() {
    let folder = tempfile::tempdir().expect("a folder");
    for region in [Region::Iec, Region::NorthAmerica] {
        let path = folder.path().join("all.pdf");
        std::fs::write(&path, of_region(region)).expect("a file");
        let checker = std::process::Command::new("qpdf")
            .arg("--check")
            .arg(&path)
            .output();
        let Ok(told) = checker else {
            println!("skipped: this machine has no PDF checker (qpdf)");
            return;
        };
        let text = String::from_utf8_lossy(&told.stdout);
        let trouble = String::from_utf8_lossy(&told.stderr);
        assert_eq!(told.status.code(), Some(0), "{text}{trouble}");
        assert!(
            text.contains("No syntax or stream encoding errors found"),
            "{text}"
        );
    }
}

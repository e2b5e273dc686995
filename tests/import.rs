//! Are a person's take-offs, however they are laid out, read without losing a row, a cell or a
//! figure; and does a project's own take-off come back as the same runs?
//!
//! The layouts in `tests/data/take-offs` are invented. Lengths are compared with hand conversions:
//! 1 ft is 0.3048 m and 1 in is 25.4 mm exactly (International Yard and Pound Agreement, 1959).

use crate::made::cases::cases;

use feedpoint::load;
use feedpoint::load::takeoff::{self, Asked, DecimalSign, Fate, TakeOff, TakenRun};
use feedpoint::present::takeoff::runs;
use feedpoint::quantity::length;
use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use rust_xlsxwriter::{Formula, Workbook};
use std::path::Path;
use std::process::Command;
use uom::si::length::meter;

fn read(file: &str, asked: &Asked) -> TakeOff {
    let path = format!("tests/data/take-offs/{file}");
    let taken = takeoff::read(&path, asked, None);
    taken.unwrap_or_else(|fault| panic!("{file}: {}", fault.message))
}

fn read_bytes(bytes: &[u8], asked: &Asked) -> Result<TakeOff, String> {
    takeoff::from_bytes(bytes, "take-off.csv", asked, None).map_err(|fault| fault.message)
}

fn metres(run: &TakenRun, key: &str) -> Option<f64> {
    let value = run.value(key)?;
    Some(length::read(value).expect(value).get::<meter>())
}

/// Name, room, strip, and length in m of each run.
fn rows(taken: &TakeOff) -> Vec<(String, String, String, Option<f64>)> {
    let text = |run: &TakenRun, key: &str| run.value(key).unwrap_or("").to_owned();
    let runs = taken.runs.iter();
    runs.map(|run| {
        (
            text(run, "run"),
            text(run, "room"),
            text(run, "strip"),
            metres(run, "length"),
        )
    })
    .collect()
}

fn assert_rows(taken: &TakeOff, expected: &[(&str, &str, &str, Option<f64>)]) {
    let found = rows(taken);
    assert_eq!(found.len(), expected.len(), "{found:#?}");
    for ((run, room, strip, length), (a, b, c, d)) in found.iter().zip(expected) {
        assert_eq!((run.as_str(), room.as_str(), strip.as_str()), (*a, *b, *c));
        let near = match (length, d) {
            (Some(length), Some(expected)) => (length - expected).abs() < 1e-9,
            (None, None) => true,
            _ => false,
        };
        assert!(near, "{run}: {length:?} is not {d:?}");
    }
}

/// Every row that holds anything has one fate; every cell of a row that became a run is in the
/// run, in its remarks, among the cells not read, or says that there is nothing.
fn assert_nothing_lost(taken: &TakeOff, filled_rows: &[usize]) {
    let numbers: Vec<usize> = taken.rows.iter().map(|row| row.number).collect();
    assert_eq!(numbers, filled_rows, "rows in are rows accounted for");
    let made: usize = taken
        .rows
        .iter()
        .map(|row| {
            if let Fate::Runs(count) = row.fate {
                count
            } else {
                0
            }
        })
        .sum();
    assert_eq!(made, taken.runs.len());
    let text = runs(taken);
    for cell in &taken.unread {
        let of_row = taken.runs.iter().filter(|run| run.row == cell.row);
        assert!(of_row.clone().count() > 0, "{cell:?}");
        for run in of_row {
            assert!(
                run.unread
                    .contains(&(cell.heading.clone(), cell.text.clone()))
            );
        }
        let said = format!("# not read: {}: {}", cell.heading, cell.text);
        assert!(text.contains(&said), "{said} in\n{text}");
    }
    for run in &taken.runs {
        for (heading, remark) in &run.remarks {
            let line = remark.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(
                text.contains(&format!("# {heading}: {line}")),
                "{heading}: {remark}"
            );
        }
    }
}

fn unread(taken: &TakeOff) -> Vec<(usize, &str, &str)> {
    let cells = taken.unread.iter();
    cells
        .map(|cell| (cell.row, cell.column.as_str(), cell.text.as_str()))
        .collect()
}

#[test]
fn ok_semicolons_decimal_commas_windows_encoding_titles_and_subtotals() {
    let taken = read("semicolons.csv", &Asked::default());
    assert_nothing_lost(&taken, &[1, 2, 4, 5, 6, 7, 8, 9, 10, 11]);
    assert_rows(
        &taken,
        &[
            ("HC-N", "Reading hall", "white-pair-24-19", Some(18.4)),
            ("HC-S", "Reading hall", "white-pair-24-19", Some(18.4)),
            ("HC-E", "Reading hall", "white-pair-24-19", Some(9.2)),
            ("RF-1", "Façade", "wet-24-14", Some(10.125)),
            ("ST-1", "Stair", "", Some(12.75)),
        ],
    );
    assert_eq!(metres(&taken.runs[3], "to_start"), Some(16.5));
    assert_eq!(taken.runs[1].value("to_end"), None, "n/a: no way for cable");
    assert_eq!(
        taken.runs[0].remarks[1],
        ("Remarks".to_owned(), "corners: 4 × 90°".to_owned())
    );
    assert_eq!(unread(&taken), [(10, "F", "TBC")]);
    let lacks: Vec<_> = taken.runs[4].lacks.iter().map(|lack| lack.key).collect();
    assert_eq!(lacks, ["strip", "to_start"]);
    let totals: Vec<_> = taken
        .rows
        .iter()
        .filter_map(|row| match &row.fate {
            Fate::Total { disagrees, .. } => Some((row.number, disagrees.clone())),
            _ => None,
        })
        .collect();
    // 18.4 + 18.4 + 9.2 = 46.0; 46.0 + 10.125 + 12.75 = 68.875, and the sheet says 69.875.
    assert_eq!(totals[0], (8, None));
    assert_eq!(totals[1].0, 11);
    let disagrees = totals[1].1.as_deref().expect("a metre too much");
    assert!(disagrees.contains("69.875 m"), "{disagrees}");
}

#[test]
fn ok_tabs_byte_order_mark_units_under_the_headings_feet_and_inches() {
    let taken = read("tabs-feet.tsv", &Asked::default());
    assert_nothing_lost(&taken, &[1, 2, 3, 4, 5, 6]);
    let shelf = "long-48-7";
    assert_rows(
        &taken,
        &[
            ("S-01", "Stacks", shelf, Some(40.0 * 0.3048 + 8.0 * 0.0254)),
            ("S-02-1", "Stacks", shelf, Some(32.5 * 0.3048)),
            ("S-02-2", "Stacks", shelf, Some(32.5 * 0.3048)),
            ("S-02-3", "Stacks", shelf, Some(32.5 * 0.3048)),
            ("S-03", "Stacks", shelf, Some(17.5 * 0.3048)),
            ("S-04-1", "Archive", shelf, None),
            ("S-04-2", "Archive", shelf, None),
        ],
    );
    assert_eq!(taken.runs[0].value("feed"), Some("start"));
    assert_eq!(taken.runs[1].value("feed"), Some("both ends"));
    let half_inch = metres(&taken.runs[4], "to_start").expect("24' 1/2\"");
    assert!((half_inch - (24.0 * 0.3048 + 0.5 * 0.0254)).abs() < 1e-12);
    assert_eq!(unread(&taken), [(5, "H", "maybe"), (6, "D", "approx 12")]);
    assert_eq!(taken.runs[0].remarks[0].1, "shelf front,\nlower");
}

#[test]
fn ok_rooms_as_rows_of_their_own_headings_again_and_names_twice() {
    let taken = read("room-rows.csv", &Asked::default());
    assert_nothing_lost(&taken, &[1, 2, 3, 4, 6, 7, 8, 9, 10, 11]);
    assert_rows(
        &taken,
        &[
            ("cove", "READING HALL", "white-pair-24-19", Some(18.4)),
            ("cove-2", "READING HALL", "white-pair-24-19", Some(9.2)),
            ("FOYER row 7", "FOYER", "white-single-24-14", Some(4.4)),
            ("desk front", "FOYER", "white-single-24-14", Some(3.15)),
        ],
    );
    assert_eq!(metres(&taken.runs[0], "to_end"), Some(21.0));
    assert_eq!(metres(&taken.runs[0], "to_start"), Some(6.0));
    assert_eq!(taken.runs[2].value("cupboard"), Some("auto"));
    assert_eq!(taken.rows[6].fate, Fate::Headings);
    assert!(
        matches!(&taken.rows[8].fate, Fate::Total { .. }),
        "{:?}",
        taken.rows[8]
    );
    let footnote = taken.rows.last().expect("rows");
    assert!(matches!(&footnote.fate, Fate::Remark(text) if text.starts_with("Lengths measured")));
    assert!(taken.is_whole());
}

#[test]
fn ok_headings_of_ones_own_are_mapped_and_quoted_commas_read() {
    let map = vec![("run".to_owned(), "bezeichnung".to_owned())];
    let taken = read(
        "own-headings.csv",
        &Asked {
            map,
            ..Asked::default()
        },
    );
    assert_nothing_lost(&taken, &[1, 2, 3, 4]);
    assert_rows(
        &taken,
        &[
            ("gallery 1", "Reading hall", "Long 48/7", Some(7.25)),
            ("gallery 2", "Reading hall", "Long 48/7", Some(6.3)),
            ("gallery 3", "Reading hall", "", None),
        ],
    );
    assert_eq!(unread(&taken), [(4, "D", "?")]);
    let catalogue = load::catalogue("catalogue-examples/trade.yaml").expect("the example");
    let path = "tests/data/take-offs/own-headings.csv";
    let taken = takeoff::read(path, &Asked::default(), Some(&catalogue)).expect("read");
    assert_eq!(taken.runs[0].value("strip"), Some("long-48-7"));
    assert_eq!(
        taken.runs[0].value("run"),
        Some("Reading hall row 2"),
        "its name is a remark"
    );
    assert_eq!(
        taken.runs[0].remarks[0],
        ("Bezeichnung".to_owned(), "gallery 1".to_owned())
    );
}

/// Two pages with their headings, columns without any, ditto signs, units in the cells, and a bar
/// between them.
#[test]
fn ok_two_pages_bars_ditto_signs_and_units_in_the_cells() {
    let taken = read("two-pages.txt", &Asked::default());
    let filled: Vec<usize> = taken.rows.iter().map(|row| row.number).collect();
    assert_nothing_lost(&taken, &filled);
    let pair = "white-pair-24-19";
    assert_rows(
        &taken,
        &[
            ("1", "Foyer", pair, Some(37.8)),
            ("2-1", "Foyer", pair, Some(2.12)),
            ("2-2", "Foyer", pair, Some(2.12)),
            (
                "3",
                "Stair",
                "stair-24-5",
                Some(13.0 * 0.3048 + 4.5 * 0.0254),
            ),
            ("4", "Façade", "outdoor-24-10", Some(12.045)),
            ("5-1", "Façade", "outdoor-24-10", None),
            ("5-2", "Façade", "outdoor-24-10", None),
            ("6", "Archive", "work-24-14", Some(9.6)),
            // A note in the wrong column may be a run: it is asked about.
            ("Archive row 13", "Archive", "", None),
        ],
    );
    assert_eq!(metres(&taken.runs[0], "to_start"), Some(11.2));
    assert_eq!(taken.runs[0].value("feed"), Some("both ends"));
    assert_eq!(taken.runs[3].value("ambient"), Some("18 °C"));
}

/// A workbook as a person keeps one: a cover sheet, a title, numbers as numbers, a formula.
fn workbook() -> Vec<u8> {
    let mut book = Workbook::new();
    let cover = book.add_worksheet();
    cover.set_name("Cover").expect("a name");
    cover
        .write(0, 0, "Millrace Library take-off")
        .expect("written");
    let sheet = book.add_worksheet();
    sheet.set_name("First floor").expect("a name");
    sheet.write(1, 1, "Take-off, first floor").expect("written");
    let headings = [
        "Run",
        "Room",
        "Strip",
        "Length (m)",
        "To start (m)",
        "Accessible",
        "Checked",
    ];
    for (column, heading) in (1..).zip(headings) {
        sheet.write(3, column, heading).expect("written");
    }
    for (row, (run, length, to_start)) in
        (5..).zip([("stack-1", 3.6, 10.0), ("stack-2", 4.125, 11.25)])
    {
        sheet.write(row, 1, run).expect("written");
        sheet.write(row, 2, "Stacks").expect("written");
        sheet.write(row, 3, "shelf-24-7").expect("written");
        sheet.write(row, 4, length).expect("written");
        sheet.write(row, 5, to_start).expect("written");
        sheet.write(row, 6, true).expect("written");
    }
    sheet.write(6, 7, "site, 3 June").expect("written");
    sheet.write(8, 1, "Total").expect("written");
    let sum = Formula::new("=SUM(E6:E7)").set_result("7.725");
    sheet.write(8, 4, sum).expect("written");
    book.save_to_buffer().expect("a workbook")
}

#[test]
fn ok_workbooks_numbers_formulas_and_a_cover_sheet() {
    let taken = read_bytes(&workbook(), &Asked::default()).expect("read");
    assert_eq!(taken.sheet.as_deref(), Some("First floor"));
    assert_nothing_lost(&taken, &[2, 4, 6, 7, 9]);
    assert_rows(
        &taken,
        &[
            ("stack-1", "Stacks", "shelf-24-7", Some(3.6)),
            ("stack-2", "Stacks", "shelf-24-7", Some(4.125)),
        ],
    );
    assert_eq!(metres(&taken.runs[1], "to_start"), Some(11.25));
    assert_eq!(taken.runs[0].value("accessible"), Some("yes"));
    assert!(taken.is_whole(), "{taken:#?}");
    let asked = Asked {
        sheet: Some("Cellar".to_owned()),
        ..Asked::default()
    };
    let fault = read_bytes(&workbook(), &asked).expect_err("no such sheet");
    assert!(fault.contains("`Cover`, `First floor`"), "{fault}");
}

#[test]
fn err_bad_input_is_one_clear_message() {
    let none = Asked::default();
    for (bytes, said) in [
        (&b""[..], "holds nothing"),
        (b"\n\n", "holds nothing"),
        (
            b"Length\n12 m\n9 m\n",
            "no row of take-off.csv names columns",
        ),
        (b"run,length\na\0b,3 m\n", "control character U+0000"),
        (
            b"PK\x03\x04 and nothing more",
            "can't be read as a workbook",
        ),
        (b"\x7fELF\x02\x01\x01\0\0\0\0", "control character"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "old binary kind"),
        (
            b"run,length,len\na,1 m,2 m\n",
            "two columns for `length`: B `length` and C `len`",
        ),
    ] {
        let fault = read_bytes(bytes, &none).expect_err(said);
        assert!(fault.contains(said), "{fault}");
    }
    let named = takeoff::from_bytes(b"run,length\na,1 m\n", "take-off.xlsx", &none, None);
    assert!(
        named
            .expect_err("no zip")
            .message
            .contains("is not a workbook")
    );
    for (key, heading, said) in [
        ("lenght", "Lfd m", "did you mean `length`?"),
        ("length", "lenth", "did you mean `length`?"),
    ] {
        let map = vec![(key.to_owned(), heading.to_owned())];
        let asked = Asked {
            map,
            ..Asked::default()
        };
        let fault = read_bytes(b"run,length\na,1 m\n", &asked).expect_err(said);
        assert!(fault.contains(said), "{fault}");
    }
}

#[test]
fn ok_what_numbers_leave_open_the_user_can_say() {
    let text = b"run,length\na,\"1,234\"\nb,12\n";
    let taken = read_bytes(text, &Asked::default()).expect("read");
    assert_eq!(unread(&taken), [(2, "B", "1,234"), (3, "B", "12")]);
    let unit = takeoff::fields::unit("m");
    for (decimal, expected) in [(DecimalSign::Comma, 1.234), (DecimalSign::Point, 1234.0)] {
        let asked = Asked {
            unit,
            decimal: Some(decimal),
            ..Asked::default()
        };
        let taken = read_bytes(text, &asked).expect("read");
        assert_eq!(metres(&taken.runs[0], "length"), Some(expected));
        assert_eq!(metres(&taken.runs[1], "length"), Some(12.0));
    }
}

const DEMO: &str = "catalogue-examples/millrace-library.yaml";

/// A project file's runs as a take-off, as CSV.
fn back(path: &Path) -> Vec<u8> {
    let out = Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args(["import", "--back"])
        .arg(path)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("the program runs");
    assert!(
        out.status.success(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    out.stdout
}

/// The demo with other runs in place of its own.
fn demo_with(runs: &str) -> String {
    let demo = std::fs::read_to_string(DEMO).expect("the demo");
    let from = demo.find("\nruns:\n").expect("runs") + 1;
    let to = demo.find("\ndevices:").expect("what comes after") + 1;
    format!("{}{runs}{}", &demo[..from], &demo[to..])
}

/// The runs of a project, without where they stand in its file.
fn runs_of(text: &str) -> Vec<String> {
    let base = Path::new("catalogue-examples");
    let loaded = load::project_from_text("project.yaml", text, base);
    let loaded = loaded.unwrap_or_else(|faults| panic!("{faults}\n{text}"));
    let runs = loaded.project.runs.iter();
    runs.map(|run| {
        let text = format!("{run:?}");
        let mut pieces = text.split("Place {");
        let first = pieces.next().unwrap_or_default().to_owned();
        pieces.fold(first, |whole, piece| {
            whole + piece.split_once('}').map_or(piece, |(_, rest)| rest)
        })
    })
    .collect()
}

#[test]
fn ok_the_demo_comes_back_as_the_same_runs() {
    let taken = read_bytes(&back(Path::new(DEMO)), &Asked::default()).expect("read");
    assert!(taken.is_whole(), "{taken:#?}");
    assert!(taken.filled.is_empty() && taken.unread.is_empty());
    let demo = std::fs::read_to_string(DEMO).expect("the demo");
    let before = runs_of(&demo);
    assert!(before.len() > 8, "{}", before.len());
    assert_eq!(runs_of(&demo_with(&runs(&taken))), before);
}

/// A run in the words of the project file, with names that a take-off could misread.
fn a_run() -> impl Strategy<Value = String> {
    let name = prop_oneof![
        "[A-Za-z0-9=+@'\"#:;,.*&%!?-]{1,12}",
        Just("total".to_owned()),
        Just("tbc".to_owned()),
        Just("-".to_owned()),
        Just("ditto".to_owned()),
        Just("n/a".to_owned()),
        Just("=1+1".to_owned()),
        Just("\"".to_owned()),
        Just("two  spaces".to_owned()),
        Just("'quoted".to_owned()),
    ];
    let length = prop_oneof![
        (100_u32..40_000).prop_map(|mm| format!("{mm} mm")),
        (1_u32..400).prop_map(|tenths| format!("{} m", f64::from(tenths) / 10.0 + 1.0)),
        (4_u32..90, 0_u32..12).prop_map(|(feet, inches)| format!("{feet} ft {inches} in")),
    ];
    let feed = prop_oneof![
        Just("auto"),
        Just("start"),
        Just("both ends"),
        Just("middle"),
        Just("at [0 m, 500 mm]"),
    ];
    let optional = (any::<bool>(), any::<bool>(), any::<bool>(), -30_i32..50);
    (name, length, feed, optional).prop_map(|(name, length, feed, (wet, bent, limited, ambient))| {
        let name = serde_json::Value::from(name);
        let length = if feed.starts_with("at") { "9 m".to_owned() } else { length };
        let mut text = format!(
            "  - run: {name}\n    room: reading-hall\n    strip: white-pair-24-19\n    length: {length}\n    \
             to_start: 6 m\n    to_end: {length}\n    reach_along: yes\n    feed: {feed}\n    \
             ambient: {ambient} °C\n    view: {name}\n    bin: {name}\n"
        );
        if wet {
            text.push_str("    wet: yes\n    exposed_to: [sun, burial]\n    in_insulation: 0.3 m\n");
        }
        if bent {
            text.push_str("    bends:\n      - radius: 400 mm\n      - radius: 1 ft 6 in\n        way: face\n");
        }
        if limited {
            text.push_str("    limits:\n      light_drop: 5 %\n      colour_shift: 2 steps\n");
        }
        text
    })
}

#[test]
fn ok_any_runs_come_back_the_same() {
    let folder = tempfile::tempdir().expect("a folder");
    let catalogue = std::fs::read("catalogue-examples/trade.yaml").expect("the catalogue");
    std::fs::write(folder.path().join("trade.yaml"), catalogue).expect("written");
    let path = folder.path().join("project.yaml");
    let project = |runs: &str| {
        format!(
            "format: 1\nproject: {{title: Millrace Library}}\ncatalogues: [trade.yaml]\npoints:\n  \
             - {{point: panel, kind: panel}}\n  - {{point: cupboard-a, kind: cupboard}}\n  \
             - {{point: reading-hall, kind: room}}\nroutes:\n  - {{from: panel, to: cupboard-a, length: 9 m}}\n  \
             - {{from: cupboard-a, to: reading-hall, length: 9 m}}\n{runs}"
        )
    };
    let mut runner = TestRunner::new(cases(24));
    let several = proptest::collection::vec(a_run(), 1..6);
    runner
        .run(&several, |several| {
            let mut seen = std::collections::BTreeSet::new();
            let mut text = "runs:\n".to_owned();
            for run in several {
                let name = run.lines().next().unwrap_or_default().to_owned();
                if seen.insert(name) {
                    text.push_str(&run);
                }
            }
            let before = project(&text);
            std::fs::write(&path, &before).expect("written");
            let csv = back(&path);
            let taken = read_bytes(&csv, &Asked::default()).expect("read");
            prop_assert!(taken.unread.is_empty(), "{:#?}", taken.unread);
            let after = project(&runs(&taken));
            prop_assert_eq!(
                runs_of(&before),
                runs_of(&after),
                "{}",
                String::from_utf8_lossy(&csv)
            );
            Ok(())
        })
        .expect("the same runs");
}

//! The documents that people carry on site: test sheet, feed-point sheets, one-line drawings.

use crate::sample;

use feedpoint::pipeline;
use feedpoint::present::document::site_tests::{Expected, SiteTest, Stage, all};
use feedpoint::present::document::{self, Cell, Document, RowKind};
use feedpoint::present::drawing::one_line::{bus, cupboard, whole};
use feedpoint::present::drawing::sheet::{Shape, Sheet};
use feedpoint::present::job::Job;
use feedpoint::quantity::figure::Unit;
use std::collections::BTreeSet;
use std::path::Path;

fn demo() -> Job {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = root.join("catalogue-examples/millrace-library.yaml");
    let job = pipeline::job(path.to_str().expect("a path"), false);
    job.unwrap_or_else(|faults| panic!("{faults:?}")).0
}

/// A project of its own: `drivers` groups of one run each in one cupboard, whose bus goes on
/// through `deep` junctions, one after the other; names of `letters` letters.
fn large(drivers: usize, deep: usize, letters: usize) -> Job {
    let long = |stem: &str, n: usize| {
        format!("{stem}-{n}-{}", "long ".repeat(letters / 5))
            .trim()
            .to_owned()
    };
    let mut text = String::from(
        "format: 1\nproject: {title: Large}\nregion: iec\ncatalogues: [trade.yaml]\n\
         supply: {voltage: 230 V, frequency: 50 Hz}\npoints:\n  - {point: panel, kind: panel}\n",
    );
    text += &format!(
        "  - {{point: cupboard, kind: cupboard, title: \"{}\", ambient: 30 °C}}\n",
        long("Cupboard", 1)
    );
    for n in 0..deep {
        text += &format!(
            "  - {{point: j{n}, kind: junction, title: \"{}\"}}\n",
            long("Junction", n)
        );
    }
    text +=
        "  - {point: room, kind: room}\nroutes:\n  - {from: panel, to: cupboard, length: 10 m}\n";
    let mut last = "cupboard".to_owned();
    for n in 0..deep {
        text += &format!("  - {{from: {last}, to: j{n}, length: 2 m}}\n");
        last = format!("j{n}");
    }
    text += &format!("  - {{from: {last}, to: room, length: 3 m}}\nruns:\n");
    for n in 0..drivers {
        text += &format!(
            "  - {{run: \"{}\", room: room, strip: shelf-24-7, length: 2.7 m, group: g{n}, \
             cupboard: cupboard, to_start: 5 m, accessible: yes}}\n",
            long("run", n)
        );
    }
    text +=
        "devices:\n  - {device: sensor, item: ceiling-sensor, room: room, count: 20}\ngroups:\n";
    for n in 0..drivers {
        text += &format!("  - {{group: g{n}}}\n");
    }
    text += "circuits: {breaker: B16, residual: 30 mA}\npricing: {labour_rate: 42.00}\n";
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("project.yaml");
    std::fs::write(&path, text).expect("a project");
    let trade = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples/trade.yaml");
    std::fs::copy(trade, folder.path().join("trade.yaml")).expect("a catalogue");
    let job = pipeline::job(path.to_str().expect("a path"), false);
    job.unwrap_or_else(|faults| panic!("{faults:?}")).0
}

/// Expected figure, least and most, and their unit.
type Bounds = (Option<f64>, Option<f64>, Option<f64>, Unit);

fn bounds(test: &SiteTest) -> Option<Bounds> {
    match test.expected {
        Expected::Reading {
            value,
            low,
            high,
            unit,
        } => Some((low, value, high, unit)),
        _ => None,
    }
}

#[test]
fn every_test_has_a_name_of_its_own_and_dead_tests_come_first() {
    for job in [demo(), sample::job()] {
        let tests = all(&job);
        let names: BTreeSet<&str> = tests.iter().map(|test| test.id.as_str()).collect();
        assert_eq!(names.len(), tests.len());
        assert!(tests.windows(2).all(|pair| pair[0].stage <= pair[1].stage));
        let live = tests.iter().position(|test| test.stage >= Stage::MainsLive);
        let dead = tests
            .iter()
            .rposition(|test| test.stage <= Stage::FeedsDead);
        assert!(dead < live);
    }
}

#[test]
fn names_of_tests_do_not_hang_on_what_else_is_in_the_project() {
    let names = |job: &Job| {
        all(job)
            .into_iter()
            .map(|test| test.id)
            .collect::<BTreeSet<_>>()
    };
    let (few, more) = (names(&large(3, 0, 0)), names(&large(4, 0, 0)));
    assert!(
        few.is_subset(&more),
        "{:?}",
        few.difference(&more).collect::<Vec<_>>()
    );
}

#[test]
fn what_is_expected_lies_between_its_bounds() {
    let mut seen = 0;
    for test in all(&demo()) {
        let Some((low, value, high, _)) = bounds(&test) else {
            continue;
        };
        assert!(low.is_some() || high.is_some(), "{}", test.id);
        if let (Some(low), Some(value)) = (low, value) {
            assert!(low <= value, "{}: {low} {value}", test.id);
        }
        if let (Some(value), Some(high)) = (value, high) {
            assert!(value <= high, "{}: {value} {high}", test.id);
            seen += 1;
        }
    }
    assert!(seen > 150, "{seen}");
}

#[test]
fn single_colour_readings_are_those_it_was_sized_with() {
    let job = demo();
    let tests = all(&job);
    let mut seen = 0;
    for run in job.sizing.runs.iter().filter(|it| it.states.len() == 1) {
        for (number, section) in (1..).zip(&run.sections) {
            for (index, feed) in (1..).zip(&section.feeds) {
                for (key, sized) in [("volts", feed.volts.value), ("current", feed.current.value)] {
                    let id = format!("{}/{number}/{index}/{key}", run.run.name);
                    let test = tests.iter().find(|test| test.id == id).expect(&id);
                    let (_, value, _, _) = bounds(test).expect("a reading");
                    let value = value.expect("a value");
                    assert!((value - sized).abs() < 1e-9, "{id}: {value} {sized}");
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 30, "{seen}");
}

#[test]
fn continuity_of_a_feed_cable_is_its_two_cores_cold() {
    let job = demo();
    let tests = all(&job);
    let test = tests
        .iter()
        .find(|it| it.id == "hall-cove-north/1/1/continuity");
    let (low, value, high, unit) = bounds(test.expect("the test")).expect("a reading");
    // IEC 60228 Table 3, class 5, 4 mm²: 4.95 Ω/km at 20 °C; 2 × 6 m.
    let expected = 0.004_95 * 12.0;
    assert!((value.unwrap() - expected).abs() < 1e-9);
    assert!((low.unwrap() - (expected * 0.9 * 0.95 - 0.02)).abs() < 1e-9);
    assert!((high.unwrap() - (expected * 1.1 * 1.05 + 0.02)).abs() < 1e-9);
    assert_eq!(unit, Unit::Ohm);
}

fn documents(job: &Job) -> Vec<Document> {
    document::all(job)
}

/// Each room of the run schedule adds up its own runs, and all rooms are the whole job.
#[test]
fn rooms_add_up_to_the_job() {
    let job = demo();
    let schedule = document::named("run-schedule", &job).expect("a run schedule");
    let part = schedule.parts.iter().find(|it| it.name == "room-totals");
    let table = part.and_then(|it| it.table.as_ref()).expect("totals");
    let number = |cell: &Cell| match cell {
        Cell::Figure(figure) => figure.value,
        Cell::Decimal(count) => count.to_string().parse().expect("a number"),
        other => panic!("{other:?}"),
    };
    let (totals, rooms): (Vec<_>, Vec<_>) = table
        .rows
        .iter()
        .partition(|row| row.kind == RowKind::Total);
    let rooms_of: BTreeSet<usize> = job.project.runs.iter().map(|run| run.room.index).collect();
    assert_eq!((rooms.len(), totals.len()), (rooms_of.len(), 1));
    for at in 1..table.columns.len() {
        let sum: f64 = rooms.iter().map(|row| number(&row.cells[at])).sum();
        let total = number(&totals[0].cells[at]);
        assert!((sum - total).abs() < 1e-6, "{}", table.columns[at].key);
    }
    let feeds = job.sizing.runs.iter().flat_map(|run| &run.sections);
    let feeds: usize = feeds.map(|section| section.feeds.len()).sum();
    let at = table
        .columns
        .iter()
        .position(|it| it.key == "feeds")
        .expect("feeds");
    assert_eq!(number(&totals[0].cells[at]), feeds as f64);
}

#[test]
fn what_can_not_be_told_is_a_mark_with_its_reason() {
    let sheet = document::named("test-sheet", &sample::job()).expect("a test sheet");
    let table = sheet.parts[0].table.as_ref().expect("a table");
    let unknown = table.rows.iter().flat_map(|row| &row.cells);
    let unknown = unknown.filter(|cell| matches!(cell, Cell::Unknown(why) if !why.is_empty()));
    assert!(unknown.count() > 0);
}

#[test]
fn readings_on_the_feed_point_sheets_are_those_of_the_test_sheet() {
    let documents = documents(&demo());
    let cells = |document: &str, part: &str, keys: &[&str]| {
        let document = documents
            .iter()
            .find(|it| it.name == document)
            .expect(document);
        let parts = document.parts.iter().filter(|it| it.name == part);
        let mut rows = Vec::new();
        for table in parts.filter_map(|it| it.table.as_ref()) {
            let column = |key: &&str| {
                table
                    .columns
                    .iter()
                    .position(|it| it.key == *key)
                    .expect(key)
            };
            let at: Vec<usize> = keys.iter().map(column).collect();
            for row in table.rows.iter().filter(|row| row.kind == RowKind::Body) {
                rows.push(
                    at.iter()
                        .map(|at| row.cells[*at].clone())
                        .collect::<Vec<_>>(),
                );
            }
        }
        rows
    };
    let keys = ["number", "subject", "what", "expected", "low", "high"];
    let all = cells("test-sheet", "test-sheet", &keys);
    let some = cells("feed-points", "run-readings", &keys);
    assert!(some.len() > 80);
    for row in some {
        assert!(all.contains(&row), "{row:?}");
    }
}

/// Pairs of labels that lie on one another, and labels beyond the sheet's edge.
fn trouble(sheet: &Sheet) -> Vec<String> {
    let labels: Vec<_> = sheet.labels().collect();
    let mut found = Vec::new();
    for (index, one) in labels.iter().enumerate() {
        let room = one.bounds();
        let inside = room.left >= 0.0
            && room.top >= 0.0
            && room.left + room.width <= sheet.width + 0.01
            && room.top + room.height <= sheet.height;
        if !inside {
            found.push(format!("{:?} leaves the sheet", one.text));
        }
        for other in labels.iter().skip(index + 1) {
            if room.overlaps(&other.bounds()) {
                found.push(format!("{:?} on {:?}", one.text, other.text));
            }
        }
    }
    found
}

/// Upright or level lines that run through a label.
fn struck_through(sheet: &Sheet) -> Vec<String> {
    let mut found = Vec::new();
    for shape in &sheet.shapes {
        let Shape::Path { points, .. } = shape else {
            continue;
        };
        for pair in points.windows(2) {
            let (from, to) = (pair[0], pair[1]);
            for label in sheet.labels() {
                let room = label.bounds();
                let (left, right) = (from.0.min(to.0), from.0.max(to.0));
                let (top, bottom) = (from.1.min(to.1), from.1.max(to.1));
                let across = left < room.left + room.width && right > room.left;
                let down = top < room.top + room.height - 1.0 && bottom > room.top + 1.0;
                if across && down {
                    found.push(label.text.clone());
                }
            }
        }
    }
    found
}

#[test]
fn one_line_drawings_keep_their_labels_apart_whatever_the_job() {
    let jobs = [demo(), sample::job(), large(30, 2, 0), large(30, 14, 65)];
    for job in &jobs {
        let mut sheets = whole::drawing(job);
        for point in &job.project.site.points {
            sheets.extend(cupboard::drawing(job, point));
        }
        for on in &job.allocation.loops {
            sheets.extend(bus::drawing(job, on));
        }
        assert!(!sheets.is_empty());
        for part in &sheets {
            assert_eq!(
                trouble(&part.sheet),
                Vec::<String>::new(),
                "{}",
                part.heading
            );
            assert_eq!(
                struck_through(&part.sheet),
                Vec::<String>::new(),
                "{}",
                part.heading
            );
            assert!(part.sheet.height < 760.0, "{}", part.heading);
        }
    }
}

#[test]
fn every_driver_and_every_feed_is_on_its_cupboards_drawing_once() {
    let job = large(30, 2, 0);
    let place = job
        .project
        .site
        .points
        .iter()
        .find(|it| it.name == "cupboard");
    let sheets = cupboard::drawing(&job, place.expect("the cupboard"));
    assert!(sheets.len() > 1, "thirty drivers need more than one sheet");
    let texts: Vec<String> = sheets
        .iter()
        .flat_map(|part| part.sheet.labels().map(|label| label.text.clone()))
        .collect();
    assert_eq!(job.sizing.drivers.len(), 30);
    for driver in &job.sizing.drivers {
        assert_eq!(
            texts.iter().filter(|text| **text == driver.number).count(),
            1
        );
    }
    for cable in &job.sizing.cables {
        let start = format!("{}, ", cable.number);
        assert_eq!(
            texts.iter().filter(|text| text.starts_with(&start)).count(),
            1
        );
    }
}

#[test]
fn every_point_of_a_deep_loop_is_drawn_once() {
    let job = large(4, 14, 0);
    let on = &job.allocation.loops[0];
    let sheets = bus::drawing(&job, on);
    let labels: Vec<String> = sheets
        .iter()
        .flat_map(|part| part.sheet.labels().filter(|label| label.bold))
        .map(|label| label.text.clone())
        .collect();
    assert_eq!(labels.len(), on.tree.len() + 1);
}

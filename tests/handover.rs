//! Does the handover page tell who keeps the building what is there, and nothing that is not?

use crate::sample;

use feedpoint::pipeline;
use feedpoint::present::document::{self, Cell, DOCUMENTS, Document, RowKind};
use feedpoint::present::drawing::one_line::whole;
use feedpoint::present::job::Job;
use feedpoint::present::pdf::{self, Paper};
use std::collections::BTreeSet;
use std::path::Path;

fn demo() -> Job {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = root.join("catalogue-examples/millrace-library.yaml");
    let job = pipeline::job(path.to_str().expect("a path"), false);
    job.unwrap_or_else(|faults| panic!("{faults:?}")).0
}

fn page(job: &Job) -> Document {
    document::named("handover", job).expect("a handover page")
}

fn record(job: &Job) -> Document {
    document::named("owner-record", job).expect("an owner's record")
}

/// The body rows of a part, as the cells under some keys.
fn cells(page: &Document, part: &str, keys: &[&str]) -> Vec<Vec<Cell>> {
    let part = page.parts.iter().find(|it| it.name == part).expect(part);
    let table = part.table.as_ref().expect("a table");
    let column = |key: &&str| {
        let mut columns = table.columns.iter();
        columns.position(|it| it.key == *key).expect(key)
    };
    let at: Vec<usize> = keys.iter().map(column).collect();
    let body = table.rows.iter().filter(|row| row.kind == RowKind::Body);
    body.map(|row| at.iter().map(|at| row.cells[*at].clone()).collect())
        .collect()
}

fn said(cell: &Cell) -> &str {
    match cell {
        Cell::Text(text) => text,
        _ => "",
    }
}

fn words(page: &Document, heading: &str) -> String {
    let part = page.parts.iter().find(|it| it.heading.starts_with(heading));
    let part = part.unwrap_or_else(|| panic!("no part {heading}"));
    [part.text.join(" "), part.notes.join(" ")].join(" ")
}

#[test]
fn every_run_is_traced_to_its_driver_circuit_and_isolator() {
    let job = demo();
    let page = record(&job);
    let runs = cells(&page, "handover-runs", &["run", "drivers", "cupboard"]);
    assert_eq!(runs.len(), job.sizing.runs.len());
    let drivers = cells(
        &page,
        "handover-drivers",
        &[
            "driver", "item", "runs", "loop", "address", "circuit", "isolator", "cupboard",
        ],
    );
    assert_eq!(drivers.len(), job.sizing.drivers.len());
    for run in &runs {
        for number in said(&run[1]).split(", ") {
            let row = drivers.iter().find(|row| said(&row[0]) == number);
            let row = row.unwrap_or_else(|| panic!("{number} of {run:?}"));
            let lit: Vec<&str> = said(&row[2]).split(", ").collect();
            assert!(lit.contains(&said(&run[0])), "{row:?}");
            assert_eq!(row[7], run[2]);
            let circuit = job.allocation.circuits.iter();
            let mut circuit = circuit.filter(|it| it.name == said(&row[5]));
            let circuit = circuit.next().expect("a circuit of the job");
            assert!(circuit.drivers.iter().any(|it| it == number));
            let on = job
                .allocation
                .loops
                .iter()
                .find(|it| it.name == said(&row[3]));
            let member = on
                .expect("a loop")
                .members
                .iter()
                .find(|it| it.device == number);
            let address = member.expect("a member").addresses[0].to_string();
            assert!(said(&row[4]).split(", ").any(|it| it == address));
            assert_eq!(said(&row[6]), "yes");
        }
    }
}

#[test]
fn a_bus_that_stays_live_is_named_with_the_circuit_that_feeds_it() {
    let job = demo();
    let rows = cells(
        &page(&job),
        "handover-switching",
        &["circuit", "units", "bus_live"],
    );
    assert_eq!(rows.len(), job.allocation.circuits.len());
    let mut live = 0;
    for (row, circuit) in rows.iter().zip(&job.allocation.circuits) {
        for unit in circuit.drivers.iter().chain(&circuit.supplies) {
            assert!(said(&row[1]).split(", ").any(|it| it == unit), "{unit}");
        }
        for on in &job.allocation.loops {
            let reaches = on
                .members
                .iter()
                .any(|it| circuit.drivers.contains(&it.device));
            // The demo's controllers have their supply built in.
            let mut circuits = job.allocation.circuits.iter();
            let feeds = circuits.find(|it| it.supplies.contains(&on.controller));
            let feeds = &feeds.expect("a circuit").name;
            let told = said(&row[2]).contains(&format!("{}: {feeds}", on.name));
            assert_eq!(told, reaches && *feeds != circuit.name, "{row:?}");
            live += usize::from(told);
        }
    }
    assert!(live > 0);
}

#[test]
fn scenes_are_called_by_the_numbers_of_the_loops() {
    let job = demo();
    let does = cells(&record(&job), "handover-scenes", &["scene", "does"]);
    assert_eq!(does.len(), 3);
    assert_eq!(said(&does[1][0]), "evening");
    assert!(said(&does[1][1]).starts_with("Reading hall cove 50.0 %, 2900 K; "));
    let rows = cells(
        &page(&job),
        "handover-calls",
        &["scene", "number", "called_by"],
    );
    assert_eq!(rows.len(), 3);
    for (row, scene) in rows.iter().zip(&job.project.scenes) {
        assert_eq!(said(&row[0]), scene.name);
        assert_eq!(row[2], Cell::Blank);
        for on in &job.allocation.loops {
            if let Some(number) = on.scenes.iter().position(|it| *it == scene.name) {
                let part = said(&row[1]).split("; ").find(|it| it.contains(&on.name));
                assert!(
                    part.expect("the loop")
                        .starts_with(&format!("{number} on "))
                );
            }
        }
    }
}

#[test]
fn parts_and_spares_are_those_of_the_materials_list() {
    let job = demo();
    let rows = cells(
        &record(&job),
        "handover-stock",
        &["item", "needed", "spare"],
    );
    let sum = |at: usize| {
        let all = rows.iter().map(|row| match &row[at] {
            Cell::Decimal(count) => *count,
            Cell::Empty => 0.into(),
            other => panic!("{other:?}"),
        });
        all.sum::<rust_decimal::Decimal>()
    };
    let lines = &job.quote.lines;
    let own = lines.iter().filter(|line| !line.spare);
    assert_eq!(sum(1), own.map(|line| line.needed).sum());
    let spare = lines.iter().filter(|line| line.spare);
    assert_eq!(sum(2), spare.map(|line| line.quantity()).sum());
    assert!(sum(2) > 0.into());
    // A driver and its spare are one row.
    let drivers = rows.iter().filter(|row| said(&row[0]) == "pair-240");
    assert_eq!(drivers.count(), 1);
    let items: BTreeSet<&str> = lines.iter().map(|line| line.item.as_str()).collect();
    let shown: BTreeSet<&str> = rows.iter().map(|row| said(&row[0])).collect();
    assert_eq!(items, shown);
    let kept: Vec<_> = job
        .quote
        .cuts
        .iter()
        .filter(|it| it.kept == Some(true))
        .collect();
    assert!(!kept.is_empty());
    for stock in kept {
        assert!(words(&record(&job), "Parts and spares").contains(&stock.item));
    }
}

#[test]
fn what_the_job_does_not_have_is_not_spoken_of() {
    let mut job = demo();
    let before = words(&record(&job), "Keeping it in order");
    assert!(before.contains("facade-east") && before.contains("hall-gallery-front"));
    assert!(before.contains("35 °C") && before.contains("residual"));
    job.project.circuits.residual = None;
    job.project.runs.clear();
    job.project.scenes.clear();
    job.allocation.loops.clear();
    for driver in &mut job.sizing.drivers {
        std::sync::Arc::make_mut(&mut driver.item).bus = None;
    }
    let (page, record) = (page(&job), record(&job));
    let after = words(&record, "Keeping it in order");
    for word in ["facade-east", "hall-gallery-front", "residual", "loop"] {
        assert!(!after.contains(word), "{word}");
    }
    assert!(!words(&page, "Replacing").contains("address, groups"));
    assert!(words(&page, "How scenes").contains("has no scenes"));
    let signs = cells(&record, "handover-faults", &["seen"]);
    assert_eq!(signs.len(), 4);
}

#[test]
fn what_is_not_known_is_marked_and_what_is_written_on_site_is_blank() {
    let job = sample::job();
    let isolators = cells(&record(&job), "handover-drivers", &["isolator"]);
    assert!(
        isolators
            .iter()
            .all(|row| matches!(&row[0], Cell::Unknown(_)))
    );
    let people = cells(&page(&job), "handover-people", &["name"]);
    assert!(people.iter().filter(|row| row[0] == Cell::Blank).count() == 3);
}

#[test]
fn records_are_named_as_the_documents_are() {
    let rows = cells(&record(&demo()), "handover-records", &["document", "title"]);
    assert_eq!(rows.len(), 7);
    for row in rows {
        let listed = DOCUMENTS.iter().find(|it| it.name == said(&row[0]));
        assert_eq!(listed.expect("a document").title, said(&row[1]));
    }
}

/// What hangs by the panel is one sheet, of whichever paper.
#[test]
fn the_page_is_one_sheet() {
    let job = demo();
    for paper in [Paper::A4, Paper::Letter] {
        let file = pdf::write("Handover", &[page(&job)], paper, None).expect("a file");
        let file = lopdf::Document::load_mem(&file).expect("a PDF");
        assert_eq!(file.get_pages().len(), 1, "{paper:?}");
    }
}

#[test]
fn one_drawing_shows_every_circuit_and_every_group() {
    let job = demo();
    let sheets = whole::drawing(&job);
    assert_eq!(sheets.len(), 1);
    let labels: Vec<&str> = sheets[0]
        .sheet
        .labels()
        .map(|it| it.text.as_str())
        .collect();
    for circuit in &job.allocation.circuits {
        assert!(
            labels.iter().any(|it| *it == circuit.name),
            "{}",
            circuit.name
        );
    }
    for driver in &job.sizing.drivers {
        assert!(
            labels.contains(&driver.group.title.as_str()),
            "{}",
            driver.group.title
        );
    }
}

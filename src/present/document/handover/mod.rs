//! What whoever keeps the building is given: one page for the panel's door, and the record behind it.

mod care;
mod failing;
mod scenes;
mod stock;
mod switching;
mod where_found;

use super::{Cell, Column, DOCUMENTS, Part, Table, list, site_tests};
use crate::model::site::PointKind;
use crate::present::drawing::one_line::whole;
use crate::present::job::Job;

/// The page: whom to call, where to switch off, how scenes are called, how a driver is replaced, and
/// the installation in one drawing, as large as what is left of the sheet lets it be.
pub(super) fn page(job: &Job) -> Vec<Part> {
    let mut parts = vec![
        people(job),
        switching::part(job),
        scenes::calls(job),
        failing::replacing(job),
    ];
    let drawn = whole::drawing(job).into_iter();
    parts.extend(drawn.map(|drawn| Part {
        fills_sheet: true,
        ..Part::drawing("overview", drawn.heading, drawn.sheet)
    }));
    parts
}

/// The record: what is where, what to do when something fails, what is in stock, what the other
/// records are for.
pub(super) fn record(job: &Job) -> Vec<Part> {
    let mut parts = vec![where_found::runs(job), where_found::drivers(job)];
    parts.extend(scenes::parts(job));
    parts.push(failing::part(job));
    parts.push(stock::part(job));
    parts.push(records(job));
    parts.push(care::part(job));
    parts
}

/// Whom to call, and when it is looked at next: lines to write on.
fn people(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("matter", "What"),
        Column::long_text("name", "Name"),
        Column::long_text("contact", "Telephone, date, signature"),
    ]);
    for matter in [
        "Call when something fails",
        "Handed over to",
        "Next look, on",
    ] {
        table.row(vec![Cell::text(matter), Cell::Blank, Cell::Blank]);
    }
    let mut part = Part::table("handover-people", "", table);
    part.text = vec![format!(
        "Keep this sheet {}, and the owner's record with it. It tells what was designed{}.",
        beside(job),
        issue(job)
    )];
    part
}

/// Where the sheet is kept.
fn beside(job: &Job) -> String {
    let points = job.project.site.points.iter();
    let panels = points.filter(|point| point.kind == PointKind::Panel);
    let titles: Vec<&str> = panels.map(|panel| panel.title.as_str()).collect();
    match titles.as_slice() {
        [] => "beside the panel that feeds it".to_owned(),
        titles => format!("beside {}", titles.join(" and ")),
    }
}

/// `, revision B of 20 Nov 2026`, as far as the project says.
fn issue(job: &Job) -> String {
    let block = list::title_block(&job.project);
    match (block.revision.as_str(), block.date.as_str()) {
        ("", "") => String::new(),
        ("", date) => format!(" on {date}"),
        (revision, "") => format!(", revision {revision}"),
        (revision, date) => format!(", revision {revision} of {date}"),
    }
}

/// Documents that the owner keeps, and what each is for.
const KEPT: [(&str, &str); 7] = [
    (
        "handover",
        "beside the panel: whom to call, where to switch off, how scenes are called",
    ),
    (
        "as-built",
        "what was built otherwise than designed, and who agreed to it; serial numbers and batches",
    ),
    (
        "test-sheet",
        "what was measured at the start: a reading is named by its number there, and is what a later one is held against",
    ),
    (
        "commissioning-sheet",
        "the address found for every unit, its groups and scenes, and what it does when the bus fails",
    ),
    (
        "scene-schedule",
        "numbers and levels of groups and scenes, to be set again after a controller is replaced",
    ),
    ("one-line", "each cupboard and each control loop in full"),
    ("cautions", "all cautions of this job"),
];

fn records(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("document", "Document").data_only(),
        Column::text("title", "Record"),
        Column::long_text("tells", "What it tells"),
        Column::text("kept_at", "Kept at").paper_only(),
    ]);
    for (name, tells) in KEPT {
        let Some(listed) = DOCUMENTS.iter().find(|listed| listed.name == name) else {
            continue;
        };
        table.row(vec![
            Cell::text(name),
            Cell::text(listed.title),
            Cell::text(tells),
            Cell::Blank,
        ]);
    }
    let mut part = Part::table("handover-records", "Records that belong to it", table);
    part.notes.push(format!(
        "The test sheet has {} tests. Keep the filled-in sheets, not the empty ones: an empty sheet \
         records nothing.",
        site_tests::all(job).len()
    ));
    part
}

//! What was found of a catalogue, as a document.

use super::{Cell, Column, Document, Part, Table, TitleBlock};
use crate::diagnostic::Place;
use crate::judge::catalogue::entry::{Entry, Found};
use crate::model::offer::ItemKind;
use crate::model::project::Severity;
use crate::present::counts::counted;
use crate::present::date;

/// The document for people: what is to be asked for several items at once is told once.
#[must_use]
pub fn document(found: &Found) -> Document {
    made(found, groups(&found.entries))
}

/// The document for programs: a row for each entry.
#[must_use]
pub fn document_of_each(found: &Found) -> Document {
    made(found, found.entries.iter().map(|one| vec![one]).collect())
}

fn made(found: &Found, groups: Vec<Vec<&Entry>>) -> Document {
    Document {
        name: "catalogue",
        title: format!("Catalogue {}", found.title),
        block: TitleBlock::default(),
        currency: found.currency.clone(),
        decimals: 2,
        inside: true,
        parts: vec![open(found, groups)],
        cautions: Vec::new(),
    }
}

/// `2 broken (1 fault, 1 caution), 14 cannot tell, in 23 items`.
#[must_use]
pub fn sentence(found: &Found) -> String {
    let kinds: Vec<String> = [Severity::Fault, Severity::Caution, Severity::Note]
        .into_iter()
        .map(|severity| (found.counted("broken", Some(severity)), severity.name()))
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| counted(count, word))
        .collect();
    let kinds = if kinds.is_empty() {
        String::new()
    } else {
        format!(" ({})", kinds.join(", "))
    };
    format!(
        "{} broken{kinds}, {} cannot tell, in {}",
        found.counted("broken", None),
        found.counted("cannot tell", None),
        counted(found.count(), "item"),
    )
}

fn open(found: &Found, groups: Vec<Vec<&Entry>>) -> Part {
    let mut table = Table::new(vec![
        Column::text("verdict", "Verdict"),
        Column::text("severity", "Severity"),
        Column::text("cause", "Cause"),
        Column::text("subject", "Of"),
        Column::text("key", "Key").data_only(),
        Column::long_text("found", "Found"),
        Column::long_text("untold", "Leaves untold"),
        Column::long_text("assumed", "Sized with"),
        Column::long_text("remedy", "What to do"),
        Column::long_text("place", "Where"),
    ]);
    for group in groups {
        table.row(row(&group));
    }
    let mut part = Part::table("catalogue", "", table);
    part.text = said(found);
    part.block_head = 3;
    part.notes = notes(found);
    part
}

/// Entries that say the same of several items, together: one letter asks for them.
fn groups(entries: &[Entry]) -> Vec<Vec<&Entry>> {
    let mut groups: Vec<Vec<&Entry>> = Vec::new();
    for entry in entries {
        let same = groups.iter_mut().find(|group| {
            let mut first = group.iter().take(1);
            first.any(|first| says_the_same(first, entry))
        });
        match same {
            Some(group) => group.push(entry),
            None => groups.push(vec![entry]),
        }
    }
    groups
}

fn says_the_same(one: &Entry, other: &Entry) -> bool {
    let said = |entry: &Entry| {
        (
            entry.cause,
            entry.key.clone(),
            entry.found.clone(),
            entry.untold.clone(),
        )
    };
    said(one) == said(other)
}

fn row(group: &[&Entry]) -> Vec<Cell> {
    let Some(first) = group.first() else {
        return Vec::new();
    };
    let subjects: Vec<&str> = group.iter().map(|entry| entry.subject.as_str()).collect();
    let mut untold: Vec<&str> = first.untold.clone();
    untold.extend(first.untold_result);
    vec![
        Cell::Verdict(first.cause.verdict()),
        Cell::text(first.severity.name()),
        Cell::text(first.cause.name()),
        Cell::text(together(&subjects)),
        Cell::text(&first.key),
        Cell::text(&first.found),
        Cell::text(untold.join(", ")),
        Cell::text(first.assumed.unwrap_or_default()),
        Cell::text(&first.remedy),
        Cell::text(places(group)),
    ]
}

/// `strip a, b; cable c`: each kind once.
fn together(subjects: &[&str]) -> String {
    let mut text = String::new();
    let mut before = None;
    for subject in subjects {
        let (kind, id) = subject.rsplit_once(' ').unwrap_or(("", subject));
        match before {
            None => text.push_str(subject),
            Some(same) if same == kind => text.push_str(&format!(", {id}")),
            Some(_) => text.push_str(&format!("; {subject}")),
        }
        before = Some(kind);
    }
    text
}

/// `trade.yaml:9:5, 24:5`: the file once.
fn places(group: &[&Entry]) -> String {
    let mut text = String::new();
    let mut before = None;
    for Place { file, line, column } in group.iter().map(|entry| &entry.place) {
        if !text.is_empty() {
            text.push_str(", ");
        }
        if before != Some(file) {
            text.push_str(&format!("{file}:"));
        }
        text.push_str(&format!("{line}:{column}"));
        before = Some(file);
    }
    text
}

fn said(found: &Found) -> Vec<String> {
    let mut said = vec![format!("{}.", sentence(found))];
    let items: Vec<String> = found
        .items
        .iter()
        .map(|(kind, count)| kind_counted(*kind, *count))
        .collect();
    if !items.is_empty() {
        said.push(format!(
            "{}; prices in {}.",
            items.join(", "),
            found.currency
        ));
    }
    if !found.valid.is_empty() {
        let days: Vec<String> = found
            .valid
            .iter()
            .map(|(day, count)| {
                format!("until {} {}", date::written(*day), counted(*count, "item"))
            })
            .collect();
        said.push(format!("Prices hold: {}.", days.join("; ")));
    }
    said
}

fn kind_counted(kind: ItemKind, count: usize) -> String {
    let word = match kind {
        ItemKind::BusSupply => "bus supply",
        ItemKind::Accessory => "accessory",
        _ => return counted(count, &kind.name().replace('_', " ")),
    };
    match (count, word.strip_suffix('y')) {
        (1, _) | (_, None) => format!("{count} {word}"),
        (_, Some(stem)) => format!("{count} {stem}ies"),
    }
}

fn notes(found: &Found) -> Vec<String> {
    let mut notes = Vec::new();
    if found.counted("cannot tell", None) > 0 {
        notes.push(String::new());
        notes.push("feedpoint explain RULE says what a rule asks and why.".to_owned());
    }
    if !found.wants.is_empty() {
        notes.push(String::new());
        notes.push("A job needs from another catalogue:".to_owned());
        notes.extend(found.wants.iter().map(|want| format!("- {want}")));
    }
    notes
}

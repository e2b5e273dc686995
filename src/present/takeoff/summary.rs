//! What became of every row of a take-off, as a document.

use crate::load::takeoff::{Fate, Filled, TakeOff};
use crate::present::counts::counted;
use crate::present::document::{Cell, Column, Document, Part, Table, TitleBlock};
use std::collections::BTreeMap;

/// The document: what was read, what runs lack, what could not be read, what was filled in.
#[must_use]
pub fn document(taken: &TakeOff) -> Document {
    let parts = vec![
        read(taken),
        lacking(taken),
        unread(taken),
        filled(taken),
        aside(taken),
    ];
    let filled = |part: &Part| {
        part.table
            .as_ref()
            .is_none_or(|table| !table.rows.is_empty())
    };
    Document {
        name: "take-off",
        title: "Take-off".to_owned(),
        block: TitleBlock::default(),
        currency: String::new(),
        decimals: 2,
        inside: false,
        parts: parts.into_iter().filter(filled).collect(),
        cautions: Vec::new(),
    }
}

/// How many rows became what, in a sentence that adds up.
fn counts(taken: &TakeOff) -> String {
    let count = |is: fn(&Fate) -> bool| taken.rows.iter().filter(|row| is(&row.fate)).count();
    let of_runs = count(|fate| matches!(fate, Fate::Runs(_)));
    let kinds = [
        (count(|fate| matches!(fate, Fate::Title(_))), "title"),
        (
            count(|fate| matches!(fate, Fate::Headings | Fate::Units)),
            "heading",
        ),
        (count(|fate| matches!(fate, Fate::Room(_))), "room"),
        (count(|fate| matches!(fate, Fate::Total { .. })), "total"),
        (count(|fate| matches!(fate, Fate::Remark(_))), "remark"),
    ];
    let others = kinds.iter().filter(|(count, _)| *count > 0);
    let others: Vec<String> = others.map(|(count, what)| counted(*count, what)).collect();
    let others = if others.is_empty() {
        String::new()
    } else {
        format!("; {}", others.join(", "))
    };
    format!(
        "{} with something in them: {of_runs} became {}{others}.",
        counted(taken.rows.len(), "row"),
        counted(taken.runs.len(), "run"),
    )
}

fn read(taken: &TakeOff) -> Part {
    let mut table = Table::new(vec![
        Column::text("column", "Column"),
        Column::long_text("heading", "Heading"),
        Column::text("read_as", "Read as"),
        Column::text("unit", "Unit"),
    ]);
    for column in &taken.columns {
        table.row(vec![
            Cell::text(&column.column),
            Cell::text(&column.heading),
            Cell::text(column.key.unwrap_or("a remark")),
            Cell::text(column.unit.map_or("", |unit| unit.sign)),
        ]);
    }
    let mut part = Part::table("take-off-columns", "Columns", table);
    let sheet = taken
        .sheet
        .as_ref()
        .map_or(String::new(), |sheet| format!(", sheet {sheet}"));
    part.text = vec![format!("{}{sheet}: {}", taken.file, counts(taken))];
    part
}

fn lacking(taken: &TakeOff) -> Part {
    let mut table = Table::new(vec![
        Column::number("row", "Row"),
        Column::text("run", "Run"),
        Column::text("lacks", "Lacks"),
        Column::long_text("cure", "What would be right"),
    ]);
    for run in &taken.runs {
        for lack in &run.lacks {
            table.row(vec![
                Cell::count(run.row),
                Cell::text(run.value("run").unwrap_or_default()),
                Cell::text(lack.key),
                Cell::text(&lack.cure),
            ]);
        }
    }
    Part::table("take-off-lacking", "What runs lack", table)
}

fn unread(taken: &TakeOff) -> Part {
    let mut table = Table::new(vec![
        Column::number("row", "Row"),
        Column::text("column", "Column"),
        Column::text("heading", "Heading").when_wide(),
        Column::text("text", "Text"),
        Column::long_text("why", "Why"),
    ]);
    for cell in &taken.unread {
        table.row(vec![
            Cell::count(cell.row),
            Cell::text(&cell.column),
            Cell::text(&cell.heading),
            Cell::text(&cell.text),
            Cell::text(&cell.why),
        ]);
    }
    Part::table("take-off-unread", "Cells that could not be read", table)
}

fn filled(taken: &TakeOff) -> Part {
    let mut table = Table::new(vec![
        Column::long_text("rows", "Rows"),
        Column::text("key", "Key"),
        Column::text("value", "Filled in"),
        Column::long_text("from", "Why"),
    ]);
    let mut alike: Vec<(Vec<String>, &Filled)> = Vec::new();
    let mut place = BTreeMap::new();
    for filled in &taken.filled {
        let at = *place
            .entry((filled.key, &filled.value, &filled.from))
            .or_insert(alike.len());
        match alike.get_mut(at) {
            Some((rows, _)) => rows.push(filled.row.to_string()),
            None => alike.push((vec![filled.row.to_string()], filled)),
        }
    }
    for (rows, filled) in alike {
        table.row(vec![
            Cell::text(rows.join(", ")),
            Cell::text(filled.key),
            Cell::text(&filled.value),
            Cell::text(&filled.from),
        ]);
    }
    Part::table("take-off-filled", "Filled in", table)
}

fn aside(taken: &TakeOff) -> Part {
    let mut table = Table::new(vec![
        Column::number("row", "Row"),
        Column::text("read_as", "Read as"),
        Column::long_text("text", "Text"),
        Column::long_text("found", "Found"),
    ]);
    for row in &taken.rows {
        let (kind, text, found) = match &row.fate {
            Fate::Title(text) => ("title", text, None),
            Fate::Room(text) => ("room", text, None),
            Fate::Remark(text) => ("remark", text, None),
            Fate::Total { text, disagrees } => ("total", text, disagrees.as_ref()),
            Fate::Headings | Fate::Units | Fate::Runs(_) => continue,
        };
        table.row(vec![
            Cell::count(row.number),
            Cell::text(kind),
            Cell::text(text),
            found.map_or(Cell::Empty, Cell::text),
        ]);
    }
    Part::table("take-off-aside", "Rows that are no runs", table)
}

//! A project's runs → the rows of a take-off, which [`super::read`] makes the same runs of again.

use super::cell::{self, LITERAL, Numbers};
use super::fields::{COUNT, FIELDS, Field};
use super::figure::Known;
use crate::diagnostic::{Diagnostic, Diagnostics, Source};
use crate::load::document;
use crate::load::node::{Content, Node};
use std::collections::BTreeSet;
use std::sync::Arc;

/// The runs of a project file that has been read without complaint, as headings and rows. Values
/// stand as the file has them.
///
/// # Errors
/// When the file is no YAML, which a project that was read is.
pub fn written(source: &Arc<Source>) -> Result<Vec<Vec<String>>, Diagnostics> {
    let root = document::read(source)?;
    let Some(Content::List(runs)) = root.entry("runs").map(|entry| &entry.value.content) else {
        let message = format!("{} has no list of runs", source.name());
        return Err(Diagnostic::error("no-runs", message).into());
    };
    let used: BTreeSet<&str> = runs
        .iter()
        .flat_map(|run| match &run.content {
            Content::Mapping(entries) => entries.as_slice(),
            _ => &[],
        })
        .map(|entry| entry.key.as_str())
        .collect();
    let always = [
        "run", "room", "strip", "length", "group", "cupboard", "to_start", "to_end",
    ];
    let shown = |field: &&Field| {
        field.key != COUNT && (always.contains(&field.key) || used.contains(field.key))
    };
    let fields: Vec<&Field> = FIELDS.iter().filter(shown).collect();
    let mut rows = vec![fields.iter().map(|field| field.key.to_owned()).collect()];
    for run in runs {
        let value = |field: &&Field| run.entry(field.key).map(|entry| &entry.value);
        let cell = |field: &&Field| value(field).map_or(String::new(), |node| text(node, field));
        rows.push(fields.iter().map(cell).collect());
    }
    Ok(rows)
}

/// A value as a cell. Text that a take-off would be read otherwise, or that a spreadsheet would
/// reckon with, is marked to be taken literally.
fn text(node: &Node, field: &Field) -> String {
    if node.is_nothing() {
        return String::new();
    }
    let text = match &node.content {
        Content::Scalar { text, .. } => text.clone(),
        _ => flow(node),
    };
    let numbers = Numbers {
        unit: None,
        decimal: Known::Nothing,
    };
    let as_it_stands =
        cell::read(&text, field, numbers).is_ok_and(|read| read.as_ref() == Some(&text));
    let reckoned = text.starts_with(['=', '+', '-', '@', LITERAL]);
    if as_it_stands && !reckoned && !cell::is_ditto(&text) {
        text
    } else {
        cell::literal(&text)
    }
}

/// Signs that mean something within a list or mapping on one line.
const IN_FLOW: [char; 7] = [',', '[', ']', '{', '}', ':', '#'];

/// A list or mapping on one line.
fn flow(node: &Node) -> String {
    match &node.content {
        Content::Scalar { text, plain: true } if !text.contains(IN_FLOW) => text.clone(),
        Content::Scalar { text, .. } => quoted(text),
        Content::List(items) => {
            let items: Vec<String> = items.iter().map(|item| flow(item)).collect();
            format!("[{}]", items.join(", "))
        }
        Content::Mapping(entries) => {
            let entries: Vec<String> = entries
                .iter()
                .map(|entry| format!("{}: {}", entry.key, flow(&entry.value)))
                .collect();
            format!("{{{}}}", entries.join(", "))
        }
    }
}

/// Text in the quotes that YAML shares with JSON.
fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}

//! Figures that a catalogue leaves out, and what can't be told for lack of them.

use super::entry::{Cause, Entry, subject};
use super::figures::{FIGURES, Figure};
use crate::judge;
use crate::load::alone::{Alone, Block};
use crate::model::project::Severity;
use crate::norms::region::Region;

/// An entry for each figure that is needed and missing.
pub(super) fn entries(alone: &Alone, region: Region) -> Vec<Entry> {
    let mut entries = Vec::new();
    for block in &alone.blocks {
        for figure in FIGURES {
            entries.extend(gap(alone, block, figure, region));
        }
    }
    entries
}

fn gap(alone: &Alone, block: &Block, figure: &Figure, region: Region) -> Option<Entry> {
    let kind = block.kind?;
    let key = figure.keys.first()?;
    let given = || figure.keys.iter().any(|key| block.has(key));
    if !figure.kinds.contains(&kind) || given() {
        return None;
    }
    if !(figure.asked)(block, &alone.catalogue, region) {
        return None;
    }
    let rules = figure.rules.iter().filter_map(|id| judge::rule(id));
    let rules: Vec<_> = rules.filter(|rule| rule.source(region).is_some()).collect();
    if rules.is_empty() && figure.result.is_none() {
        return None;
    }
    let worst = rules.iter().map(|rule| rule.severity_in(region)).min();
    let others: Vec<String> = figure.keys.iter().map(|key| format!("`{key}`")).collect();
    Some(Entry {
        cause: Cause::NoFigure,
        severity: worst.unwrap_or(Severity::Note),
        subject: subject(block),
        key: (*key).to_owned(),
        found: format!("{} is not given", others.join(" or ")),
        untold: rules.iter().map(|rule| rule.id).collect(),
        untold_result: figure.result,
        assumed: figure.assumed,
        remedy: format!("ask {}", figure.from),
        place: block.place(key),
    })
}

//! What goes on which sheet: a table's parts of one name together, and what a document says
//! without a table on a sheet of its own.

use crate::present::document::{Column, Document, Part, Showing, Table};
use crate::present::shown;

/// The longest name of a sheet that the format allows, less room for a number.
const MOST_NAME: usize = 28;

/// What goes on one sheet.
pub(super) struct Schedule<'a> {
    /// Name of the sheet.
    pub name: String,
    pub document: &'a Document,
    /// Its parts; those with tables have the same columns.
    pub parts: Vec<&'a Part>,
}

impl Schedule<'_> {
    /// The table whose columns stand for all.
    pub(super) fn table(&self) -> Option<&Table> {
        self.parts.iter().find_map(|part| part.table.as_ref())
    }

    /// How many rows its tables have.
    pub(super) fn rows(&self) -> usize {
        let tables = self.parts.iter().filter_map(|part| part.table.as_ref());
        tables.map(|table| table.rows.len()).sum()
    }
}

/// Whether a column is on the sheet. All are: programs read it, and people write into it.
pub(super) fn is_shown(column: &Column) -> bool {
    match column.showing {
        Showing::Always | Showing::WhenWide | Showing::DataOnly | Showing::PaperOnly => true,
    }
}

/// The sheets, in the order of the documents. A table that stands in two documents, such as the
/// assumptions, gets one.
pub(super) fn schedules<'a>(documents: &[&'a Document]) -> Vec<Schedule<'a>> {
    let mut found: Vec<(&str, Schedule)> = Vec::new();
    for document in documents {
        let mut own = Vec::new();
        for part in document.parts.iter().filter(|part| !shown::is_empty(part)) {
            let key = if part.table.is_some() { part.name } else { "" };
            if key.is_empty() {
                put(&mut own, "", part, document);
            } else if !found.iter().any(|(name, _)| *name == key) {
                put(&mut own, key, part, document);
            }
        }
        found.extend(own);
    }
    let mut schedules: Vec<Schedule> = Vec::new();
    for (_, mut schedule) in found {
        schedule.name = free_name(&schedule.name, &schedules);
        schedules.push(schedule);
    }
    schedules
}

fn put<'a>(
    own: &mut Vec<(&'a str, Schedule<'a>)>,
    key: &'a str,
    part: &'a Part,
    document: &'a Document,
) {
    if let Some((_, schedule)) = own.iter_mut().find(|(name, _)| *name == key) {
        schedule.parts.push(part);
        return;
    }
    let name = if key.is_empty() {
        format!("{} text", document.title)
    } else {
        in_words(key)
    };
    let parts = vec![part];
    own.push((
        key,
        Schedule {
            name,
            document,
            parts,
        },
    ));
}

/// `loop-members` as people write it: `Loop members`.
fn in_words(key: &str) -> String {
    let words = key.replace(['-', '_'], " ");
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => words,
    }
}

/// The name, short enough and without the signs that a sheet's name can't have; numbered where
/// another has it, capitals or not.
fn free_name(wanted: &str, taken: &[Schedule]) -> String {
    let allowed = |c: &char| !matches!(c, '[' | ']' | ':' | '*' | '?' | '/' | '\\' | '\'');
    let own: String = wanted.chars().filter(allowed).take(MOST_NAME).collect();
    let is_free = |name: &String| {
        let lower = name.to_lowercase();
        lower != super::front::NAME.to_lowercase()
            && !taken.iter().any(|it| it.name.to_lowercase() == lower)
    };
    let numbered = (2_usize..).map(|number| format!("{own} {number}"));
    let mut names = std::iter::once(own.clone()).chain(numbered);
    names.find(is_free).unwrap_or(own)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_words() {
        assert_eq!(in_words("loop-members"), "Loop members");
        assert_eq!(in_words(""), "");
    }

    #[test]
    fn a_name_is_one_that_a_sheet_can_have() {
        let name = free_name("a/b [c]: it's a very long name of a sheet indeed", &[]);
        assert_eq!(name, "ab c its a very long name of");
        assert_ne!(free_name("contents", &[]).to_lowercase(), "contents");
    }
}

//! The list of checks that the trade makes, kept as data: each has its rule, or says which rule
//! holds it and why.

use feedpoint::judge::rule;
use std::collections::BTreeSet;

const LIST: &str = include_str!("../data/rule-ids.txt");

/// Each row: an id, and after colons the rule that holds it and the reason.
fn rows() -> impl Iterator<Item = Vec<&'static str>> {
    LIST.lines()
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
        .map(|line| line.split(": ").collect())
}

#[test]
fn every_check_of_the_list_has_its_rule() {
    let mut wrong = Vec::new();
    for row in rows() {
        match row.as_slice() {
            [id] if rule(id).is_some() => {}
            [_, held_by, reason] if rule(held_by).is_some() && !reason.is_empty() => {}
            _ => wrong.push(row.join(": ")),
        }
    }
    assert!(wrong.is_empty(), "without a rule:\n{}", wrong.join("\n"));
}

#[test]
fn the_list_names_each_check_once() {
    let ids: Vec<&str> = rows().filter_map(|row| row.first().copied()).collect();
    let once: BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(ids.len(), once.len());
    assert!(ids.len() > 50, "{} rows", ids.len());
}

const FIGURES: &str = include_str!("../data/rule-figures.txt");

/// The figures behind each rule: rows of the published tables, or a dash and why there are none.
fn figures() -> impl Iterator<Item = (&'static str, &'static str)> {
    let rows = FIGURES.lines().filter(|line| !line.starts_with('#'));
    rows.filter_map(|line| line.split_once(": "))
}

/// Every id in the published tables, which `tests/published.rs` holds against the program's own.
fn published() -> BTreeSet<String> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/published");
    let files = std::fs::read_dir(folder).expect("the published tables");
    let paths = files.map(|entry| entry.expect("an entry").path());
    let tables = paths.filter(|path| path.extension().is_some_and(|ending| ending == "csv"));
    tables
        .flat_map(|path| {
            let text = std::fs::read_to_string(path).expect("a table");
            let ids = text.lines().filter_map(|line| line.split(',').next());
            ids.map(str::to_owned).collect::<Vec<_>>()
        })
        .collect()
}

#[test]
fn every_rule_has_its_published_figure_or_says_why_not() {
    let published = published();
    let mut wrong = Vec::new();
    for rule in feedpoint::judge::RULES {
        let row = figures().find(|(id, _)| *id == rule.id);
        let known = row.is_some_and(|(_, ids)| match ids.strip_prefix("- ") {
            Some(reason) => !reason.is_empty(),
            None => ids.split(", ").all(|id| published.contains(id)),
        });
        if !known {
            wrong.push(format!("{}: {:?}", rule.id, row.map(|(_, ids)| ids)));
        }
    }
    assert!(wrong.is_empty(), "no figure:\n{}", wrong.join("\n"));
}

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

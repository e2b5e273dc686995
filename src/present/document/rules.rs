//! Every rule on a sheet of its own: what it says, what it rests on, and what it found here.

use super::checks::limit;
use super::{Cell, Column, Part, Table};
use crate::judge::verdict::{Outcome, Verdict};
use crate::judge::{Counts, RULES, rule::Rule};
use crate::present::counts::sentence;
use crate::present::job::Job;
use crate::present::rule_text;
use crate::quantity::figure::Unit;

/// A part for each rule, in the order in which they are judged.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let parts = RULES.iter();
    parts
        .flat_map(|rule| std::iter::once(part(rule, job)).chain(nearest(rule, job)))
        .collect()
}

/// Subjects shown at most.
const NEAREST: usize = 16;

/// What the rule found of the subjects that come nearest to its limit, or are beyond it; `None`
/// where one line has said it all.
fn nearest(rule: &Rule, job: &Job) -> Option<Part> {
    let judged = job.verdicts.iter().filter(|verdict| {
        let judged = matches!(verdict.outcome, Outcome::Holds | Outcome::Broken);
        verdict.rule == rule.id && judged && verdict.found.is_some()
    });
    let mut judged: Vec<&Verdict> = judged.collect();
    let spare = |verdict: &Verdict| verdict.spare_percent.unwrap_or(f64::INFINITY);
    judged.sort_by(|a, b| spare(a).total_cmp(&spare(b)));
    let more = judged.len().saturating_sub(NEAREST);
    judged.truncate(NEAREST);
    if judged.len() < 2 {
        return None;
    }
    let mut table = Table::new(vec![
        Column::text("rule", "Rule").data_only(),
        Column::text("subject", "Of"),
        Column::text("found", "Found"),
        Column::text("limit", "Limit"),
        Column::figure("spare_percent", "Spare", Unit::Percent),
        Column::text("verdict", "Verdict"),
    ]);
    for verdict in judged {
        let found = verdict.found.map(|found| found.to_string());
        table.row(vec![
            Cell::text(rule.id),
            Cell::text(&verdict.subject),
            Cell::text(found.unwrap_or_default()),
            Cell::text(limit(verdict)),
            verdict
                .spare_percent
                .map_or(Cell::Empty, |spare| Cell::figure(spare, Unit::Percent)),
            Cell::Verdict(verdict.outcome.name()),
        ]);
    }
    let mut part = Part::table("rules-nearest", "Nearest to the limit", table);
    if more > 0 {
        part.notes
            .push(format!("{more} more have at least as much to spare."));
    }
    Some(part)
}

fn part(rule: &Rule, job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("rule", "Rule").data_only(),
        Column::text("item", "Item"),
        Column::long_text("text", "Text"),
    ]);
    let mut row = |item: &str, text: String| {
        table.row(vec![
            Cell::text(rule.id),
            Cell::text(item),
            Cell::text(text),
        ]);
    };
    row("About", rule.subject.title().to_owned());
    for (label, text) in rule_text::lines(rule) {
        row(label, text);
    }
    let verdicts: Vec<Verdict> = job
        .verdicts
        .iter()
        .filter(|verdict| verdict.rule == rule.id)
        .cloned()
        .collect();
    row("Here", here(&verdicts));
    if let Some(verdict) = rule_text::telling(rule, &verdicts) {
        row("Worked", rule_text::worked(verdict));
    }
    for verdict in &verdicts {
        match &verdict.outcome {
            Outcome::Broken => row("Broken", broken(verdict)),
            Outcome::CannotTell { missing } => {
                row(
                    "Can’t be told",
                    format!("{}: missing: {missing}", verdict.subject),
                );
            }
            Outcome::Holds | Outcome::NotHere { .. } => {}
        }
    }
    Part {
        new_sheet: true,
        ..Part::table("rules", rule.id, table)
    }
}

/// How often it was judged on this job, and how it ended.
fn here(verdicts: &[Verdict]) -> String {
    let why = verdicts.iter().find_map(|verdict| match &verdict.outcome {
        Outcome::NotHere { why } => Some(why.as_str()),
        _ => None,
    });
    match (verdicts, why) {
        ([], _) => "nothing on this job that it is about".to_owned(),
        ([_], Some(why)) => why.to_owned(),
        _ => sentence(Counts::of(verdicts)),
    }
}

fn broken(verdict: &Verdict) -> String {
    let remedy = verdict.remedy.as_deref().unwrap_or_default();
    let place = verdict.place.as_ref().map(|place| format!(" ({place})"));
    format!(
        "{}; {remedy}{}",
        rule_text::worked(verdict),
        place.unwrap_or_default()
    )
}

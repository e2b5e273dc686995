//! Every rule on a sheet of its own: what it says, what it rests on, and what it found here.

use super::{Cell, Column, Part, Table};
use crate::judge::verdict::{Outcome, Verdict};
use crate::judge::{Counts, RULES, rule::Rule};
use crate::present::counts::sentence;
use crate::present::job::Job;
use crate::present::rule_text;

/// A part for each rule, in the order in which they are judged.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    RULES.iter().map(|rule| part(rule, job)).collect()
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

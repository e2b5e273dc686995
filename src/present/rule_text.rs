//! A rule in words, as `explain` prints it and the rules document shows it.

use super::document::bound_words;
use crate::judge::rule::Rule;
use crate::judge::verdict::{Outcome, Verdict};
use crate::norms::region::Region;

/// What a rule says of itself: label and text, in the order in which they are read.
#[must_use]
pub fn lines(rule: &Rule) -> Vec<(&'static str, String)> {
    let mut lines = vec![
        ("States", rule.statement.to_owned()),
        ("Formula", rule.formula.to_owned()),
    ];
    lines.extend(sources(rule));
    lines.push(("Remedy", rule.remedy.to_owned()));
    lines.extend(rule.caution.map(|caution| ("Caution", caution.to_owned())));
    lines
}

/// What the rule rests on in each region; once where that is the same in all.
fn sources(rule: &Rule) -> Vec<(&'static str, String)> {
    let by_region: Vec<(&str, String)> = Region::ALL
        .iter()
        .map(|region| {
            let severity = rule.severity_in(*region).name();
            let said = rule.source(*region).map_or_else(
                || "no such limit".to_owned(),
                |source| format!("{source}; {severity} when broken"),
            );
            (region.name(), said)
        })
        .collect();
    match by_region.split_first() {
        Some(((_, first), others)) if others.iter().all(|(_, said)| said == first) => {
            vec![("Source", first.clone())]
        }
        _ => by_region,
    }
}

/// The verdict of a rule that shows its formula at work best: one with its figures in it, then the
/// one with the least to spare. `None` when the rule had nothing to judge.
#[must_use]
pub fn telling<'a>(rule: &Rule, verdicts: &'a [Verdict]) -> Option<&'a Verdict> {
    let judged = verdicts.iter().filter(|verdict| {
        verdict.rule == rule.id && matches!(verdict.outcome, Outcome::Holds | Outcome::Broken)
    });
    judged.min_by(|a, b| {
        let lacks = |verdict: &Verdict| (verdict.working.is_none(), verdict.found.is_none());
        let spare = |verdict: &Verdict| verdict.spare_percent.unwrap_or(f64::INFINITY);
        lacks(a).cmp(&lacks(b)).then(spare(a).total_cmp(&spare(b)))
    })
}

/// A verdict worked: the subject, the formula with its figures, the limit, how it ended.
#[must_use]
pub fn worked(verdict: &Verdict) -> String {
    let mut said = vec![verdict.subject.clone()];
    let figure = verdict.found.map(|found| format!("found {found}"));
    let working = verdict.working.clone().or(figure);
    said.extend(working);
    let limit = verdict
        .limit
        .map(|(bound, limit)| format!("{} {limit}", bound_words(bound)));
    said.push(match limit {
        Some(limit) => format!("{limit}, so it {}", ended(&verdict.outcome)),
        None => format!("it {}", ended(&verdict.outcome)),
    });
    said.join(": ")
}

fn ended(outcome: &Outcome) -> &'static str {
    match outcome {
        Outcome::Holds => "holds",
        Outcome::Broken => "is broken",
        Outcome::CannotTell { .. } => "can’t be told",
        Outcome::NotHere { .. } => "has nothing to say",
    }
}

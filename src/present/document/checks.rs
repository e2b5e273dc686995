//! The checks: how many ended how, then what is broken or can't be told, worst first.

use super::untold::grouped;
use super::{Cell, Column, Part, Table};
use crate::judge::Counts;
use crate::judge::verdict::{Outcome, Verdict};
use crate::model::house_rule::Only;
use crate::norms::limit::Bound;
use crate::present::counts::sentence;
use crate::present::job::Job;
use crate::quantity::figure::{Figure, Unit};

/// The parts of the checks.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut parts = vec![open(job), kept(job)];
    parts.extend(house_rules(job));
    parts
}

/// Broken and untold verdicts, worst first: by outcome, then severity, then by how far past the
/// limit, as a share of it; where that is not measured last, as judged.
pub(crate) fn worst_first(job: &Job) -> Vec<&Verdict> {
    let mut open: Vec<_> = job
        .verdicts
        .iter()
        .filter(|verdict| verdict.outcome.is_open())
        .collect();
    let spare = |verdict: &Verdict| verdict.spare_percent.unwrap_or(f64::INFINITY);
    open.sort_by(|one, other| {
        let rank = |verdict: &Verdict| (verdict.outcome.rank(), verdict.severity);
        let ranks = rank(one).cmp(&rank(other));
        ranks.then(spare(one).total_cmp(&spare(other)))
    });
    open
}

fn open(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("verdict", "Verdict"),
        Column::text("severity", "Severity"),
        Column::text("rule", "Rule"),
        Column::text("subject", "Of"),
        Column::text("found", "Found"),
        Column::text("limit", "Limit"),
        Column::figure("spare_percent", "Spare", Unit::Percent),
        Column::long_text("source", "Source"),
        Column::long_text("remedy", "What to do"),
        Column::long_text("place", "Where"),
    ]);
    for verdict in grouped(worst_first(job)) {
        table.row(open_row(&verdict));
    }
    let counts = Counts::of(&job.verdicts);
    let mut part = Part::table("checks", "", table);
    part.text = vec![format!("{}.", sentence(counts))];
    part.block_head = 4;
    if counts.broken() == 0 && counts.cannot_tell > 0 {
        part.notes
            .push("Cannot tell is not holds: supply the figures that are missing.".to_owned());
    }
    part
}

fn open_row(verdict: &Verdict) -> Vec<Cell> {
    let missing = match &verdict.outcome {
        Outcome::CannotTell { missing } => Some(missing),
        _ => None,
    };
    let remedy = match (&verdict.remedy, missing) {
        (Some(remedy), Some(missing)) => format!("{remedy}; missing: {missing}"),
        (Some(remedy), None) => remedy.clone(),
        (None, Some(missing)) => format!("missing: {missing}"),
        (None, None) => String::new(),
    };
    let place = verdict.place.as_ref().map(ToString::to_string);
    vec![
        Cell::Verdict(verdict.outcome.name()),
        Cell::text(verdict.severity.name()),
        Cell::text(&*verdict.rule),
        Cell::text(&verdict.subject),
        figure(verdict.found),
        Cell::text(limit(verdict)),
        verdict
            .spare_percent
            .map_or(Cell::Empty, |spare| Cell::figure(spare, Unit::Percent)),
        Cell::text(&*verdict.source),
        Cell::text(remedy),
        Cell::text(place.unwrap_or_default()),
    ]
}

fn figure(found: Option<Figure>) -> Cell {
    Cell::text(found.map(|figure| figure.to_string()).unwrap_or_default())
}

/// `at most 10.0 %`.
pub(super) fn limit(verdict: &Verdict) -> String {
    verdict
        .limit
        .map(|(bound, figure)| format!("{} {figure}", bound_words(bound)))
        .unwrap_or_default()
}

/// The bound in words.
pub(crate) fn bound_words(bound: Bound) -> &'static str {
    match bound {
        Bound::AtMost => "at most",
        Bound::AtLeast => "at least",
    }
}

/// Rules that hold, each once, with the subject that comes nearest to breaking it.
fn kept(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("rule", "Rule"),
        Column::number("subjects", "Checked"),
        Column::text("nearest", "Least to spare"),
        Column::text("found", "Found"),
        Column::text("limit", "Limit"),
        Column::figure("spare_percent", "Spare", Unit::Percent),
    ]);
    let mut rules: Vec<&str> = Vec::new();
    for verdict in &job.verdicts {
        if verdict.outcome == Outcome::Holds && !rules.contains(&&*verdict.rule) {
            rules.push(&verdict.rule);
        }
    }
    for rule in rules {
        table.row(kept_row(job, rule));
    }
    Part::table("kept", "Kept", table)
}

fn kept_row(job: &Job, rule: &str) -> Vec<Cell> {
    let holding: Vec<&Verdict> = job
        .verdicts
        .iter()
        .filter(|verdict| verdict.rule == rule && verdict.outcome == Outcome::Holds)
        .collect();
    let nearest = holding
        .iter()
        .filter(|verdict| verdict.spare_percent.is_some())
        .min_by(|one, other| {
            let spare = |verdict: &Verdict| verdict.spare_percent.unwrap_or(f64::INFINITY);
            spare(one).total_cmp(&spare(other))
        });
    let mut row = vec![Cell::text(rule), Cell::count(holding.len())];
    match nearest {
        Some(verdict) => row.extend([
            Cell::text(&verdict.subject),
            figure(verdict.found),
            Cell::text(limit(verdict)),
            verdict
                .spare_percent
                .map_or(Cell::Empty, |spare| Cell::figure(spare, Unit::Percent)),
        ]),
        None => row.extend(vec![Cell::Empty; 4]),
    }
    row
}

/// What the project's own rules ask.
fn house_rules(job: &Job) -> Option<Part> {
    let lines: Vec<String> = job
        .project
        .house_rules
        .iter()
        .map(|rule| {
            let because = rule.because.as_deref().unwrap_or("no reason given");
            let loosens = rule
                .loosens
                .map(|published| format!(", loosens {published}"));
            format!(
                "{}: {} {} {}{}{} ({because}).",
                rule.id,
                rule.measure.name(),
                bound_words(rule.bound),
                Figure::new(rule.value, rule.measure.unit()),
                only(&rule.only),
                loosens.unwrap_or_default()
            )
        })
        .collect();
    (!lines.is_empty()).then(|| Part::prose("Rules of the house", lines))
}

/// ` in room reading-hall`, or nothing where a rule is about all.
fn only(only: &Only) -> String {
    let names = [
        ("room", &only.room),
        ("group", &only.group),
        ("cupboard", &only.cupboard),
        ("strip", &only.strip),
    ];
    let named = names
        .into_iter()
        .filter_map(|(kind, name)| Some(format!("{kind} {}", name.as_ref()?)));
    let named: Vec<String> = named.collect();
    if named.is_empty() {
        return String::new();
    }
    format!(", only {}", named.join(", "))
}

//! Cures that were tried: for each broken rule the edit of the project file that leaves to the
//! program what was given there, if the whole job worked out with it keeps the rule and breaks no
//! other, with what it then has instead and what that costs.

mod edit;

use super::rule::Evidence;
use super::verdict::{Outcome, Verdict};
use super::{judge, remedy};
use crate::choose::Known;
use crate::choose::sized::Sizing;
use crate::model::project::Project;
use crate::{allocate, choose, price};
use edit::{Edit, candidates, runs_of};
use rust_decimal::Decimal;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// Edits that are tried at most: each works the whole job out again.
const MOST_TRIED: usize = 12;
/// Runs that are worked out again at most, by all edits together: a larger job gets fewer tries.
const MOST_RUNS: usize = 480;

/// A job worked out with an edit.
struct Tried {
    sizing: Sizing,
    verdicts: Vec<Verdict>,
    net: Decimal,
    words: String,
}

/// Puts the cure, where one was found, before what a broken rule says in general, and its place in
/// place of the rule's. What the rule tried by itself stays.
#[must_use]
pub fn cured(evidence: &Evidence<'_>, verdicts: Vec<Verdict>) -> Vec<Verdict> {
    let mut tried: BTreeMap<Edit, Option<Tried>> = BTreeMap::new();
    let broken: Vec<usize> = (0..)
        .zip(&verdicts)
        .filter(|(_, verdict)| verdict.outcome == Outcome::Broken && !has_own(verdict))
        .map(|(index, _)| index)
        .collect();
    if broken.is_empty() {
        return verdicts;
    }
    let known = &Known::of(evidence.project, evidence.sizing);
    let mut cured = verdicts;
    for index in broken {
        let Some(verdict) = cured.get(index).cloned() else {
            continue;
        };
        let cure = cure(evidence, known, &cured, &verdict, &mut tried);
        if let (Some((words, edit)), Some(slot)) = (cure, cured.get_mut(index)) {
            let general = verdict.remedy.as_deref();
            slot.remedy = Some(match general.and_then(|general| beside(&edit, general)) {
                Some(general) => format!("{words}; or {general}"),
                None => words,
            });
            slot.place = edit.place(evidence.project).cloned().or(verdict.place);
        }
    }
    cured
}

/// What a rule says in general beside an edit: not that edit once more.
fn beside<'a>(edit: &Edit, general: &'a str) -> Option<&'a str> {
    if !(edit.leaves_feed() && general.starts_with(FEED_AUTO)) {
        return Some(general);
    }
    let ways = [", or ", "; or "].map(|between| general.split_once(between));
    let rest = ways.into_iter().flatten().map(|(_, rest)| rest);
    rest.max_by_key(|rest| rest.len())
}

/// How rules begin that advise to leave the feeds to the program.
const FEED_AUTO: &str = "set `feed: auto`";

/// Whether the rule tried its own remedy.
fn has_own(verdict: &Verdict) -> bool {
    let remedy = verdict.remedy.as_deref().unwrap_or_default();
    remedy.contains(remedy::TRIED)
}

fn cure(
    evidence: &Evidence<'_>,
    known: &Known,
    before: &[Verdict],
    verdict: &Verdict,
    tried: &mut BTreeMap<Edit, Option<Tried>>,
) -> Option<(String, Edit)> {
    for edit in candidates(evidence.project, evidence.sizing, verdict) {
        if !tried.contains_key(&edit) {
            let most = MOST_RUNS / evidence.project.runs.len().max(1);
            if tried.len() >= most.min(MOST_TRIED) {
                return None;
            }
            let outcome = attempt(evidence.project, known, &edit);
            tried.insert(edit.clone(), outcome);
        }
        let Some(Some(after)) = tried.get(&edit) else {
            continue;
        };
        if keeps(evidence.sizing, before, after, verdict) {
            let cost = after.net - evidence.quote.totals.net;
            let cost = remedy::more(cost, &evidence.quote.currency);
            let words = format!(
                "{}{}: it then holds{cost} on the net total",
                edit.words(evidence.project),
                after.words
            );
            return Some((words, edit));
        }
    }
    None
}

/// Works the job out with an edit; `None` when it can't be laid out.
fn attempt(project: &Project, known: &Known, edit: &Edit) -> Option<Tried> {
    let project = edit.done(project);
    let mut sizing = choose::size_beside(&project, Some(known)).ok()?;
    price::strip::set_joints(&mut sizing);
    let allocation = allocate::allocate(&project, &sizing);
    let quote = price::price(&project, &sizing, &allocation);
    let verdicts = judge(&Evidence {
        project: &project,
        sizing: &sizing,
        allocation: &allocation,
        quote: &quote,
    });
    Some(Tried {
        words: instead(edit, &sizing),
        verdicts,
        net: quote.totals.net,
        sizing,
    })
}

/// What the runs get in place of what they were given.
fn instead(edit: &Edit, sizing: &Sizing) -> String {
    let Edit::Runs(keys, runs) = edit else {
        return String::new();
    };
    let mut items: Vec<String> = Vec::new();
    let mut add = |item: &str| {
        let item = format!("`{item}`");
        if !items.contains(&item) {
            items.push(item);
        }
    };
    if keys.contains(&edit::RunKey::Driver) {
        let drivers = sizing.drivers.iter();
        let own = drivers.filter(|driver| driver.runs.iter().any(|run| runs.contains(run)));
        own.for_each(|driver| add(&driver.item.offer.id));
    }
    let cables = sizing.cables.iter();
    if keys.iter().any(|key| *key != edit::RunKey::Driver) {
        let own = cables.filter(|cable| runs.contains(&cable.run));
        own.for_each(|cable| add(&cable.item.offer.id));
    }
    format!(" (which gives {})", items.join(" and "))
}

/// Whether the rule is kept of what the verdict was about, and no rule is broken more often.
fn keeps(sizing: &Sizing, before: &[Verdict], after: &Tried, verdict: &Verdict) -> bool {
    let runs = runs_of(sizing, verdict);
    let same = |other: &&Verdict| {
        let own = runs_of(&after.sizing, other);
        let shared = own.iter().any(|run| runs.contains(run));
        shared || other.subject == verdict.subject || runs.is_empty()
    };
    let still = broken(&after.verdicts)
        .filter(|other| other.rule == verdict.rule)
        .any(|other| same(&other));
    let count = |verdicts: &[Verdict]| -> BTreeMap<Cow<'static, str>, usize> {
        let mut counts = BTreeMap::new();
        for verdict in broken(verdicts) {
            *counts.entry(verdict.rule.clone()).or_default() += 1;
        }
        counts
    };
    let known = count(before);
    let worse = count(&after.verdicts)
        .iter()
        .any(|(rule, times)| known.get(rule).is_none_or(|before| times > before));
    !still && !worse
}

fn broken(verdicts: &[Verdict]) -> impl Iterator<Item = &Verdict> {
    let all = verdicts.iter();
    all.filter(|verdict| verdict.outcome == Outcome::Broken)
}

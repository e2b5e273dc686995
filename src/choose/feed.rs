//! How a run is fed: the cheapest arrangement, cable and kind of driver that keep every limit.
//!
//! Evenly spaced options are looked at in the order of what they cost at least; then feeds and cuts
//! are moved where that costs less. An option is left out only when
//! its feeds could not keep the light limit even with cables that lose nothing, or when it can't
//! cost less than the two best already found. Without prices the order is fewest driver outputs,
//! fewest feeds, least copper.

use super::arrangement::Arrangement;
use super::candidate::Candidate;
use super::feeding::Feeding;
use super::field::Field;
use super::found::{Found, keep_two};
use super::held::as_issued;
use super::limits::{self, Checked};
use super::placing;
use super::sharing::Sharing;
use super::sized::{Fed, Reasons};
use super::trial::{self, Attempt};
use super::unmet;
use crate::solve::strip::extremes;
use std::collections::BTreeMap;

/// Chooses how the run is fed, or evaluates what was asked for. `None` when there is no cable to
/// feed it with or no place where it can be fed.
#[must_use]
pub fn feed(feeding: &Feeding) -> Option<Fed> {
    let mut field = Field::new(feeding);
    let issued = as_issued(&mut field);
    let candidates = field.candidates();
    let mut found = cheapest(&field, &candidates);
    if !matches!(issued, Some(Ok(_))) {
        found = placing::placed(&mut field, candidates, found);
    }
    let field = field;
    let released = match issued {
        None => None,
        Some(Err(why)) => Some(why),
        Some(Ok(held)) => {
            found.retain(|other| other.candidate != held.candidate);
            found.insert(0, held);
            None
        }
    };
    let (best, unmet) = match found.first() {
        Some(best) => (best.clone(), unmet::without_driver(feeding)),
        None => {
            let nearest = nearest(&field)?;
            let unmet = unmet::nearest(feeding, &nearest);
            (nearest, unmet)
        }
    };
    let runner_up = found
        .get(1)
        .and_then(|second| Some((full_words(&field, &second.candidate), second.cost?)));
    let deciding_limit = found
        .first()
        .and_then(|best| deciding(&field, &best.candidate));
    Some(Fed {
        reasons: Reasons {
            arrangement: words(&field, &best.candidate),
            cost: best.cost,
            runner_up,
            deciding_limit,
            released,
        },
        sections: best.trial.sections,
        states: best.trial.states,
        figures: best.trial.figures,
        sharing: best.candidate.sharing,
        unmet,
    })
}

/// The two cheapest of the field's candidates that keep every limit, the cheapest first.
fn cheapest(field: &Field, candidates: &[Candidate]) -> Vec<Found> {
    let mut lossless: BTreeMap<(usize, Sharing), bool> = BTreeMap::new();
    let mut found: Vec<Found> = Vec::new();
    for candidate in candidates {
        if settled(&found, candidate) {
            break;
        }
        let Some(attempt) = field.attempt(candidate) else {
            continue;
        };
        let possible = *lossless
            .entry((candidate.way, candidate.sharing))
            .or_insert_with(|| possible(field, attempt));
        if !possible {
            continue;
        }
        if let Some(Ok(trial)) = field.feasible(candidate) {
            let cost = field.cost(candidate, &trial.sections);
            keep_two(
                &mut found,
                Found {
                    candidate: candidate.clone(),
                    trial,
                    cost,
                },
            );
        }
    }
    found
}

/// Whether nothing from this candidate on can be among the two best.
fn settled(found: &[Found], candidate: &Candidate) -> bool {
    let beats = |found: &Found| match (found.cost, candidate.floor) {
        (Some(cost), Some(floor)) => cost < floor,
        (Some(_), None) => true,
        (None, Some(_)) => false,
        (None, None) => found.candidate.compare(None, candidate, None).is_lt(),
    };
    found.get(1).is_some_and(beats)
        || found
            .first()
            .is_some_and(|best| best.cost.is_some() && candidate.floor.is_none())
}

/// Whether the longest section could keep the light limit with cables that lose nothing.
fn possible(field: &Field, attempt: Attempt) -> bool {
    let longest = attempt.way.pieces.iter().max_by_key(|piece| piece.segments);
    let (Some(piece), Some(lit)) = (longest, attempt.sharing.states().first()) else {
        return false;
    };
    extremes(&trial::ideal(field.feeding, piece), *lit)
        .is_some_and(|state| limits::light_drop(&field.feeding.limits, state.darkest.into()).keeps)
}

/// The nearest, when nothing keeps every limit: what can be wired at all before what can't, then
/// what misses its limits by least, all of them together. An arrangement that was asked for is tried with every
/// cable, others with the thickest that can be wired.
fn nearest(field: &Field) -> Option<Found> {
    let mut nearest: Option<(bool, f64, Found)> = None;
    for way in 0..field.ways.len() {
        for &sharing in &field.sharings {
            for candidate in wired(field, way, sharing) {
                let trial = trial::whole(field.feeding, field.attempt(&candidate)?);
                let unwired = !field.wires(&candidate);
                let broken = trial.each_broken().into_iter();
                let miss: f64 = broken.map(Checked::excess).sum();
                let nearer = |(its, least, _): &(bool, f64, Found)| {
                    unwired.cmp(its).then(miss.total_cmp(least)).is_lt()
                };
                if nearest.as_ref().is_none_or(nearer) {
                    let cost = field.cost(&candidate, &trial.sections);
                    let found = Found {
                        candidate,
                        trial,
                        cost,
                    };
                    nearest = Some((unwired, miss, found));
                }
            }
        }
    }
    nearest.map(|(.., found)| found)
}

/// An arrangement with the cables that are tried when nothing keeps every limit.
fn wired(field: &Field, way: usize, sharing: Sharing) -> Vec<Candidate> {
    let cables = (0..field.feeding.cables.len()).rev();
    let mut all: Vec<Candidate> = cables
        .filter_map(|cable| field.candidate(way, cable, sharing))
        .collect();
    if field.ways.len() > 1 {
        let first = all.iter().position(|candidate| field.wires(candidate));
        all.drain(..first.unwrap_or(0));
        all.truncate(1);
    }
    all
}

fn words(field: &Field, candidate: &Candidate) -> String {
    let way = field.ways.get(candidate.way);
    way.map_or_else(String::new, |way| way.words.clone())
}

fn full_words(field: &Field, candidate: &Candidate) -> String {
    let cable = field.feeding.cables.get(candidate.cable);
    let cable = cable.map_or("", |cable| cable.offer.id.as_str());
    format!("{}, {cable}", words(field, candidate))
}

/// Simpler arrangements looked at for the limit that they break.
const SIMPLER: usize = 4;

/// The limit that the next simpler arrangement breaks with the same cable, or the same
/// arrangement with the next thinner cable.
fn deciding(field: &Field, chosen: &Candidate) -> Option<String> {
    let size = |way: &Arrangement| (way.pieces.len(), way.feeds());
    let size_chosen = (chosen.sections, chosen.feeds);
    let before = field.ways.iter().take(chosen.way);
    let before = before.take_while(|way| size(way) <= size_chosen).count();
    let simpler = (0..before).rev().map(|way| Candidate {
        way,
        ..chosen.clone()
    });
    let thinner = (0..chosen.cable).rev().map(|cable| Candidate {
        cable,
        ..chosen.clone()
    });
    simpler
        .take(SIMPLER)
        .chain(thinner.take(1))
        .find_map(|candidate| {
            let broken = field.feasible(&candidate)?.err()?;
            let words = full_words(field, &candidate);
            Some(format!("{words}: {} {}", broken.what, broken.by()))
        })
}

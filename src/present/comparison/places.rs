//! Runs, drivers, control devices, loops and circuits that differ between two jobs.
//!
//! Drivers are recognised by what hangs on them, not by their numbers, so that a new number alone
//! does not look like another driver.

use super::placed::{Placed, devices, drivers};
use super::{Change, Untouched};
use crate::choose::sized::SizedRun;
use crate::present::job::Job;
use crate::present::measured::metres;
use crate::quantity::figure::{Figure, Unit};
use std::collections::{BTreeMap, BTreeSet};

/// Something that differs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlaceChange {
    /// What became of it.
    pub change: Change,
    /// `run`, `driver`, `device`, `loop` or `circuit`.
    pub kind: &'static str,
    /// Its name in the new job, or in the old one when it is gone.
    pub name: String,
    /// What about it differs: `strip`, `fed`, `address`; empty when it was added or removed.
    pub what: &'static str,
    /// As it was; empty when it was not there.
    pub was: String,
    /// As it is; empty when it is gone.
    pub now: String,
    /// Why.
    pub reason: &'static str,
}

/// What differs, and how much is alike.
pub(super) struct Places {
    pub changes: Vec<PlaceChange>,
    pub untouched: Vec<Untouched>,
}

impl Places {
    /// Names of the runs that differ.
    pub fn touched_runs(&self) -> BTreeSet<String> {
        let runs = self.changes.iter().filter(|change| change.kind == "run");
        runs.map(|change| change.name.clone()).collect()
    }
}

/// Compares all of two jobs but their prices.
pub(super) fn compare(old: &Job, new: &Job) -> Places {
    let mut places = Places {
        changes: Vec::new(),
        untouched: Vec::new(),
    };
    places.add("run", "runs", facts_of_runs(old), facts_of_runs(new));
    let (was, now) = (drivers(old), drivers(new));
    let pairs = recognised(&was, &now);
    let facts = |placed: &Placed, name: &str| (name.to_owned(), facts_of(placed));
    // Old drivers are looked up by the name of the new one that they are; one that is gone has
    // none, so that a new driver of its number is not taken for it.
    let old_facts = was.iter().enumerate().map(|(index, placed)| {
        let same = pairs.get(&index).and_then(|new| now.get(*new));
        facts(
            placed,
            &same.map_or(format!("gone {index}"), |it| it.name.clone()),
        )
    });
    let new_facts = now.iter().map(|placed| facts(placed, &placed.name));
    places.add(
        "driver",
        "drivers",
        old_facts.collect(),
        new_facts.collect(),
    );
    let named = |all: Vec<Placed>| -> Vec<_> {
        all.iter()
            .map(|placed| facts(placed, &placed.name))
            .collect()
    };
    let (was, now) = (named(devices(old)), named(devices(new)));
    places.add("device", "control devices", was, now);
    places.add("loop", "loops", facts_of_loops(old), facts_of_loops(new));
    places.add(
        "circuit",
        "circuits",
        facts_of_circuits(old),
        facts_of_circuits(new),
    );
    places
}

/// One thing about a run, driver, loop or circuit.
struct Fact {
    what: &'static str,
    /// What a difference in it is.
    change: Change,
    text: String,
    /// What the project asks for about it, if anything.
    asked: String,
}

/// All that is said of one thing: in a few words, and fact by fact.
struct Facts {
    /// What it is called.
    called: String,
    described: String,
    facts: Vec<Fact>,
}

impl Places {
    fn add(
        &mut self,
        kind: &'static str,
        what: &'static str,
        old: Vec<(String, Facts)>,
        new: Vec<(String, Facts)>,
    ) {
        let was: BTreeMap<&str, &Facts> = old.iter().map(|(n, f)| (n.as_str(), f)).collect();
        let (of, mut alike) = (new.len(), 0);
        let now: BTreeSet<&str> = new.iter().map(|(name, _)| name.as_str()).collect();
        for (name, facts) in &new {
            let Some(before) = was.get(name.as_str()) else {
                self.changes.push(one_sided(kind, facts, Change::Added));
                continue;
            };
            let differences = differences(kind, before, facts);
            alike += usize::from(differences.is_empty());
            self.changes.extend(differences);
        }
        let gone = old.iter().filter(|(name, _)| !now.contains(name.as_str()));
        let removed = gone.map(|(_, facts)| one_sided(kind, facts, Change::Removed));
        self.changes.extend(removed);
        self.untouched.push(Untouched { what, alike, of });
    }
}

fn one_sided(kind: &'static str, facts: &Facts, change: Change) -> PlaceChange {
    let text = facts.described.clone();
    let (was, now) = match change {
        Change::Removed => (text, String::new()),
        _ => (String::new(), text),
    };
    PlaceChange {
        change,
        kind,
        name: facts.called.clone(),
        what: "",
        was,
        now,
        reason: match change {
            Change::Removed => "not in the project any more",
            _ => "not in the project before",
        },
    }
}

fn differences(kind: &'static str, old: &Facts, new: &Facts) -> Vec<PlaceChange> {
    let pairs = old.facts.iter().zip(&new.facts);
    pairs
        .filter(|(was, now)| was.text != now.text)
        .map(|(was, now)| PlaceChange {
            change: now.change,
            kind,
            name: new.called.clone(),
            what: now.what,
            was: was.text.clone(),
            now: now.text.clone(),
            reason: if was.asked == now.asked {
                FOLLOWS
            } else {
                ASKED
            },
        })
        .collect()
}

const ASKED: &str = "the project asks for it";
const FOLLOWS: &str = "follows from what else changed";

/// A fact that the project states itself.
fn stated(what: &'static str, change: Change, text: impl Into<String>) -> Fact {
    let text = text.into();
    Fact {
        asked: text.clone(),
        ..chosen(what, change, text)
    }
}

/// A fact that was worked out.
fn chosen(what: &'static str, change: Change, text: impl Into<String>) -> Fact {
    Fact {
        what,
        change,
        text: text.into(),
        asked: String::new(),
    }
}

fn shown(length: crate::quantity::Length) -> String {
    Figure::new(metres(length), Unit::Metre).to_string()
}

fn facts_of_runs(job: &Job) -> Vec<(String, Facts)> {
    job.sizing
        .runs
        .iter()
        .map(|sized| (sized.run.name.clone(), facts_of_run(sized)))
        .collect()
}

fn facts_of_run(sized: &SizedRun) -> Facts {
    let run = &sized.run;
    let profile = run.profile.as_ref().map(|it| it.offer.id.as_str());
    let mut cables: Vec<&str> = Vec::new();
    for section in &sized.sections {
        let id = section.cable.offer.id.as_str();
        if !cables.contains(&id) {
            cables.push(id);
        }
    }
    let feeds: Vec<String> = sized
        .sections
        .iter()
        .flat_map(|section| &section.feeds)
        .map(|feed| shown(feed.at))
        .collect();
    let fed = format!("{}: at {}", sized.reasons.arrangement, feeds.join(", "));
    let wished = |fact: Fact, wish: &dyn std::fmt::Debug| Fact {
        asked: format!("{wish:?}"),
        ..fact
    };
    Facts {
        called: run.name.clone(),
        described: format!("{} of {}, {fed}", shown(sized.length), run.strip.offer.id),
        facts: vec![
            stated("room", Change::Moved, &run.room.name),
            stated("strip", Change::Changed, &run.strip.offer.id),
            stated("length", Change::Changed, shown(sized.length)),
            stated("group", Change::Changed, &run.group.name),
            stated("profile", Change::Changed, profile.unwrap_or("none")),
            chosen("cupboard", Change::Moved, &sized.cupboard.name),
            wished(chosen("fed", Change::Changed, fed), &run.feed),
            chosen("feed cable", Change::Changed, cables.join(", ")),
        ],
    }
}

/// Which new driver each old one is, both by their places in the lists: first those with exactly
/// the same sections on the same outputs, then those with most in common.
fn recognised(old: &[Placed], new: &[Placed]) -> BTreeMap<usize, usize> {
    let mut pairs: Vec<(usize, usize, usize)> = Vec::new();
    for (from, was) in old.iter().enumerate() {
        for (to, now) in new.iter().enumerate() {
            let same = usize::from(was.feeds == now.feeds && !was.feeds.is_empty());
            let sections = was.feeds.intersection(&now.feeds).count();
            let runs = was.runs().intersection(&now.runs()).count();
            let number = usize::from(was.name == now.name);
            if runs > 0 {
                let weight = same * 1_000_000 + sections * 1_000 + runs * 10 + number;
                pairs.push((weight, from, to));
            }
        }
    }
    pairs.sort_by_key(|&(weight, from, to)| (std::cmp::Reverse(weight), from, to));
    let (mut taken, mut found) = (BTreeSet::new(), BTreeMap::new());
    for (_, from, to) in pairs {
        if !found.contains_key(&from) && taken.insert(to) {
            found.insert(from, to);
        }
    }
    found
}

fn facts_of(placed: &Placed) -> Facts {
    let feeds: Vec<String> = placed
        .feeds
        .iter()
        .map(|(run, section, output)| hung(run, *section, *output))
        .collect();
    let mut facts = vec![
        chosen("number", Change::Renumbered, &placed.name),
        chosen("item", Change::Changed, &placed.item),
        chosen("place", Change::Moved, &placed.at),
        chosen("loop", Change::Moved, &placed.on_loop),
        chosen("address", Change::Moved, &placed.addresses),
        chosen("circuit", Change::Moved, &placed.circuit),
    ];
    facts.push(chosen("feeds", Change::Changed, feeds.join(", ")));
    Facts {
        called: placed.name.clone(),
        described: placed.described(),
        facts,
    }
}

/// A section on an output, in as few words as tell it: `hall-cove-north`, `foyer section 2 on output 2`.
fn hung(run: &str, section: usize, output: usize) -> String {
    let mut text = run.to_owned();
    if section > 1 {
        text.push_str(&format!(" section {section}"));
    }
    if output > 1 {
        text.push_str(&format!(" on output {output}"));
    }
    text
}

fn facts_of_loops(job: &Job) -> Vec<(String, Facts)> {
    let id = |cable: &Option<std::sync::Arc<crate::model::cable::Cable>>| {
        let cable = cable.as_ref().map(|cable| cable.offer.id.clone());
        cable.unwrap_or_else(|| "none".to_owned())
    };
    let loops = job.allocation.loops.iter();
    loops
        .map(|one| {
            let controller = one.controller_item.as_ref();
            let controller = controller.map_or("none", |it| it.offer.id.as_str());
            let at = format!("{}, {}", one.controller, one.at.name);
            let facts = vec![
                chosen("controller", Change::Changed, controller),
                chosen("controller place", Change::Moved, at),
                chosen("cable", Change::Changed, id(&one.cable)),
                chosen("cable length", Change::Changed, shown(one.cable_length)),
            ];
            let described = format!("{} members on {controller}", one.members.len());
            named(&one.name, described, facts)
        })
        .collect()
}

fn facts_of_circuits(job: &Job) -> Vec<(String, Facts)> {
    let circuits = job.allocation.circuits.iter();
    circuits
        .map(|one| {
            let breaker = one.breaker.to_string();
            let places: Vec<&str> = one.places.iter().map(|it| it.name.as_str()).collect();
            let places = places.join(", ");
            let cable = one.cable.as_ref().map_or("none", |it| it.offer.id.as_str());
            let length = one.length.map_or_else(|| "unknown".to_owned(), shown);
            let described = format!("{breaker} to {places}");
            let facts = vec![
                chosen("breaker", Change::Changed, breaker),
                chosen("phase", Change::Moved, one.phase.to_string()),
                chosen("serves", Change::Moved, places),
                chosen("cable", Change::Changed, cable),
                chosen("cable length", Change::Changed, length),
            ];
            named(&one.name, described, facts)
        })
        .collect()
}

fn named(name: &str, described: String, facts: Vec<Fact>) -> (String, Facts) {
    let called = name.to_owned();
    let facts = Facts {
        called,
        described,
        facts,
    };
    (name.to_owned(), facts)
}

//! Every difference between what was issued and what is now, each with its reason; what is
//! untouched is counted.

use super::fact::{Fact, Kind, facts};
use crate::model::issued::{Record, Released};
use std::collections::BTreeMap;

/// What became of a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum How {
    /// It has another place or another make.
    Moved,
    /// It is new.
    Added,
    /// It has gone.
    Removed,
}

impl How {
    /// The word for it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            How::Moved => "moved",
            How::Added => "added",
            How::Removed => "removed",
        }
    }
}

/// A difference.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// What kind of thing it is about.
    pub kind: Kind,
    /// Which.
    pub subject: String,
    /// What became of it.
    pub how: How,
    /// What was so; empty for what is new.
    pub was: String,
    /// What is so now; empty for what has gone.
    pub now: String,
    /// Why.
    pub reason: String,
}

/// Every difference between two records.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Changes {
    /// The differences: by kind, in the order of what is now, what has gone last.
    pub list: Vec<Change>,
    /// How many of each kind are as they were, in listing order; kinds that neither has left out.
    pub untouched: Vec<(Kind, usize)>,
}

impl Changes {
    /// How many there are of one sort.
    #[must_use]
    pub fn count(&self, how: How) -> usize {
        self.list.iter().filter(|change| change.how == how).count()
    }

    /// How many things are as they were.
    #[must_use]
    pub fn unmoved(&self) -> usize {
        self.untouched.iter().map(|(_, count)| count).sum()
    }
}

/// The differences between two records. `released` says why things could not stay.
#[must_use]
pub fn between(was: &Record, now: &Record, released: &[Released]) -> Changes {
    let (old, new) = (facts(was), facts(now));
    let known = by_name(&old);
    let present = by_name(&new);
    let told: BTreeMap<&str, &str> = released
        .iter()
        .map(|one| (one.subject.as_str(), one.reason.as_str()))
        .collect();
    let mut list = Vec::new();
    let mut untouched = Vec::new();
    for kind in Kind::ALL {
        let here = |fact: &&Fact| fact.kind == kind;
        let mut same = 0;
        for fact in new.iter().filter(here) {
            let before = known.get(&(kind, fact.subject.as_str()));
            if before.is_some_and(|before| before.is == fact.is) {
                same += 1;
                continue;
            }
            let how = before.map_or(How::Added, |_| How::Moved);
            list.push(change(
                fact,
                how,
                before.map_or("", |b| b.is.as_str()),
                &told,
            ));
        }
        for fact in old.iter().filter(here) {
            if !present.contains_key(&(kind, fact.subject.as_str())) {
                let mut gone = change(fact, How::Removed, &fact.is, &told);
                gone.now = String::new();
                list.push(gone);
            }
        }
        if same > 0 || old.iter().chain(&new).any(|fact| fact.kind == kind) {
            untouched.push((kind, same));
        }
    }
    Changes { list, untouched }
}

fn by_name(facts: &[Fact]) -> BTreeMap<(Kind, &str), &Fact> {
    let named = facts.iter();
    named
        .map(|fact| ((fact.kind, fact.subject.as_str()), fact))
        .collect()
}

fn change(fact: &Fact, how: How, was: &str, told: &BTreeMap<&str, &str>) -> Change {
    let name = format!("{} {}", fact.kind.name(), fact.subject);
    let reason = told.get(name.as_str()).map(|reason| (*reason).to_owned());
    Change {
        kind: fact.kind,
        subject: fact.subject.clone(),
        how,
        was: was.to_owned(),
        now: fact.is.clone(),
        reason: reason.unwrap_or_else(|| usual(fact.kind, how).to_owned()),
    }
}

/// The reason that goes without saying.
fn usual(kind: Kind, how: How) -> &'static str {
    match (kind, how) {
        (Kind::Run, How::Added) => "new in the project",
        (Kind::Run, How::Removed) => "no longer in the project",
        (Kind::Run, How::Moved) => "the project asks for something else",
        (Kind::Driver, How::Added) => "no driver that was there takes what is on it",
        (Kind::Driver, How::Removed) => "nothing is left on it",
        (Kind::Driver, How::Moved) => "the project asks for something else",
        (Kind::Output, How::Added) => "a new section",
        (Kind::Output, How::Removed) => "the section has gone",
        (Kind::Output, How::Moved) => "its driver was replaced",
        (Kind::FeedCable, How::Added) => "a new feed",
        (Kind::FeedCable, How::Removed) => "the feed has gone",
        (Kind::FeedCable, How::Moved) => "its run or its driver was changed",
        (Kind::Loop, How::Added) => "no loop that was there takes what is on it",
        (Kind::Loop, How::Removed) => "nothing is left on it",
        (Kind::Loop, How::Moved) => "its equipment was changed",
        (Kind::Address, How::Added) => "a new member",
        (Kind::Address, How::Removed) => "the member has gone: its addresses are free",
        (Kind::Address, How::Moved) => "its loop was changed",
        (Kind::Group | Kind::Scene, How::Added) => "new on the loop",
        (Kind::Group | Kind::Scene, How::Removed) => "no longer on the loop: its number is free",
        (Kind::Group | Kind::Scene, How::Moved) => "its loop was changed",
        (Kind::Circuit, How::Added) => "no circuit that was there takes what is on it",
        (Kind::Circuit, How::Removed) => "nothing is left on it",
        (Kind::Circuit, How::Moved) => "what it serves was changed",
        (Kind::OnCircuit, How::Added) => "new",
        (Kind::OnCircuit, How::Removed) => "it has gone",
        (Kind::OnCircuit, How::Moved) => "its circuit was changed",
    }
}

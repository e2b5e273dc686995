//! What changed between two checks of the same file, in words.

use crate::judge::Counts;
use crate::judge::catalogue::entry::Found;
use crate::judge::verdict::{Outcome, Verdict};
use crate::present::counts;
use crate::present::document::bound_words;
use crate::present::document::catalogue;
use crate::present::job::Job;
use std::collections::BTreeMap;

/// How one check ended: its verdicts by rule and subject.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Seen {
    /// The counts in a sentence.
    pub counts: String,
    verdicts: BTreeMap<(String, usize), Told>,
}

/// One verdict.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Told {
    /// `broken`, `cannot tell`; anything else is not open.
    outcome: &'static str,
    /// What was found, against which limit.
    figures: String,
    /// What to do, and where.
    cure: String,
}

impl Told {
    fn is_open(&self) -> bool {
        matches!(self.outcome, "broken" | "cannot tell")
    }
}

impl Seen {
    /// How the check of a project ended.
    pub fn of_job(job: &Job) -> Seen {
        let mut seen = Seen {
            counts: counts::sentence(Counts::of(&job.verdicts)),
            ..Seen::default()
        };
        for verdict in &job.verdicts {
            let about = format!("{}, {}", verdict.rule, verdict.subject);
            seen.put(about, told(verdict));
        }
        seen
    }

    /// How the check of a catalogue ended.
    pub fn of_catalogue(found: &Found) -> Seen {
        let mut seen = Seen {
            counts: catalogue::sentence(found),
            ..Seen::default()
        };
        for entry in &found.entries {
            let told = Told {
                outcome: entry.cause.verdict(),
                figures: entry.found.clone(),
                cure: format!("{}; {}", entry.remedy, entry.place),
            };
            seen.put(format!("{}, `{}`", entry.subject, entry.key), told);
        }
        seen
    }

    /// Several verdicts of one rule on one subject are told apart by their order.
    fn put(&mut self, about: String, told: Told) {
        let nth = (0..).find(|nth| !self.verdicts.contains_key(&(about.clone(), *nth)));
        self.verdicts.insert((about, nth.unwrap_or_default()), told);
    }
}

fn told(verdict: &Verdict) -> Told {
    let found = verdict.found.map(|figure| figure.to_string());
    let limit = verdict
        .limit
        .map(|(bound, figure)| format!("{} {figure}", bound_words(bound)));
    let figures: Vec<String> = [found, limit].into_iter().flatten().collect();
    let missing = match &verdict.outcome {
        Outcome::CannotTell { missing } => Some(format!("missing: {missing}")),
        _ => None,
    };
    let place = verdict.place.as_ref().map(ToString::to_string);
    let cure = [verdict.remedy.clone(), missing, place];
    let cure: Vec<String> = cure.into_iter().flatten().collect();
    Told {
        outcome: verdict.outcome.name(),
        figures: figures.join(", "),
        cure: cure.join("; "),
    }
}

/// One change: what happened, and to what.
pub(super) type Change = (&'static str, String);

/// What changed from one check to the next: what is newly open first, then what is open still but
/// otherwise, then what is not open any more.
pub(super) fn changes(before: &Seen, now: &Seen) -> Vec<Change> {
    let mut newly = Vec::new();
    let mut still = Vec::new();
    for (key, told) in now.verdicts.iter().filter(|(_, told)| told.is_open()) {
        let about = &key.0;
        let with = |figures: &str| join([about, figures, &told.cure], "; ");
        match before.verdicts.get(key).filter(|was| was.is_open()) {
            None if told.outcome == "broken" => {
                newly.push(("newly broken", with(&told.figures)));
            }
            None => newly.push(("newly untold", with(&told.figures))),
            Some(was) if was.outcome != told.outcome => {
                let what = match told.outcome {
                    "broken" => "now broken",
                    _ => "now untold",
                };
                newly.push((what, with(&told.figures)));
            }
            Some(was) if was.figures != told.figures => {
                let was = format!("{}, was {}", told.figures, was.figures);
                still.push((open_still(told.outcome), with(&was)));
            }
            Some(_) => {}
        }
    }
    let mut closed = Vec::new();
    let open = before.verdicts.iter().filter(|(_, was)| was.is_open());
    for (key, _) in open {
        match now.verdicts.get(key) {
            Some(told) if told.is_open() => {}
            Some(told) => closed.push(("mended", join([&key.0, &told.figures, ""], "; "))),
            None => closed.push(("no longer asked", key.0.clone())),
        }
    }
    newly.sort_by_key(|(what, _)| !what.ends_with("broken"));
    newly.into_iter().chain(still).chain(closed).collect()
}

fn open_still(outcome: &str) -> &'static str {
    if outcome == "broken" {
        "still broken"
    } else {
        "still untold"
    }
}

fn join(parts: [&str; 3], between: &str) -> String {
    let parts: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    parts.join(between)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A check with these verdicts: about what, how it ended, figures.
    fn seen(verdicts: &[(&str, &'static str, &str)]) -> Seen {
        let mut seen = Seen::default();
        for (about, outcome, figures) in verdicts {
            let told = Told {
                outcome,
                figures: (*figures).to_owned(),
                cure: "do so; a.yaml:1:2".to_owned(),
            };
            seen.put((*about).to_owned(), told);
        }
        seen
    }

    #[test]
    fn what_opens_closes_and_stays_open_is_told_and_nothing_else() {
        let before = seen(&[
            ("drop, run a", "holds", "9 %"),
            ("drop, run b", "broken", "12 %"),
            ("drop, run c", "broken", "13 %"),
            ("drop, run d", "broken", "14 %"),
            ("drop, run e", "cannot tell", ""),
            ("drop, run f", "broken", "15 %"),
            ("drop, run g", "holds", "1 %"),
            ("drop, run h", "not here", ""),
        ]);
        let now = seen(&[
            ("drop, run a", "broken", "11 %"),
            ("drop, run b", "holds", "8 %"),
            ("drop, run c", "broken", "13 %"),
            ("drop, run d", "broken", "12 %"),
            ("drop, run e", "broken", "16 %"),
            ("drop, run g", "holds", "2 %"),
            ("drop, run h", "cannot tell", ""),
        ]);
        let told = changes(&before, &now);
        let told: Vec<String> = told
            .iter()
            .map(|(what, of)| format!("{what}: {of}"))
            .collect();
        let cure = "do so; a.yaml:1:2";
        assert_eq!(
            told,
            [
                format!("newly broken: drop, run a; 11 %; {cure}"),
                format!("now broken: drop, run e; 16 %; {cure}"),
                format!("newly untold: drop, run h; {cure}"),
                format!("still broken: drop, run d; 12 %, was 14 %; {cure}"),
                "mended: drop, run b; 8 %".to_owned(),
                "no longer asked: drop, run f".to_owned(),
            ]
        );
        assert!(changes(&now, &now).is_empty());
    }

    #[test]
    fn two_verdicts_of_one_rule_on_one_subject_are_kept_apart() {
        let before = seen(&[("a", "broken", "1"), ("a", "broken", "2")]);
        let now = seen(&[("a", "broken", "1"), ("a", "holds", "2")]);
        assert_eq!(changes(&before, &now), [("mended", "a; 2".to_owned())]);
    }
}

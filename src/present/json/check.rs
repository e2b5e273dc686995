//! What `feedpoint check --format json` prints: verdicts, their counts, cautions.

use super::{FORMAT, Number, Project, number};
use crate::diagnostic;
use crate::judge::{
    self,
    verdict::{self, Outcome},
};
use crate::present::cautions;
use crate::present::document::bound_words;
use crate::present::job::Job;
use schemars::JsonSchema;
use serde::Serialize;

/// Verdicts, their counts, cautions.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Check {
    /// Number of this format.
    pub format: u32,
    /// The project.
    pub project: Project,
    /// How many ended how.
    pub counts: Counts,
    /// Every verdict, by rule and then by subject.
    pub verdicts: Vec<Verdict>,
    /// What someone who wires from this must heed.
    pub cautions: Vec<String>,
}

impl Check {
    /// The checks of a job.
    #[must_use]
    pub fn of(job: &Job) -> Check {
        Check {
            format: FORMAT,
            project: Project::of(job),
            counts: Counts::of(judge::Counts::of(&job.verdicts)),
            verdicts: job.verdicts.iter().map(Verdict::of).collect(),
            cautions: cautions::all(job),
        }
    }
}

/// How many verdicts ended how.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Counts {
    /// Kept.
    pub holds: usize,
    /// Broken, of any severity.
    pub broken: usize,
    /// Broken faults.
    pub broken_faults: usize,
    /// Broken cautions.
    pub broken_cautions: usize,
    /// Broken notes.
    pub broken_notes: usize,
    /// A figure is missing.
    pub cannot_tell: usize,
    /// The rule has nothing to say.
    pub not_here: usize,
}

impl Counts {
    fn of(counts: judge::Counts) -> Counts {
        Counts {
            holds: counts.holds,
            broken: counts.broken(),
            broken_faults: counts.broken_faults,
            broken_cautions: counts.broken_cautions,
            broken_notes: counts.broken_notes,
            cannot_tell: counts.cannot_tell,
            not_here: counts.not_here,
        }
    }
}

/// A verdict of one rule on one subject.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Verdict {
    /// The rule's id.
    pub rule: String,
    /// What it is about, as in `run hall-cove`.
    pub subject: String,
    /// Everything that it is about: several where one missing figure is told once for all of them.
    pub subjects: Vec<String>,
    /// `holds`, `broken`, `cannot tell` or `not here`.
    pub verdict: String,
    /// `fault`, `caution` or `note`.
    pub severity: String,
    /// What was found, in `unit`.
    pub found: Number,
    /// `at most` or `at least`.
    pub bound: Option<String>,
    /// The limit, in `unit`.
    pub limit: Number,
    /// Unit of found and limit; empty for a count.
    pub unit: Option<String>,
    /// The formula with this subject's figures in it, and what they come to.
    pub working: Option<String>,
    /// What is left to the limit, of it; negative when broken.
    pub spare_percent: Number,
    /// Where the limit comes from.
    pub source: String,
    /// What to do.
    pub remedy: Option<String>,
    /// The missing figure, for `cannot tell`.
    pub missing: Option<String>,
    /// Why the rule has nothing to say, for `not here`.
    pub why: Option<String>,
    /// Where the thing to change stands.
    pub place: Option<Place>,
}

/// A place in a file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Place {
    /// File, as it was named.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

impl Verdict {
    fn of(verdict: &verdict::Verdict) -> Verdict {
        let (missing, why) = match &verdict.outcome {
            Outcome::CannotTell { missing } => (Some(missing.clone()), None),
            Outcome::NotHere { why } => (None, Some(why.clone())),
            Outcome::Holds | Outcome::Broken => (None, None),
        };
        let limit = verdict.limit.map(|(_, figure)| figure);
        let unit = verdict.found.or(limit).map(|figure| figure.unit);
        Verdict {
            rule: verdict.rule.to_string(),
            subject: verdict.subject.clone(),
            subjects: verdict.subjects().map(str::to_owned).collect(),
            verdict: verdict.outcome.name().to_owned(),
            severity: verdict.severity.name().to_owned(),
            found: verdict.found.and_then(|figure| number(figure.value)),
            bound: verdict
                .limit
                .map(|(bound, _)| bound_words(bound).to_owned()),
            limit: limit.and_then(|figure| number(figure.value)),
            unit: unit.map(|unit| unit.sign().to_owned()),
            working: verdict.working.clone(),
            spare_percent: verdict.spare_percent.and_then(number),
            source: verdict.source.to_string(),
            remedy: verdict.remedy.clone(),
            missing,
            why,
            place: verdict.place.as_ref().map(Place::of),
        }
    }
}

impl Place {
    pub(super) fn of(place: &diagnostic::Place) -> Place {
        Place {
            file: place.file.to_string(),
            line: place.line,
            column: place.column,
        }
    }
}

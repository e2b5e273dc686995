//! What the rules say of one subject, in short.

use super::Cell;
use crate::judge::verdict::Outcome;
use crate::model::project::Severity;
use crate::present::job::Job;

/// The worst word that any rule has for a subject such as `run hall-cove` or `driver D-04`; notes
/// do not count. Nothing when no rule speaks of it.
pub(super) fn of_subject(job: &Job, subject: &str) -> Cell {
    job.verdicts_on(subject)
        .filter(|verdict| verdict.severity != Severity::Note)
        .map(|verdict| &verdict.outcome)
        .filter(|outcome| !matches!(outcome, Outcome::NotHere { .. }))
        .min_by_key(|outcome| outcome.rank())
        .map_or(Cell::Empty, |outcome| Cell::Verdict(outcome.name()))
}

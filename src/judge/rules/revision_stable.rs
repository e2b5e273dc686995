//! What was issued has not moved without being listed as a change.

use crate::allocate::issued::{Change, How, Kind};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::issued::Record;
use crate::model::project::Severity;

/// What was issued has not moved without being listed as a change.
pub static RULE: Rule = Rule {
    id: "revision-stable",
    subject: Subject::Price,
    statement: "an issued driver, address or circuit moves only in a new revision, which lists it as a change",
    formula: "each driver, bus member and circuit place against the newest issued record",
    sources: &everywhere("common practice, no source"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "give the project a new revision and issue it: the changes are then listed; or put back what moved it",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let issued = &evidence.project.issued;
    let (Some(record), Some(changes)) = (&issued.record, &evidence.allocation.changes) else {
        return Vec::new();
    };
    let of_site = |change: &&Change| {
        let physical = matches!(change.kind, Kind::Driver | Kind::Address | Kind::OnCircuit);
        physical && change.how == How::Moved
    };
    let moved: Vec<Finding> = changes
        .list
        .iter()
        .filter(of_site)
        .map(|change| of_change(evidence, record, change))
        .collect();
    if moved.is_empty() {
        return vec![Finding::plain(record.called(), true)];
    }
    moved
}

fn of_change(evidence: &Evidence<'_>, record: &Record, change: &Change) -> Finding {
    let subject = format!("{} {}", change.kind.name(), change.subject);
    match &evidence.project.heading.revision {
        None => Finding::cannot_tell(
            subject,
            "`revision` in `project` (whoever issues it)".to_owned(),
        ),
        Some(revision) => Finding::plain(subject, *revision != record.revision).remedy(|| {
            format!(
                "it was {} and is {} ({}): give the project a new revision after {revision} and \
                 issue it",
                change.was, change.now, change.reason
            )
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::allocate::issued::{Changes, between, snapshot};
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    /// The sample issued as revision A, and its first address moved since.
    fn moved() -> Sample {
        let mut job = Sample::new();
        job.project.heading.revision = Some("A".to_owned());
        let (loops, circuits) = (&job.allocation.loops, &job.allocation.circuits);
        let was = snapshot(&job.project, &job.sizing, loops, circuits);
        job.allocation.loops[0].members[0].addresses = vec![40];
        let (loops, circuits) = (&job.allocation.loops, &job.allocation.circuits);
        let now = snapshot(&job.project, &job.sizing, loops, circuits);
        job.allocation.changes = Some(between(&was, &now, &[]));
        job.project.issued.record = Some(Arc::new(was));
        job
    }

    #[test]
    fn breaks_when_an_address_moves_within_a_revision() {
        assert_eq!(moved().worst(&RULE), "broken");
    }

    #[test]
    fn holds_when_nothing_moved_and_in_a_new_revision() {
        let mut job = moved();
        job.project.heading.revision = Some("B".to_owned());
        assert_eq!(job.worst(&RULE), "holds");
        job.allocation.changes = Some(Changes::default());
        job.project.heading.revision = Some("A".to_owned());
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_a_revision() {
        let mut job = moved();
        job.project.heading.revision = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }

    #[test]
    fn nothing_is_said_of_a_job_that_was_not_issued() {
        assert_eq!(Sample::new().worst(&RULE), "nothing to judge");
    }
}

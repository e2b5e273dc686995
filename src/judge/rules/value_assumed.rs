//! Nothing is taken for granted without being listed.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::assumption::Assumption;
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use std::collections::BTreeSet;

/// Nothing is taken for granted without being listed.
pub static RULE: Rule = Rule {
    id: "value-assumed",
    subject: Subject::Price,
    statement: "each figure that was assumed is listed with the quote, with what it stands in for and who can supply it",
    formula: "assumptions of reading and sizing that the quote’s list lacks, or that name no figure or nobody to ask",
    sources: &everywhere("common practice, no source"),
    severity: Severity::Note,
    severities: &[],
    remedy: "replace what is assumed with the figure",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let listed: BTreeSet<&Assumption> = evidence.quote.assumptions.iter().collect();
    let complete = |one: &Assumption| {
        [&one.subject, &one.statement, &one.missing, &one.supplied_by]
            .iter()
            .all(|text| !text.is_empty())
    };
    let made: BTreeSet<&Assumption> = evidence
        .project
        .assumptions
        .iter()
        .chain(&evidence.sizing.assumptions)
        .collect();
    let unlisted = made
        .iter()
        .filter(|one| !listed.contains(*one))
        .chain(listed.iter().filter(|one| !complete(one)));
    let unlisted: Vec<&str> = unlisted.map(|one| one.statement.as_str()).collect();
    let mut finding = Finding::plain("assumptions".to_owned(), unlisted.is_empty());
    finding.found = Some(Figure::new(real(unlisted.len()), Unit::Count));
    finding.limit = Some((Bound::AtMost, Figure::new(0.0, Unit::Count)));
    vec![finding.remedy(|| format!("list with the quote: {}", unlisted.join("; ")))]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_when_one_is_not_listed() {
        let mut job = Sample::with("region: iec\n", "");
        job.quote.assumptions.clear();
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn breaks_when_one_names_nobody_to_ask() {
        let mut job = Sample::with("region: iec\n", "");
        job.quote.assumptions[0].supplied_by.clear();
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_when_all_are_listed() {
        let job = Sample::with("region: iec\n", "");
        assert!(!job.project.assumptions.is_empty());
        assert_eq!(job.worst(&RULE), "holds");
    }
}

//! No figure is missing that a fault-level rule needs.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::judge::verdict::Outcome;
use crate::judge::{RULES, apply};
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use std::collections::BTreeSet;

/// No figure is missing that a fault-level rule needs.
pub static RULE: Rule = Rule {
    id: "value-missing",
    subject: Subject::Price,
    statement: "every figure is there that a rule needs whose breach is a fault",
    formula: "figures, each counted once, without which such a rule can’t tell",
    sources: &everywhere("common practice, no source: cannot tell is not holds"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "supply the figures named",
    caution: Some(
        "a check that can’t be told has not been passed: get the figures before you order",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let region = evidence.project.region;
    let others = RULES.iter().filter(|rule| rule.id != RULE.id);
    let faults = others.filter(|rule| rule.severity_in(region) == Severity::Fault);
    let mut rules = BTreeSet::new();
    let mut figures = BTreeSet::new();
    for verdict in faults.flat_map(|rule| apply(rule, evidence)) {
        if let Outcome::CannotTell { missing } = verdict.outcome {
            rules.insert(verdict.rule);
            figures.insert(missing);
        }
    }
    let subject = "figures".to_owned();
    let mut finding = if figures.is_empty() {
        Finding::plain(subject, true)
    } else {
        let rules: Vec<&str> = rules.iter().map(AsRef::as_ref).collect();
        let missing = format!("what is named under {}", rules.join(", "));
        Finding::cannot_tell(subject, missing)
    };
    finding.found = Some(Figure::new(real(figures.len()), Unit::Count));
    finding.limit = Some((Bound::AtMost, Figure::new(0.0, Unit::Count)));
    vec![finding]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    #[test]
    fn holds_when_every_figure_is_there() {
        assert_eq!(Sample::complete().worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_a_figure() {
        let mut job = Sample::complete();
        for driver in &mut job.sizing.drivers {
            Arc::make_mut(&mut driver.item).largest_terminal = None;
        }
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

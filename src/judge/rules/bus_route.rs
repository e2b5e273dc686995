//! Every member of a loop can be reached by cable.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;

/// Every member of a loop can be reached by cable.
pub static RULE: Rule = Rule {
    id: "bus-route",
    subject: Subject::Loop,
    statement: "a route leads from the loop’s supply to every member of the loop",
    formula: "members that no chain of `routes` joins to the point where the supply stands",
    sources: &everywhere("common practice, no source: what no route reaches is not wired"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "add the missing routes",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .allocation
        .loops
        .iter()
        .map(|bus| of_loop(evidence, bus))
        .collect()
}

fn of_loop(evidence: &Evidence<'_>, bus: &Loop) -> Finding {
    let mut finding = Finding::plain(format!("loop {}", bus.name), bus.unreached.is_empty());
    finding.found = Some(Figure::new(real(bus.unreached.len()), Unit::Count));
    finding.limit = Some((Bound::AtMost, Figure::new(0.0, Unit::Count)));
    finding.at(&evidence.project.loops.place).remedy(|| {
        format!(
            "add `routes` from `{}` to: {}",
            bus.at.name,
            bus.unreached.join(", ")
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0]
            .unreached
            .push("sensor-9".to_owned());
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_as_it_is() {
        let job = Sample::new();
        assert_eq!(job.worst(&RULE), "holds");
    }
}

//! A loop uses no more groups than there are.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::loops;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::iec_62386;

/// A loop uses no more groups than there are.
pub static RULE: Rule = Rule {
    id: "bus-groups-used",
    subject: Subject::Loop,
    statement: "the gear of a loop belongs to at most 16 groups",
    formula: "groups of the project with members on the loop",
    sources: &everywhere("IEC 62386-102"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "merge groups; more loops",
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
    loops::counted(
        format!("loop {}", bus.name),
        bus.groups.len(),
        iec_62386::GROUPS,
    )
    .at(&evidence.project.loops.place)
    .remedy(|| "merge groups, or more loops".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::allocate::allocated::LoopGroup;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        let group = LoopGroup {
            number: 0,
            group: "g".into(),
            title: "G".into(),
        };
        job.allocation.loops[0].groups = vec![group; 17];
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        let group = LoopGroup {
            number: 0,
            group: "g".into(),
            title: "G".into(),
        };
        job.allocation.loops[0].groups = vec![group; 16];
        assert_eq!(job.worst(&RULE), "holds");
    }
}

//! A loop has no more gear than addresses.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::loops;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::iec_62386;

/// A loop has no more gear than addresses.
pub static RULE: Rule = Rule {
    id: "bus-gear-count",
    subject: Subject::Loop,
    statement: "a loop holds at most 64 short addresses of control gear",
    formula: "sum of the addresses of its drivers: one for colour gear, two for a pair of single ones",
    sources: &everywhere("IEC 62386-102"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "another loop; fewer drivers",
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
    loops::counted(format!("loop {}", bus.name), bus.gear, iec_62386::GEAR)
        .at(&evidence.project.loops.place)
        .remedy(|| "another loop: raise `loops.count` or leave it out".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].gear = 65;
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].gear = 64;
        assert_eq!(job.worst(&RULE), "holds");
    }
}

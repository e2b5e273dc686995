//! A loop has no more control devices than addresses.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::loops;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::iec_62386;

/// A loop has no more control devices than addresses.
pub static RULE: Rule = Rule {
    id: "bus-device-count",
    subject: Subject::Loop,
    statement: "a loop holds at most 64 short addresses of control devices, counted apart from gear",
    formula: "sum of the addresses of its sensors, panels and other control devices",
    sources: &everywhere("IEC 62386-103"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "another loop; fewer devices",
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
        bus.control_devices,
        iec_62386::CONTROL_DEVICES,
    )
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
        job.allocation.loops[0].control_devices = 65;
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].control_devices = 64;
        assert_eq!(job.worst(&RULE), "holds");
    }
}

//! A loop uses no more scenes than there are.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::loops;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::iec_62386;

/// A loop uses no more scenes than there are.
pub static RULE: Rule = Rule {
    id: "bus-scenes-used",
    subject: Subject::Loop,
    statement: "a loop stores at most 16 scenes",
    formula: "scenes of the project that set a group on the loop",
    sources: &everywhere("IEC 62386-102"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "fewer scenes; more loops",
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
        bus.scenes.len(),
        iec_62386::SCENES,
    )
    .at(&evidence.project.loops.place)
    .remedy(|| "fewer scenes, or more loops".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].scenes = vec!["open".to_owned(); 17];
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].scenes = vec!["open".to_owned(); 16];
        assert_eq!(job.worst(&RULE), "holds");
    }
}

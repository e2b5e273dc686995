//! Every loop has a supply.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use uom::si::electric_current::milliampere;

/// Every loop has a supply.
pub static RULE: Rule = Rule {
    id: "bus-supply-present",
    subject: Subject::Loop,
    statement: "every loop has a bus supply, built in or separate",
    formula: "guaranteed current greater than nothing",
    sources: &everywhere("IEC 62386-101"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "add a bus supply to the catalogue, or a controller with one built in",
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
    let present = bus.supply_guaranteed.get::<milliampere>() > 0.0;
    Finding::plain(format!("loop {}", bus.name), present)
        .at(&evidence.project.loops.place)
        .remedy(|| "add a bus supply to a catalogue, or name one as `loops.supply`".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Current;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].supply_guaranteed = Current::new::<milliampere>(0.0);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_as_it_is() {
        let job = Sample::new();
        assert_eq!(job.worst(&RULE), "holds");
    }
}

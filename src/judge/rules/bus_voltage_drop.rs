//! A loop loses no more voltage than its signals stand.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::loops;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::iec_62386;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_potential::volt;

/// A loop loses no more voltage than its signals stand.
pub static RULE: Rule = Rule {
    id: "bus-voltage-drop",
    subject: Subject::Loop,
    statement: "between the supply and any member of a loop at most 2 V is lost",
    formula: "all members drawing their current in their places, both wires, at conductor temperature",
    sources: &everywhere("IEC 62386-101"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "heavier bus cable; the supply nearer the middle of the loop; another loop",
    caution: Some(
        "the drop is worked out for the loads of this job: a loop that is to grow is checked again with all of its supply’s current",
    ),
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
    let subject = format!("loop {}", bus.name);
    let place = &evidence.project.loops.place;
    if let Some(missing) = loops::unmeasured(bus, evidence.project.loops.temperature) {
        return Finding::cannot_tell(subject, missing).at(place);
    }
    let limit = Limit {
        value: iec_62386::most_drop().get::<volt>(),
        bound: Bound::AtMost,
        source: Source::Published("IEC 62386-101"),
    };
    let found = Figure::new(bus.drop.get::<volt>(), Unit::Volt);
    Finding::measured(subject, found, &limit)
        .at(place)
        .remedy(|| "heavier bus cable, or the controller nearer (`loops.at`)".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Voltage;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].drop = Voltage::new::<volt>(2.1);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].drop = Voltage::new::<volt>(2.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.allocation.loops[0].cable = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }

    #[test]
    fn cannot_tell_when_no_table_has_the_cable() {
        use crate::model::cable::Conductor;
        use std::sync::Arc;
        let mut job = Sample::new();
        let cable = job.allocation.loops[0].cable.as_mut().expect("a cable");
        Arc::make_mut(cable).conductor = Conductor::AwgSolid;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

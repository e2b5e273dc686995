//! A loop draws no more than its supply always delivers.

use crate::allocate::allocated::{Loop, MemberKind};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::judge::verdict::Outcome;
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_current::milliampere;

/// A loop draws no more than its supply always delivers.
pub static RULE: Rule = Rule {
    id: "bus-current",
    subject: Subject::Loop,
    statement: "the bus currents of a loop’s members add up to no more than its supplies guarantee",
    formula: "sum of the members’ currents (2 mA for gear whose datasheet is silent) against guaranteed current",
    sources: &everywhere("datasheet of the bus supply"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a larger supply; another loop",
    caution: Some(
        "size a loop by the guaranteed current of its supply: the maximum is for the fault check",
    ),
    check,
};

/// A loop without a supply is another rule's to tell.
fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let supplied = |bus: &&Loop| bus.supply_guaranteed.get::<milliampere>() > 0.0;
    let loops = evidence.allocation.loops.iter().filter(supplied);
    loops.map(|bus| of_loop(evidence, bus)).collect()
}

/// Members whose current had to be assumed make the verdict one that can't be told, unless even
/// without them the supply is too small.
fn of_loop(evidence: &Evidence<'_>, bus: &Loop) -> Finding {
    let subject = format!("loop {}", bus.name);
    let limit = Limit {
        value: bus.supply_guaranteed.get::<milliampere>(),
        bound: Bound::AtMost,
        source: Source::Datasheet,
    };
    let devices = bus
        .members
        .iter()
        .filter(|m| m.kind == MemberKind::ControlDevice);
    let silent = devices
        .filter(|m| m.current_assumed)
        .map(|m| m.item.as_str())
        .next();
    let found = Figure::new(bus.current.get::<milliampere>(), Unit::Milliampere);
    let mut finding = Finding::measured(subject, found, &limit);
    if let (Some(item), Outcome::Holds) = (silent, &finding.outcome) {
        let missing = format!("`current` in control device `{item}` (the datasheet)");
        finding.outcome = Outcome::CannotTell { missing };
    }
    finding
        .at(&evidence.project.loops.place)
        .remedy(|| "a larger bus supply, or another loop".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].current = job.allocation.loops[0].supply_guaranteed * 1.01;
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].current = job.allocation.loops[0].supply_guaranteed;
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        for member in &mut job.allocation.loops[0].members {
            member.current_assumed = true;
        }
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

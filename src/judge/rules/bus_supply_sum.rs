//! The supplies of a loop together stay within what the bus may carry.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::iec_62386;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_current::milliampere;

/// The supplies of a loop together stay within what the bus may carry.
pub static RULE: Rule = Rule {
    id: "bus-supply-sum",
    subject: Subject::Loop,
    statement: "the maximum currents of all supplies on a loop add up to at most 250 mA",
    formula: "sum of maximum (not guaranteed) supply currents, built-in ones too",
    sources: &everywhere("IEC 62386-101"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "remove a supply; a smaller supply",
    caution: Some(
        "drivers with a built-in bus supply count too: switch it off where it is not wanted",
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
    let limit = Limit {
        value: iec_62386::most_supply().get::<milliampere>(),
        bound: Bound::AtMost,
        source: Source::Published("IEC 62386-101"),
    };
    let found = Figure::new(bus.supply_maximum.get::<milliampere>(), Unit::Milliampere);
    Finding::measured(format!("loop {}", bus.name), found, &limit)
        .at(&evidence.project.loops.place)
        .remedy(|| "one supply of at most 250 mA, or a smaller one".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Current;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].supply_maximum = Current::new::<milliampere>(260.0);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].supply_maximum = Current::new::<milliampere>(250.0);
        assert_eq!(job.worst(&RULE), "holds");
    }
}

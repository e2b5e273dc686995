//! A breaker protects its cable.

use crate::allocate::allocated::Circuit;
use crate::judge::circuits;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::norms::region::Region;
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_current::ampere;

/// A breaker protects its cable.
pub static RULE: Rule = Rule {
    id: "breaker-cable",
    subject: Subject::Circuit,
    statement: "a breaker’s rated current is at most what its cable may carry",
    formula: "In against the cable’s capacity with all factors; small conductors to their cap in north-america",
    sources: &[
        (Region::Iec, "IEC 60364-4-43: In at most Iz"),
        (
            Region::NorthAmerica,
            "NEC 240.4(D): 14/12/10 AWG to 15/20/30 A",
        ),
        (
            Region::AusNz,
            "AS/NZS 3000 clause 2.5 (from memory): In at most Iz",
        ),
    ],
    severity: Severity::Fault,
    severities: &[],
    remedy: "larger cable; a smaller breaker",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .allocation
        .circuits
        .iter()
        .map(|circuit| of_circuit(evidence, circuit))
        .collect()
}

fn of_circuit(evidence: &Evidence<'_>, circuit: &Circuit) -> Finding {
    let subject = format!("circuit {}", circuit.name);
    let place = &evidence.project.circuits.place;
    let Some(carries) = circuit.ampacity else {
        return Finding::cannot_tell(subject, circuits::unmeasured(circuit)).at(place);
    };
    let limit = Limit {
        value: carries.get::<ampere>(),
        bound: Bound::AtMost,
        source: Source::Published("IEC 60364-4-43; NEC 240.4(D) in north-america"),
    };
    let found = Figure::new(f64::from(circuit.breaker.amperes), Unit::Ampere);
    Finding::measured(subject, found, &limit)
        .at(place)
        .remedy(|| "larger mains cable (`circuits.cable`), or a smaller breaker".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Current;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.circuits[0].ampacity = Some(Current::new::<ampere>(15.9));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.circuits[0].ampacity = Some(Current::new::<ampere>(16.0));
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.allocation.circuits[0].ampacity = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

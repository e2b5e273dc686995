//! A circuit’s load is within its breaker.

use crate::allocate::allocated::Circuit;
use crate::judge::circuits;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::norms::nec_ampacity;
use crate::norms::region::Region;
use crate::quantity::Ratio;
use uom::si::ratio::ratio;

/// A circuit’s load is within its breaker.
pub static RULE: Rule = Rule {
    id: "circuit-load",
    subject: Subject::Circuit,
    statement: "the input currents of what is on a circuit add up to no more than its breaker may carry",
    formula: "sum of datasheet input currents / rated current; 125 % of a continuous load is at most the rating in north-america",
    sources: &[
        (
            Region::Iec,
            "IEC 60364-4-43: design current at most the rated current",
        ),
        (
            Region::NorthAmerica,
            "NEC 210.20(A): 80 % of the rating for continuous load",
        ),
        (
            Region::AusNz,
            "AS/NZS 3000 clause 2.5 (from memory): design current at most the rated current",
        ),
    ],
    severity: Severity::Fault,
    severities: &[],
    remedy: "split the circuit; a larger breaker and cable",
    caution: Some(
        "load over voltage is not enough: input current includes efficiency and power factor",
    ),
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
    let most = most_load(evidence.project.region);
    circuits::load(circuit, &most)
        .at(&evidence.project.circuits.place)
        .remedy(|| {
            "fewer drivers on it: leave the circuits to be allocated, or a larger breaker"
                .to_owned()
        })
}

/// The share of a breaker's rating that a continuous load may take.
fn most_load(region: Region) -> Limit<Ratio> {
    let (share, source) = match region {
        Region::NorthAmerica => (
            1.0 / nec_ampacity::CONTINUOUS,
            "NEC 210.20(A), continuous load",
        ),
        Region::Iec => (1.0, "IEC 60364-4-43"),
        Region::AusNz => (1.0, "AS/NZS 3000 clause 2.5 (from memory)"),
    };
    let value = Ratio::new::<ratio>(share);
    Limit {
        value,
        bound: Bound::AtMost,
        source: Source::Published(source),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Current;
    use uom::si::electric_current::ampere;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.circuits[0].current = Current::new::<ampere>(16.01);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.circuits[0].current = Current::new::<ampere>(16.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.allocation.circuits[0]
            .unknown_current
            .push("D-01".to_owned());
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

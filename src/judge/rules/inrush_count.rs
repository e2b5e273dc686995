//! A breaker stands the drivers that start on it together.

use crate::allocate::allocated::Circuit;
use crate::judge::circuits;
use crate::quantity::Ratio;
use uom::si::ratio::ratio;

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::norms::region::Region;

/// A breaker stands the drivers that start on it together.
pub static RULE: Rule = Rule {
    id: "inrush-count",
    subject: Subject::Circuit,
    statement: "the drivers on a circuit start together without tripping its breaker",
    formula: "sum over drivers of 1 / (most of that driver on this breaker), from its count on B16 × the relative table (C16 = 100 %: B10 37, B16 60, B20 75, C10 62, C20 125 %)",
    sources: &[
        (
            Region::Iec,
            "driver datasheet; published driver installation data (common table)",
        ),
        (
            Region::NorthAmerica,
            "driver datasheet for the breaker used",
        ),
        (
            Region::AusNz,
            "driver datasheet; published driver installation data (common table)",
        ),
    ],
    severity: Severity::Fault,
    severities: &[(Region::NorthAmerica, Severity::Caution)],
    remedy: "a C curve; an inrush limiter; split the circuit",
    caution: Some(
        "nuisance trips come when a building is energised again, not at the first switch-on",
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
    let limit = Limit {
        value: Ratio::new::<ratio>(1.0),
        bound: Bound::AtMost,
        source: Source::Datasheet,
    };
    let finding = Finding::share(
        format!("circuit {}", circuit.name),
        circuit.inrush_share,
        &limit,
    );
    let key = match evidence.project.region {
        Region::NorthAmerica => "most_on",
        Region::Iec | Region::AusNz => "most_per_b16",
    };
    circuits::unless_unknown(finding, &circuit.unknown_inrush, key)
        .at(&evidence.project.circuits.place)
        .remedy(|| "a C curve breaker (`circuits.breaker`), or fewer drivers on it".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.circuits[0].inrush_share = Ratio::new::<ratio>(1.001);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.circuits[0].inrush_share = Ratio::new::<ratio>(1.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.allocation.circuits[0]
            .unknown_inrush
            .push("D-01".to_owned());
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

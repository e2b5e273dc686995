//! Circuits keep the chosen reserve.

use crate::allocate::allocated::Circuit;
use crate::judge::circuits;
use crate::quantity::Ratio;
use uom::si::ratio::ratio;

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};

/// Circuits keep the chosen reserve.
pub static RULE: Rule = Rule {
    id: "breaker-spare",
    subject: Subject::Circuit,
    statement: "a circuit’s load keeps the chosen share of its breaker’s rating free",
    formula: "sum of datasheet input currents / rated current",
    sources: &everywhere("common practice, no source: 20 %"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "split the circuit",
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
    let most = Limit {
        value: Ratio::new::<ratio>(1.0) - evidence.project.circuits.spare,
        bound: Bound::AtMost,
        source: Source::CommonPractice("20 % kept free, or as `circuits.spare` says"),
    };
    circuits::load(circuit, &most)
        .at(&evidence.project.circuits.place)
        .remedy(|| "split the circuit, or less `circuits.spare`".to_owned())
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
        job.allocation.circuits[0].current = Current::new::<ampere>(12.81);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.circuits[0].current = Current::new::<ampere>(12.8);
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

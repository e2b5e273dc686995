//! Standing earth leakage leaves a residual current device its margin.

use crate::allocate::allocated::Circuit;
use crate::judge::circuits;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::norms::region::Region;
use crate::norms::residual;
use crate::quantity::Current;
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_current::milliampere;

/// Standing earth leakage leaves a residual current device its margin.
pub static RULE: Rule = Rule {
    id: "leakage-share",
    subject: Subject::Circuit,
    statement: "the protective conductor currents on a circuit add up to at most 30 % of its residual device’s rating",
    formula: "sum of datasheet leakage currents against 0.3 × IΔn",
    sources: &[
        (
            Region::Iec,
            "BS 7671 531.3.2 (IEC 60364-5-53): 9 mA on 30 mA",
        ),
        (
            Region::AusNz,
            "BS 7671 531.3.2 (IEC 60364-5-53), used as a design value",
        ),
    ],
    severity: Severity::Fault,
    severities: &[],
    remedy: "fewer drivers per residual device; one for each circuit",
    caution: Some("a residual current device may trip from half of its rating"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let Some(rating) = evidence.project.circuits.residual else {
        return Vec::new();
    };
    let most = residual::most_leakage(rating);
    evidence
        .allocation
        .circuits
        .iter()
        .map(|circuit| of_circuit(evidence, circuit, most))
        .collect()
}

fn of_circuit(evidence: &Evidence<'_>, circuit: &Circuit, most: Current) -> Finding {
    let limit = Limit {
        value: most.get::<milliampere>(),
        bound: Bound::AtMost,
        source: Source::Published("BS 7671 531.3.2 (IEC 60364-5-53)"),
    };
    let found = Figure::new(circuit.leakage.get::<milliampere>(), Unit::Milliampere);
    let finding = Finding::measured(format!("circuit {}", circuit.name), found, &limit);
    circuits::unless_unknown(finding, &circuit.unknown_leakage, "earth_leakage")
        .at(&evidence.project.circuits.place)
        .remedy(|| "fewer drivers on it: leave the circuits to be allocated".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.circuits[0].leakage = Current::new::<milliampere>(9.01);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.circuits[0].leakage = Current::new::<milliampere>(9.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.allocation.circuits[0]
            .unknown_leakage
            .push("D-01".to_owned());
        assert_eq!(job.worst(&RULE), "cannot tell");
    }

    #[test]
    fn without_a_residual_device_there_is_nothing_to_judge() {
        let job = Sample::with("pricing:", "circuits: {residual: none}\npricing:");
        assert_eq!(job.worst(&RULE), "nothing to judge");
    }
}

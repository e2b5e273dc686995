//! Mains cable loses no more volts than allowed.

use crate::allocate::allocated::Circuit;
use crate::judge::circuits;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::norms::region::Region;

/// Mains cable loses no more volts than allowed.
pub static RULE: Rule = Rule {
    id: "circuit-drop",
    subject: Subject::Circuit,
    statement: "from the origin to a cupboard no more of the mains voltage is lost than allowed for lighting",
    formula: "2 · L · I · R · cos φ at conductor temperature, in % of nominal, plus `supply.upstream_drop`",
    sources: &[
        (
            Region::Iec,
            "3 % for lighting from a public supply, IEC 60364-5-52 Table G.52.1 (informative)",
        ),
        (
            Region::NorthAmerica,
            "3 % recommended, NEC 210.19(A) Informational Note",
        ),
        (Region::AusNz, "5 %, AS/NZS 3000 clause 3.6.2"),
    ],
    severity: Severity::Fault,
    severities: &[(Region::NorthAmerica, Severity::Note)],
    remedy: "larger mains cable; split the circuit",
    caution: Some(
        "the limit counts from the origin of the installation, not from the panel: set `supply.upstream_drop`",
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
    let subject = format!("circuit {}", circuit.name);
    let place = &evidence.project.circuits.place;
    let Some(drop) = circuit.drop else {
        return Finding::cannot_tell(subject, circuits::unmeasured(circuit)).at(place);
    };
    let total = drop + evidence.project.supply.upstream_drop;
    let finding = Finding::share(subject, total, &evidence.project.limits.circuit_drop);
    circuits::unless_unknown(finding, &circuit.unknown_current, "current")
        .at(place)
        .remedy(|| "larger mains cable, or split the circuit".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Ratio;
    use uom::si::ratio::percent;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.circuits[0].drop = Some(Ratio::new::<percent>(3.01));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.circuits[0].drop = Some(Ratio::new::<percent>(3.0));
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.allocation.circuits[0].drop = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

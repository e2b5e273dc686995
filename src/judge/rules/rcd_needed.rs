//! Lighting circuits of dwellings have 30 mA protection.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::model::protection::Premises;
use crate::norms::limit::{Bound, Limit, Source};
use crate::norms::region::Region;
use crate::norms::residual::dwelling_lighting;
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_current::milliampere;

/// Lighting circuits of dwellings have 30 mA protection.
pub static RULE: Rule = Rule {
    id: "rcd-needed",
    subject: Subject::Circuit,
    statement: "the lighting circuits of a dwelling are protected by residual current devices of at most 30 mA",
    formula: "`circuits.residual` against 30 mA where `circuits.premises` is a dwelling",
    sources: &[(Region::Iec, "BS 7671 411.3.4 (dwellings, UK)")],
    severity: Severity::Fault,
    severities: &[],
    remedy: "a breaker with residual current protection of 30 mA on each circuit",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let circuits = &evidence.project.circuits;
    if evidence.allocation.circuits.is_empty() {
        return Vec::new();
    }
    let subject = "lighting circuits".to_owned();
    let most = Limit {
        value: dwelling_lighting().get::<milliampere>(),
        bound: Bound::AtMost,
        source: Source::Published("BS 7671 411.3.4"),
    };
    let rated = circuits.residual.map(|rated| rated.get::<milliampere>());
    let found = rated.map(|rated| Figure::new(rated, Unit::Milliampere));
    let protected = rated.is_some_and(|rated| most.allows(rated));
    let finding = match (found, circuits.protection.premises) {
        (Some(found), _) if protected => Finding::measured(subject, found, &most),
        (_, None) => {
            let missing =
                "`circuits.premises` in the project file: `dwelling` or `other` (the designer)";
            Finding::cannot_tell(subject, missing.to_owned())
        }
        (_, Some(Premises::Other)) => {
            Finding::not_here(subject, "the premises are no dwelling".to_owned())
        }
        (Some(found), Some(Premises::Dwelling)) => Finding::measured(subject, found, &most),
        (None, Some(Premises::Dwelling)) => Finding::plain(subject, false),
    };
    vec![
        finding
            .at(&circuits.place)
            .remedy(|| "set `circuits: {residual: 30 mA}`".to_owned()),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn job(circuits: &str) -> Sample {
        Sample::with("pricing:", &format!("circuits: {{{circuits}}}\npricing:"))
    }

    #[test]
    fn breaks_beyond_its_limit() {
        let none = "residual: none, premises: dwelling";
        assert_eq!(job(none).worst(&RULE), "broken");
        let much = "residual: 100 mA, premises: dwelling";
        assert_eq!(job(much).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let at = "residual: 30 mA, premises: dwelling";
        assert_eq!(job(at).worst(&RULE), "holds");
        assert_eq!(job("residual: 30 mA").worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job("residual: none").worst(&RULE), "cannot tell");
    }

    #[test]
    fn elsewhere_than_in_dwellings_it_asks_for_nothing() {
        let other = "residual: none, premises: other";
        assert_eq!(job(other).worst(&RULE), "not here");
    }
}

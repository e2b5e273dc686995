//! Extra-low-voltage cable keeps apart from mains and bus, or is insulated as they are.

use crate::judge::feeds::{self, Feeds};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::judge::shared_ways::SharedWays;
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::voltage;
use uom::si::electric_potential::volt;

/// Extra-low-voltage cable keeps apart from mains and bus, or is insulated as they are.
pub static RULE: Rule = Rule {
    id: "cable-segregation-selv",
    subject: Subject::Cable,
    statement: "a feed cable that shares a route with mains or bus cable is kept apart from it, or its insulation is rated for the mains voltage",
    formula: "routes from cupboard to room that bus cable or a mains circuit takes too; `separated`, or `rated_voltage` against the supply’s voltage",
    sources: &everywhere(
        "IEC 60364-4-41 clause 414.4; IEC 60364-5-52 clause 528.1; NEC 725.136 (from memory)",
    ),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a separate route or compartment; cable insulated for the mains voltage",
    caution: Some("for keeping cables apart the lighting bus counts as mains"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let ways = SharedWays::of(evidence);
    feeds::by_item(evidence)
        .iter()
        .map(|feeds| of_item(evidence, &ways, feeds))
        .collect()
}

fn of_item(evidence: &Evidence<'_>, ways: &SharedWays, feeds: &Feeds<'_>) -> Finding {
    let item = feeds.item;
    let subject = format!("cable {}", item.offer.id);
    let open = ways.not_separated(feeds.runs.iter().copied());
    if open.is_empty() {
        return Finding::plain(subject, true).at(&item.offer.place);
    }
    let mains = evidence.project.supply.voltage;
    let routes = feeds::named(open.iter().map(|way| way.name.as_str()));
    let told = open.iter().all(|way| way.separated.is_some());
    let rated = item.marking.rated_voltage;
    if rated.is_none() || rated.is_some_and(|rated| rated < mains) && !told {
        let missing = match rated {
            None => format!(
                "`rated_voltage` in cable `{}` (the datasheet), or `separated: yes` on route {routes} or in `wiring` (the installer)",
                item.offer.id
            ),
            Some(_) => format!("`separated` on route {routes} or in `wiring` (the installer)"),
        };
        return Finding::cannot_tell(subject, missing).at(&item.offer.place);
    }
    let rated = rated.unwrap_or(mains);
    let mut finding = Finding::plain(subject, rated >= mains);
    finding.found = Some(Figure::new(rated.get::<volt>(), Unit::Volt));
    finding.limit = Some((Bound::AtLeast, Figure::new(mains.get::<volt>(), Unit::Volt)));
    finding.at(&item.offer.place).remedy(|| {
        format!(
            "cable rated for {} or more, or keep it apart from mains and bus on {routes} and say `separated: yes` there",
            voltage::write(mains)
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Voltage;
    use std::sync::Arc;

    /// The sample, whose bus goes from the cupboard to the foyer as its feeds do.
    fn job(separated: Option<bool>, rated: Option<f64>) -> Sample {
        let mut job = Sample::new();
        job.project.wiring.separated = separated;
        for cable in &mut job.sizing.cables {
            let item = Arc::make_mut(&mut cable.item);
            item.marking.rated_voltage = rated.map(Voltage::new::<volt>);
        }
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(Some(false), Some(229.0)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some(false), Some(230.0)).worst(&RULE), "holds");
        assert_eq!(job(Some(true), None).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_when_neither_is_said() {
        assert_eq!(job(None, None).worst(&RULE), "cannot tell");
        assert_eq!(job(None, Some(50.0)).worst(&RULE), "cannot tell");
        assert_eq!(job(Some(false), None).worst(&RULE), "cannot tell");
    }
}

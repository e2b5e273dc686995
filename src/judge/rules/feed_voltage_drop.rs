//! Cable and strip together lose no more than their share of the volts.

use crate::choose::limits;
use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::remedy;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::norms::region::Region;
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_potential::volt;

/// Cable and strip together lose no more than their share of the volts.
pub static RULE: Rule = Rule {
    id: "feed-voltage-drop",
    subject: Subject::Strip,
    statement: "from the driver to the furthest light no more voltage is lost than allowed",
    formula: "volts at the driver less the least volts across a segment, in % of nominal; the drop inside the strip is included",
    sources: &[
        (
            Region::Iec,
            "5 % for ELV lighting from source to furthest light, IEC 60364-7-715 clause 715.525 (from memory)",
        ),
        (
            Region::NorthAmerica,
            "3 % recommended by the NEC 210.19(A) note for branch circuits; a design value here (common practice, no source)",
        ),
        (
            Region::AusNz,
            "10 % at any point of an ELV installation, AS/NZS 3000 clause 7.5 (from memory)",
        ),
    ],
    severity: Severity::Fault,
    severities: &[(Region::NorthAmerica, Severity::Caution)],
    remedy: "a heavier cable; a nearer driver; more feeds; a strip of higher voltage",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .sizing
        .runs
        .iter()
        .map(|sized| of_run(evidence, sized))
        .collect()
}

fn of_run(evidence: &Evidence<'_>, sized: &SizedRun) -> Finding {
    let own = &evidence.project.limits;
    let checked = limits::feed_drop(own, sized.figures.feed_drop_share);
    Finding::checked(format!("run {}", sized.run.name), &checked)
        .working(|| {
            format!(
                "{} lost of {} = {}",
                Figure::new(sized.figures.feed_drop.get::<volt>(), Unit::Volt),
                Figure::new(sized.run.strip.voltage.get::<volt>(), Unit::Volt),
                checked.found
            )
        })
        .resting_on(sized.light_assumed.as_ref())
        .at(&sized.run.feed_place)
        .remedy(|| remedy::of_run(evidence, sized))
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
        job.sizing.runs[0].figures.feed_drop_share = Ratio::new::<percent>(5.01);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.sizing.runs[0].figures.feed_drop_share = Ratio::new::<percent>(5.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.sizing.runs[0].light_assumed = Some(crate::model::assumption::Assumption {
            subject: "strip".into(),
            statement: "light starts at 21.1 V".into(),
            missing: "`light_starts_at`".into(),
            supplied_by: "the datasheet".into(),
        });
        assert_eq!(job.worst(&RULE), "cannot tell");
    }

    #[test]
    fn each_region_has_its_own_limit() {
        for (region, most) in [("north-america", 3.0), ("aus-nz", 10.0)] {
            let mut job = Sample::with("region: iec", &format!("region: {region}"));
            job.sizing.runs[0].figures.feed_drop_share = Ratio::new::<percent>(most);
            assert_eq!(job.worst(&RULE), "holds", "{region}");
            job.sizing.runs[0].figures.feed_drop_share = Ratio::new::<percent>(most + 0.01);
            assert_eq!(job.worst(&RULE), "broken", "{region}");
        }
    }
}

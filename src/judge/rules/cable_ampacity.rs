//! Feed cables carry their current at their ambient.

use crate::choose::limits;
use crate::choose::sized::FeedCable;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::norms::limit::Source;
use crate::norms::region::Region;

/// Feed cables carry their current at their ambient.
pub static RULE: Rule = Rule {
    id: "cable-ampacity",
    subject: Subject::Cable,
    statement: "the current in a feed cable is within what it may carry, with the factors for ambient and grouping",
    formula: "most current in the plus core, against table capacity × temperature factor × grouping factor, or the maker’s own limit; in north-america 125 % of that current, lighting being a continuous load",
    sources: &[
        (
            Region::Iec,
            "IEC 60364-5-52 Tables B.52.2, B.52.3, B.52.14, B.52.17",
        ),
        (
            Region::NorthAmerica,
            "NEC 210.19(A), 310.16, 310.15(B), 310.15(C)",
        ),
        (
            Region::AusNz,
            "AS/NZS 3008.1.1; the maker’s figure where no table value is known",
        ),
    ],
    severity: Severity::Fault,
    severities: &[],
    remedy: "a larger cable; fewer cables side by side; another route",
    caution: Some(
        "the tables start at 1.5 mm² (14 AWG): for smaller cable the maker’s figure is needed",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let region = evidence.project.region;
    let cables = evidence.sizing.cables.iter();
    cables.map(|cable| of_cable(region, cable)).collect()
}

fn of_cable(region: Region, cable: &FeedCable) -> Finding {
    let subject = format!("feed cable {}", cable.number);
    let Some(most) = cable.ampacity else {
        let missing = format!(
            "`most_current` in cable `{}` (the maker’s datasheet)",
            cable.item.offer.id
        );
        return Finding::cannot_tell(subject, missing).at(&cable.item.offer.place);
    };
    let source = cable.ampacity_source.clone().unwrap_or(Source::Datasheet);
    let checked = limits::cable_current(region, cable.current, (most, source));
    Finding::checked(subject, &checked)
        .at(&cable.item.offer.place)
        .remedy(|| "a larger cable, or more feeds".to_owned())
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
        job.sizing.cables[0].current = Current::new::<ampere>(99.0);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.sizing.cables[0].current = job.sizing.cables[0].ampacity.expect("a table value");
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn counts_a_continuous_load_at_125_percent_in_north_america() {
        // NEC 210.19(A): 8 A for 3 h or more asks for a conductor of 10 A; 8.1 A for 10.125 A.
        let mut job = Sample::new();
        for cable in &mut job.sizing.cables {
            cable.ampacity = Some(Current::new::<ampere>(10.0));
            cable.current = Current::new::<ampere>(8.1);
        }
        assert_eq!(job.worst(&RULE), "holds");
        job.project.region = Region::NorthAmerica;
        assert_eq!(job.worst(&RULE), "broken");
        for cable in &mut job.sizing.cables {
            cable.current = Current::new::<ampere>(8.0);
        }
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.sizing.cables[0].ampacity = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

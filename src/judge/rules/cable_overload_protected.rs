//! A driver cannot overload its feed cable.

use crate::choose::limits::most_current;
use crate::choose::sized::{FeedCable, Sizing};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_current::ampere;

/// A driver cannot overload its feed cable.
pub static RULE: Rule = Rule {
    id: "cable-overload-protected",
    subject: Subject::Cable,
    statement: "the most current a driver can give is within what each of its feed cables may carry",
    formula: "the smaller of rated power / voltage and the sum of its channel limits, against the cable’s capacity; two units whose pluses are joined give twice that",
    sources: &everywhere("IEC 60364-4-43; NEC 240; driver datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a larger cable; a fuse for each feed; a smaller driver",
    caution: Some(
        "a large driver behind thin tails is a fire risk at a short circuit: fuse each feed or keep its cable to the driver’s limit",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let sizing = evidence.sizing;
    let cables = sizing.cables.iter();
    cables.filter_map(|cable| of_cable(sizing, cable)).collect()
}

fn of_cable(sizing: &Sizing, cable: &FeedCable) -> Option<Finding> {
    let subject = format!("feed cable {}", cable.number);
    let driver = sizing.driver(&cable.driver)?;
    let Some(carries) = cable.ampacity else {
        let missing = format!(
            "`most_current` in cable `{}` (the maker’s datasheet)",
            cable.item.offer.id
        );
        return Some(Finding::cannot_tell(subject, missing).at(&cable.item.offer.place));
    };
    let units = if driver.half.is_some() { 2.0 } else { 1.0 };
    let gives = most_current(&driver.item) * units;
    let mut finding = Finding::plain(subject, gives <= carries);
    finding.found = Some(Figure::new(gives.get::<ampere>(), Unit::Ampere));
    finding.limit = Some((
        Bound::AtMost,
        Figure::new(carries.get::<ampere>(), Unit::Ampere),
    ));
    let finding = finding
        .at(&cable.item.offer.place)
        .remedy(|| "a larger cable, or a fuse for this feed".to_owned());
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Current;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.sizing.cables[0].ampacity = Some(Current::new::<ampere>(0.1));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        let most = most_current(&job.sizing.drivers[0].item);
        job.sizing.cables[0].ampacity = Some(most);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.sizing.cables[0].ampacity = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

//! Conductors fit the driver’s terminals.

use crate::choose::sized::{SizedDriver, Sizing};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::Area;
use crate::quantity::figure::{Figure, Unit};
use uom::si::area::square_millimeter;

/// Conductors fit the driver’s terminals.
pub static RULE: Rule = Rule {
    id: "cable-termination",
    subject: Subject::Cable,
    statement: "the feed cables of a driver are no larger than its output terminals take",
    formula: "largest conductor cross-section on the driver against its largest terminal",
    sources: &everywhere("datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a junction with a short tail; a driver with larger terminals; a smaller cable",
    caution: Some("do not trim strands to make a conductor fit"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let sizing = evidence.sizing;
    let drivers = sizing.drivers.iter();
    drivers
        .filter_map(|driver| of_driver(sizing, driver))
        .collect()
}

fn of_driver(sizing: &Sizing, driver: &SizedDriver) -> Option<Finding> {
    let item = &driver.item;
    let on_it = sizing.cables_of(driver);
    let sizes = on_it.map(|cable| cable.item.size.area());
    let largest = sizes.reduce(Area::max)?;
    let subject = format!("driver {}", driver.number);
    let Some(most) = item.largest_terminal else {
        let missing = format!("`terminals` in driver `{}` (the datasheet)", item.offer.id);
        return Some(Finding::cannot_tell(subject, missing).at(&item.offer.place));
    };
    let limit = Limit {
        value: most.area().get::<square_millimeter>(),
        bound: Bound::AtMost,
        source: Source::Datasheet,
    };
    let found = Figure::new(largest.get::<square_millimeter>(), Unit::SquareMillimetre);
    let finding = Finding::measured(subject, found, &limit)
        .at(&item.offer.place)
        .remedy(|| "a junction with a short tail, or a driver with larger terminals".to_owned());
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::conductor::ConductorSize;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.driver().largest_terminal =
            Some(ConductorSize::Metric(Area::new::<square_millimeter>(1.0)));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.driver().largest_terminal = Some(job.sizing.cables[0].item.size);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.driver().largest_terminal = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

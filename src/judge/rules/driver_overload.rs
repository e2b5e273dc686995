//! No driver gives more than its rating at its ambient.

use crate::choose::sized::SizedDriver;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use uom::si::power::watt;

/// No driver gives more than its rating at its ambient.
pub static RULE: Rule = Rule {
    id: "driver-overload",
    subject: Subject::Driver,
    statement: "the load of a driver does not exceed its rated power at the ambient of its cupboard",
    formula: "load at the worst mix of whites, strip, rails and feed cable included, against rated power × derating",
    sources: &everywhere("datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a larger driver; split the run",
    caution: Some("an overloaded constant-voltage driver folds back: the strip pulses on and off"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.drivers.iter().map(of_driver).collect()
}

fn of_driver(driver: &SizedDriver) -> Finding {
    let limit = Limit {
        value: driver.usable.get::<watt>(),
        bound: Bound::AtMost,
        source: Source::Datasheet,
    };
    let found = Figure::new(driver.load.get::<watt>(), Unit::Watt);
    Finding::measured(format!("driver {}", driver.number), found, &limit)
        .working(|| {
            format!(
                "{found} on it, of {} rated, {} at the cupboard’s ambient",
                Figure::new(driver.item.output.power.get::<watt>(), Unit::Watt),
                Figure::new(driver.usable.get::<watt>(), Unit::Watt)
            )
        })
        .at(&driver.item.offer.place)
        .remedy(|| {
            format!(
                "a driver of at least {:.0} W, or fewer runs on it",
                driver.load.get::<watt>()
            )
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.sizing.drivers[0].load = job.sizing.drivers[0].usable * 1.001;
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.sizing.drivers[0].load = job.sizing.drivers[0].usable;
        assert_eq!(job.worst(&RULE), "holds");
    }
}

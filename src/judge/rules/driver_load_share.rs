//! Drivers keep the chosen reserve.

use crate::choose::sized::SizedDriver;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use uom::si::power::watt;
use uom::si::ratio::percent;

/// Drivers keep the chosen reserve.
pub static RULE: Rule = Rule {
    id: "driver-load-share",
    subject: Subject::Driver,
    statement: "the load of a driver stays within the chosen share of its rating at the ambient",
    formula: "load / (rated power × derating)",
    sources: &everywhere("common practice, no source: at most 85 to 90 %"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "the next larger driver; split the run",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .sizing
        .drivers
        .iter()
        .map(|driver| of_driver(evidence, driver))
        .collect()
}

fn of_driver(evidence: &Evidence<'_>, driver: &SizedDriver) -> Finding {
    let limit = &evidence.project.limits.driver_load;
    Finding::share(
        format!("driver {}", driver.number),
        driver.load_share,
        limit,
    )
    .working(|| {
        format!(
            "{:.1} W / {:.1} W = {:.1} %",
            driver.load.get::<watt>(),
            driver.usable.get::<watt>(),
            driver.load_share.get::<percent>()
        )
    })
    .at(&driver.item.offer.place)
    .remedy(|| {
        let least = (driver.load / limit.value).get::<watt>();
        format!("a driver of at least {least:.0} W, or fewer runs on it")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::{Power, Ratio};

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.sizing.drivers[0].load_share = Ratio::new::<percent>(85.1);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.sizing.drivers[0].load_share = Ratio::new::<percent>(85.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn the_remedy_names_the_least_rating_that_keeps_the_reserve() {
        // 90 W / 0.85 = 105.9 W.
        let mut job = Sample::new();
        job.sizing.drivers[0].load = Power::new::<watt>(90.0);
        job.sizing.drivers[0].load_share = Ratio::new::<percent>(90.0);
        let remedy = &check(&job.evidence())[0].remedy;
        let wanted = "a driver of at least 106 W, or fewer runs on it";
        assert_eq!(remedy.as_deref(), Some(wanted));
    }
}

//! Drivers are loaded enough to run steadily.

use crate::choose::sized::SizedDriver;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use uom::si::power::watt;

/// Drivers are loaded enough to run steadily.
pub static RULE: Rule = Rule {
    id: "driver-least-load",
    subject: Subject::Driver,
    statement: "the load of a driver reaches the least load that it needs",
    formula: "load / rated power, against `least_load`",
    sources: &everywhere("datasheet"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "a smaller driver; combine runs on one driver",
    caution: Some("below its least load a driver may flicker, whine or not start"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.drivers.iter().map(of_driver).collect()
}

fn of_driver(driver: &SizedDriver) -> Finding {
    let subject = format!("driver {}", driver.number);
    let item = &driver.item;
    let Some(least) = item.least_load else {
        let missing = format!("`least_load` in driver `{}` (the datasheet)", item.offer.id);
        return Finding::cannot_tell(subject, missing).at(&item.offer.place);
    };
    let limit = Limit {
        value: least,
        bound: Bound::AtLeast,
        source: Source::Datasheet,
    };
    Finding::share(subject, driver.load / item.output.power, &limit)
        .working(|| {
            let (load, rated) = (driver.load.get::<watt>(), item.output.power.get::<watt>());
            format!("{load:.1} W / {rated:.1} W = {:.1} %", 100.0 * load / rated)
        })
        .at(&item.offer.place)
        .remedy(|| "a smaller driver, or more runs on this one".to_owned())
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
        job.driver().least_load = Some(Ratio::new::<percent>(99.0));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        let share = job.sizing.drivers[0].load / job.sizing.drivers[0].item.output.power;
        job.driver().least_load = Some(share);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.driver().least_load = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

//! A cupboard sheds the heat of its drivers.

use crate::choose::sized::SizedDriver;
use crate::judge::circuits::unless_unknown;
use crate::judge::cupboards;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::site::Point;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::Power;
use crate::quantity::figure::{Figure, Unit};
use uom::si::power::watt;
use uom::si::ratio::ratio;

/// A cupboard sheds the heat of its drivers.
pub static RULE: Rule = Rule {
    id: "driver-ventilation",
    subject: Subject::Driver,
    statement: "the losses of a cupboard’s drivers are within the heat that it sheds at its ambient",
    formula: "sum of load × (1 / efficiency − 1) over its drivers, against `sheds` of the cupboard",
    sources: &everywhere("datasheet; the cupboard’s `sheds` in the project file"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "vents or a fan; runs moved to another cupboard; drivers of higher efficiency",
    caution: Some(
        "a cupboard that is hotter than its `ambient` says makes every figure for its drivers too good: measure it in service",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    cupboards::with_drivers(evidence)
        .into_iter()
        .map(|(cupboard, drivers)| of_cupboard(cupboard, &drivers))
        .collect()
}

fn of_cupboard(cupboard: &Point, drivers: &[&SizedDriver]) -> Finding {
    let subject = format!("cupboard {}", cupboard.name);
    let Some(sheds) = cupboard.sheds else {
        let missing = format!(
            "`sheds` of point `{}` (its maker, or a reading)",
            cupboard.name
        );
        return Finding::cannot_tell(subject, missing).at_some(cupboard.place.as_ref());
    };
    let mut unknown: Vec<String> = drivers
        .iter()
        .filter(|driver| losses(driver).is_none())
        .map(|driver| format!("driver `{}`", driver.item.offer.id))
        .collect();
    unknown.sort();
    unknown.dedup();
    let heat: Power = drivers.iter().filter_map(|driver| losses(driver)).sum();
    let limit = Limit {
        value: sheds.get::<watt>(),
        bound: Bound::AtMost,
        source: Source::Project,
    };
    let found = Figure::new(heat.get::<watt>(), Unit::Watt);
    let finding = Finding::measured(subject, found, &limit);
    unless_unknown(finding, &unknown, "efficiency")
        .working(|| {
            let load: Power = drivers.iter().map(|driver| driver.load).sum();
            format!(
                "Σ load × (1/efficiency − 1) over {} drivers of {:.1} W = {found}",
                drivers.len(),
                load.get::<watt>()
            )
        })
        .at_some(cupboard.place.as_ref())
        .remedy(|| "vents or a fan, or some of its runs moved to another cupboard".to_owned())
}

/// What a driver turns into heat at its load; `None` when the sheet gives no efficiency.
fn losses(driver: &SizedDriver) -> Option<Power> {
    let efficiency = driver.item.mains.efficiency?.get::<ratio>();
    Some(driver.load * (1.0 / efficiency - 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Ratio;
    use std::sync::Arc;

    /// One driver loaded with 90 W at 90 %: it loses 10 W.
    fn job(sheds: f64) -> Sample {
        let mut job = Sample::new();
        job.sizing.drivers.truncate(1);
        job.sizing.drivers[0].load = Power::new::<watt>(90.0);
        job.driver().mains.efficiency = Some(Ratio::new::<ratio>(0.9));
        let at = job.sizing.drivers[0].cupboard.index;
        Arc::make_mut(&mut job.project.site.points[at]).sheds = Some(Power::new::<watt>(sheds));
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(9.9).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(10.0).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(Sample::new().worst(&RULE), "cannot tell");
        let mut job = job(10.0);
        job.driver().mains.efficiency = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

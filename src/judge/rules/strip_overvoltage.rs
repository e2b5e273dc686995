//! Strip stands the highest voltage that its driver gives.

use crate::choose::sized::{SizedDriver, SizedRun, Sizing};
use crate::choose::suited;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_potential::volt;
use uom::si::ratio::percent;

/// Strip stands the highest voltage that its driver gives.
pub static RULE: Rule = Rule {
    id: "strip-overvoltage",
    subject: Subject::Strip,
    statement: "a driver’s output, with no load or little load on it, stays within what the strip stands",
    formula: "output voltage × (1 + `tolerance`) against `most_voltage`, or 5 % above nominal",
    sources: &everywhere("datasheet; without one 5 % above nominal (common practice, no source)"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a driver of the strip’s voltage and a closer tolerance; one that can be trimmed",
    caution: Some("too much voltage shortens a strip’s life steeply though its light looks right"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let sizing = evidence.sizing;
    let drivers = sizing.drivers.iter();
    drivers
        .filter_map(|driver| of_driver(sizing, driver))
        .collect()
}

/// The strip on a driver that stands the least.
fn of_driver(sizing: &Sizing, driver: &SizedDriver) -> Option<Finding> {
    let subject = format!("driver {}", driver.number);
    let item = &driver.item;
    let runs = sizing.runs_on(driver);
    let stands = |sized: &&SizedRun| suited::most_voltage(&sized.run.strip).0.value;
    let run = &runs.min_by(|a, b| stands(a).total_cmp(&stands(b)))?.run;
    let Some(checked) = suited::overvoltage(item, &run.strip) else {
        let missing = format!(
            "`output.tolerance` in driver `{}` (the datasheet)",
            item.offer.id
        );
        return Some(Finding::cannot_tell(subject, missing).at(&item.offer.place));
    };
    let tolerance = item
        .detail
        .tolerance
        .map_or(0.0, |share| share.get::<percent>());
    let nominal = Figure::new(item.output.voltage.get::<volt>(), Unit::Volt);
    let most = checked.limit;
    let finding = Finding::checked(subject, &checked)
        .working(|| {
            format!(
                "{nominal} × (1 + {tolerance} %) = {}; strip `{}`",
                checked.found, run.strip.offer.id
            )
        })
        .at(&item.offer.place)
        .remedy(|| {
            format!(
                "a driver that never gives more than {most}, or a strip that stands {}",
                checked.found
            )
        });
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::{Ratio, Voltage};

    /// The sample with a tolerance of its first driver.
    fn job(tolerance: Option<f64>) -> Sample {
        let mut job = Sample::new();
        job.sizing.drivers.truncate(1);
        job.driver().detail.tolerance = tolerance.map(Ratio::new::<percent>);
        for run in 0..job.sizing.runs.len() {
            job.strip(run).detail.most_voltage = None;
        }
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(Some(5.01)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some(5.0)).worst(&RULE), "holds");
    }

    #[test]
    fn the_datasheet_goes_before_what_is_usual() {
        let mut job = job(Some(5.0));
        job.strip(0).detail.most_voltage = Some(Voltage::new::<volt>(25.0));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None).worst(&RULE), "cannot tell");
    }
}

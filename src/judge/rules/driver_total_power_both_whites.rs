//! A two-channel driver gives both whites together what they ask.

use crate::choose::sized::{Section, SizedDriver};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::judge::verdict::Outcome;
use crate::model::driver::Mixing;
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::Power;
use crate::quantity::figure::{Figure, Unit};
use uom::si::power::watt;

/// A two-channel driver gives both whites together what they ask.
pub static RULE: Rule = Rule {
    id: "driver-total-power-both-whites",
    subject: Subject::Driver,
    statement: "both whites full on are within a driver’s total, or the driver says that they share it; each is within its channel’s",
    formula: "sum of current × output voltage over the channels, or the greater channel where `mixing` says that they share, against the rated power; each channel against `power_per_channel`",
    sources: &everywhere("datasheet: power of each channel and in total"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a driver rated for both whites full on; one whose whites share; the mix limited",
    caution: Some("two channels of 100 W are not a driver of 200 W"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let drivers = evidence.sizing.drivers.iter();
    drivers
        .filter_map(|driver| of_driver(evidence, driver))
        .collect()
}

/// `None` for a driver without tunable white on it, and for one of two units that feed one white
/// each.
fn of_driver(evidence: &Evidence<'_>, driver: &SizedDriver) -> Option<Finding> {
    if driver.half.is_some() {
        return None;
    }
    let subject = format!("driver {}", driver.number);
    let item = &driver.item;
    let on_it = |section: &&Section| section.driver == driver.number;
    let runs = evidence.sizing.runs_on(driver);
    let sections = runs.flat_map(|sized| &sized.sections).filter(on_it);
    let mut channels = [Power::default(); 2];
    let mut pairs = false;
    for section in sections.filter(|section| section.channel_currents.len() == 2) {
        pairs = true;
        for (sum, current) in channels.iter_mut().zip(&section.channel_currents) {
            *sum += *current * item.output.voltage;
        }
    }
    if !pairs {
        return None;
    }
    let watts = |power: Power| Figure::new(power.get::<watt>(), Unit::Watt);
    let most = |value: Power| Limit {
        value: value.get::<watt>(),
        bound: Bound::AtMost,
        source: Source::Datasheet,
    };
    let [warm, cool] = channels;
    let sum = warm + cool;
    let greater = warm.max(cool);
    let shares = match item.output.mixing {
        Some(Mixing::Shared | Mixing::Interleaved) => true,
        Some(Mixing::BothFull) | None => false,
    };
    let together = if shares { greater } else { sum };
    let mut finding = Finding::measured(subject.clone(), watts(together), &most(item.output.power));
    if finding.outcome == Outcome::Broken
        && item.output.mixing.is_none()
        && greater <= item.output.power
    {
        let missing = format!(
            "`output.mixing` in driver `{}` (the datasheet)",
            item.offer.id
        );
        finding.outcome = Outcome::CannotTell { missing };
    }
    if let Some(each) = item.detail.power_per_channel {
        finding = finding.or_worse(Finding::measured(subject, watts(greater), &most(each)));
    }
    let working = if shares {
        format!(
            "warm {} or cool {}, which share: {}",
            watts(warm),
            watts(cool),
            watts(greater)
        )
    } else {
        format!(
            "warm {} + cool {} = {}",
            watts(warm),
            watts(cool),
            watts(sum)
        )
    };
    let finding = finding
        .working(|| working)
        .at(&item.offer.place)
        .remedy(|| {
            format!(
                "set `driver: auto`, or a driver of at least {} whose whites share, or of {}",
                watts(greater),
                watts(sum)
            )
        });
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Current;
    use uom::si::electric_current::ampere;

    /// The cove taking 1 A of each white at 24 V from a driver of so many watts.
    fn job(watts: f64, mixing: Option<Mixing>) -> Sample {
        let mut job = Sample::new();
        let number = job.sizing.runs[0].sections[0].driver.clone();
        job.sizing.drivers.retain(|driver| driver.number == number);
        job.sizing.runs[0].sections[0].channel_currents = vec![Current::new::<ampere>(1.0); 2];
        job.driver().output.power = Power::new::<watt>(watts);
        job.driver().output.mixing = mixing;
        job.driver().detail.power_per_channel = None;
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(47.9, Some(Mixing::BothFull)).worst(&RULE), "broken");
        assert_eq!(job(23.9, Some(Mixing::Shared)).worst(&RULE), "broken");
        let mut each = job(48.0, Some(Mixing::BothFull));
        each.driver().detail.power_per_channel = Some(Power::new::<watt>(23.9));
        assert_eq!(each.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(48.0, Some(Mixing::BothFull)).worst(&RULE), "holds");
        assert_eq!(job(24.0, Some(Mixing::Shared)).worst(&RULE), "holds");
        assert_eq!(job(48.0, None).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(47.9, None).worst(&RULE), "cannot tell");
    }
}

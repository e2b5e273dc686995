//! Dimmed light does not flicker.

use crate::choose::sized::SizedDriver;
use crate::choose::suited;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::norms::region::Region;

/// Dimmed light does not flicker.
pub static RULE: Rule = Rule {
    id: "driver-modulation",
    subject: Subject::Driver,
    statement: "a driver’s light is modulated no more than the flicker limits allow",
    formula: "flicker Pst LM and stroboscopic visibility SVM at full load against 1.0 and 0.4 (iec); depth of modulation when dimmed against 0.08 × frequency in Hz, in %, from 90 Hz to 1250 Hz, and 0.025 × below; pulse width is 100 % deep",
    sources: &[
        (
            Region::Iec,
            "Regulation (EU) 2019/2020 Annex II: Pst LM ≤ 1.0, SVM ≤ 0.4 (from memory); IEEE 1789-2015, low risk (from memory)",
        ),
        (
            Region::NorthAmerica,
            "IEEE 1789-2015, low risk (from memory)",
        ),
        (Region::AusNz, "IEEE 1789-2015, low risk (from memory)"),
    ],
    severity: Severity::Caution,
    severities: &[],
    remedy: "a driver that dims at a higher frequency, or by current and pulse width together",
    caution: Some("cameras need more than eyes do: ask in lecture halls and galleries"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let drivers = evidence.sizing.drivers.iter();
    drivers.map(|driver| of_driver(evidence, driver)).collect()
}

fn of_driver(evidence: &Evidence<'_>, driver: &SizedDriver) -> Finding {
    let subject = format!("driver {}", driver.number);
    let item = &driver.item;
    let region = evidence.project.region;
    let flicker = &item.detail.flicker;
    let findings = suited::modulation(flicker, region)
        .into_iter()
        .map(|checked| {
            Finding::checked(subject.clone(), &checked).working(|| {
                format!(
                    "{} {}, limit {}",
                    checked.what, checked.found, checked.limit
                )
            })
        });
    let known = findings.reduce(nearer);
    let mut keys = vec![("frequency", flicker.frequency.is_none())];
    if region == Region::Iec {
        keys.extend([
            ("pst_lm", flicker.pst_lm.is_none()),
            ("svm", flicker.svm.is_none()),
        ]);
    }
    let lacking: Vec<String> = keys
        .into_iter()
        .filter(|(_, lacks)| *lacks)
        .map(|(key, _)| format!("`flicker.{key}`"))
        .collect();
    let untold = (!lacking.is_empty()).then(|| {
        let missing = format!(
            "{} in driver `{}` (the datasheet)",
            lacking.join(", "),
            item.offer.id
        );
        Finding::cannot_tell(subject.clone(), missing)
    });
    let finding = match (known, untold) {
        (Some(known), Some(untold)) => known.or_worse(untold),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => Finding::plain(subject, true),
    };
    finding.at(&item.offer.place).remedy(|| {
        "choose a driver that dims at 1250 Hz or more, or whose modulation is shallower".to_owned()
    })
}

/// The one that is worse, or else nearer to its limit.
fn nearer(one: Finding, other: Finding) -> Finding {
    let room = |finding: &Finding| {
        let (found, (_, limit)) = finding.found.zip(finding.limit)?;
        Some(1.0 - found.value / limit.value)
    };
    if one.outcome == other.outcome && room(&other) < room(&one) {
        other
    } else {
        one.or_worse(other)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::driver::Flicker;
    use crate::quantity::{Frequency, Ratio};
    use uom::si::frequency::hertz;
    use uom::si::ratio::percent;

    /// The sample with one driver of that flicker.
    fn job(
        region: &str,
        pst_lm: Option<f64>,
        svm: Option<f64>,
        dimming: Option<(f64, f64)>,
    ) -> Sample {
        let mut job = Sample::with("region: iec", &format!("region: {region}"));
        job.sizing.drivers.truncate(1);
        job.driver().detail.flicker = Flicker {
            pst_lm,
            svm,
            frequency: dimming.map(|(frequency, _)| Frequency::new::<hertz>(frequency)),
            depth: dimming.map(|(_, depth)| Ratio::new::<percent>(depth)),
        };
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        let deep = Some((1250.0, 100.0));
        assert_eq!(
            job("iec", Some(1.01), Some(0.4), deep).worst(&RULE),
            "broken"
        );
        assert_eq!(
            job("iec", Some(1.0), Some(0.41), deep).worst(&RULE),
            "broken"
        );
        let slow = Some((1240.0, 100.0));
        assert_eq!(
            job("iec", Some(1.0), Some(0.4), slow).worst(&RULE),
            "broken"
        );
        assert_eq!(job("aus-nz", None, None, slow).worst(&RULE), "broken");
        // 0.08 × 100 Hz = 8 %; 0.025 × 80 Hz = 2 %.
        assert_eq!(
            job("north-america", None, None, Some((100.0, 8.1))).worst(&RULE),
            "broken"
        );
        assert_eq!(
            job("north-america", None, None, Some((80.0, 2.1))).worst(&RULE),
            "broken"
        );
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(
            job("iec", Some(1.0), Some(0.4), Some((1250.0, 100.0))).worst(&RULE),
            "holds"
        );
        assert_eq!(
            job("north-america", None, None, Some((100.0, 8.0))).worst(&RULE),
            "holds"
        );
        assert_eq!(
            job("aus-nz", None, None, Some((80.0, 2.0))).worst(&RULE),
            "holds"
        );
    }

    #[test]
    fn of_two_figures_that_hold_the_one_nearer_to_its_limit_is_told() {
        for (pst_lm, svm, told) in [(0.5, 0.39, 0.39), (0.99, 0.1, 0.99)] {
            let job = job("iec", Some(pst_lm), Some(svm), Some((1250.0, 10.0)));
            let found = check(&job.evidence())[0].found.expect("a figure");
            assert!(
                (found.value - told).abs() < 1e-9,
                "{found} of {pst_lm}, {svm}"
            );
        }
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(
            job("iec", Some(1.0), None, Some((1250.0, 100.0))).worst(&RULE),
            "cannot tell"
        );
        assert_eq!(
            job("north-america", Some(1.0), Some(0.4), None).worst(&RULE),
            "cannot tell"
        );
    }
}

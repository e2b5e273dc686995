//! Feed cables are no longer than the driver allows.

use crate::choose::sized::{SizedDriver, Sizing};
use crate::choose::suited;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;

/// Feed cables are no longer than the driver allows.
pub static RULE: Rule = Rule {
    id: "driver-distance",
    subject: Subject::Driver,
    statement: "the longest feed cable of a driver is within what its maker allows for radiation and sensing",
    formula: "length of the longest feed cable against `longest_feed`",
    sources: &everywhere("datasheet"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "a nearer cupboard; a driver that allows more",
    caution: Some("a long cable to light dimmed by pulse width radiates: keep its cores together"),
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
    let subject = format!("driver {}", driver.number);
    let item = &driver.item;
    let cables = sizing.cables_of(driver);
    let longest = cables.max_by(|a, b| a.length.value.total_cmp(&b.length.value))?;
    let Some(checked) = suited::feed_length(item, longest.length) else {
        let missing = format!(
            "`longest_feed` in driver `{}` (the datasheet)",
            item.offer.id
        );
        return Some(Finding::cannot_tell(subject, missing).at(&item.offer.place));
    };
    let run = &sizing.run(&longest.run)?.run;
    let finding = Finding::checked(subject, &checked)
        .working(|| {
            format!(
                "{} to {} of run {}",
                checked.found, longest.number, longest.run
            )
        })
        .at(&run.place)
        .remedy(|| {
            format!(
                "feed run `{}` from a cupboard within {}, or set `driver` to one with a longer \
                 `longest_feed`",
                run.name, checked.limit
            )
        });
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Length;
    use uom::si::length::meter;

    /// The first driver, whose cable is 5 m long, allowing so much.
    fn job(metres: Option<f64>) -> Sample {
        let mut job = Sample::new();
        job.sizing.drivers.truncate(1);
        job.driver().detail.longest_feed = metres.map(Length::new::<meter>);
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(Some(4.99)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some(5.0)).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None).worst(&RULE), "cannot tell");
    }
}

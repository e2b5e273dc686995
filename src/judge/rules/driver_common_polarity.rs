//! Driver and strip have the same conductor in common.

use crate::choose::sized::{SizedRun, Sizing};
use crate::choose::suited;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;

/// Driver and strip have the same conductor in common.
pub static RULE: Rule = Rule {
    id: "driver-common-polarity",
    subject: Subject::Driver,
    statement: "a driver of several channels switches the minus of each, as strip with a common plus asks",
    formula: "`output.common` of the driver is plus where the strip has more than one channel",
    sources: &everywhere("datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a driver with a common plus",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let sizing = evidence.sizing;
    let pairs = |sized: &&SizedRun| sized.run.strip.channels.count() > 1;
    let runs = sizing.runs.iter().filter(pairs);
    runs.flat_map(|sized| of_run(sizing, sized)).collect()
}

/// Each driver of the run.
fn of_run(sizing: &Sizing, sized: &SizedRun) -> Vec<Finding> {
    let judged = sizing.feeding(sized).map(|driver| {
        let subject = format!("driver {}, run {}", driver.number, sized.run.name);
        let item = &driver.item;
        match suited::common_plus(item, &sized.run.strip) {
            None => {
                let id = &item.offer.id;
                let missing = format!("`output.common` in driver `{id}` (the datasheet)");
                Finding::cannot_tell(subject, missing)
            }
            Some(plus) => Finding::plain(subject, plus)
                .working(|| "common plus on both".to_owned())
                .remedy(|| {
                    format!(
                        "choose a driver with `common: plus` in place of `{}`",
                        item.offer.id
                    )
                }),
        }
        .at(&item.offer.place)
    });
    judged.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::driver::Polarity;

    /// The cove on a driver with that pole in common.
    fn job(pole: Option<Polarity>) -> Sample {
        let mut job = Sample::new();
        let number = job.sizing.runs[0].sections[0].driver.clone();
        job.sizing.drivers.retain(|driver| driver.number == number);
        job.driver().detail.common = pole;
        job
    }

    #[test]
    fn breaks_with_a_common_minus() {
        assert_eq!(job(Some(Polarity::Minus)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_with_a_common_plus() {
        assert_eq!(job(Some(Polarity::Plus)).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None).worst(&RULE), "cannot tell");
    }
}

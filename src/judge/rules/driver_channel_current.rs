//! No driver output gives more current than it may.

use crate::choose::sized::{OutputUse, SizedDriver};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_current::ampere;

/// No driver output gives more current than it may.
pub static RULE: Rule = Rule {
    id: "driver-channel-current",
    subject: Subject::Driver,
    statement: "each channel of a driver output carries no more than its own current limit",
    formula: "sum of the currents of the sections on that channel, full on",
    sources: &everywhere("datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "spread the sections over more outputs or drivers",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.drivers.iter().flat_map(of_driver).collect()
}

fn of_driver(driver: &SizedDriver) -> Vec<Finding> {
    let several = driver.outputs.len() > 1;
    let name = |output: &OutputUse| {
        let number = if several {
            format!(" output {}", output.output)
        } else {
            String::new()
        };
        format!("driver {}{number}", driver.number)
    };
    driver
        .outputs
        .iter()
        .map(|output| of_output(driver, output, name(output)))
        .collect()
}

fn of_output(driver: &SizedDriver, output: &OutputUse, subject: String) -> Finding {
    let item = &driver.item;
    let Some(most) = item.output.current_per_channel else {
        let missing = format!(
            "`current_per_channel` in driver `{}` (the datasheet)",
            item.offer.id
        );
        return Finding::cannot_tell(subject, missing).at(&item.offer.place);
    };
    let worst = output
        .channel_currents
        .iter()
        .map(|i| i.get::<ampere>())
        .fold(0.0, f64::max);
    let limit = Limit {
        value: most.get::<ampere>(),
        bound: Bound::AtMost,
        source: Source::Datasheet,
    };
    Finding::measured(subject, Figure::new(worst, Unit::Ampere), &limit)
        .working(|| {
            let currents = output.channel_currents.iter();
            let currents: Vec<String> = currents
                .map(|i| format!("{:.2} A", i.get::<ampere>()))
                .collect();
            format!("channels carry {}", currents.join(" and "))
        })
        .at(&item.offer.place)
        .remedy(|| {
            "spread its sections over more outputs, or a driver with more current".to_owned()
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Current;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.sizing.drivers[0].outputs[0].channel_currents[0] = Current::new::<ampere>(99.0);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        let most = job.driver().output.current_per_channel.expect("given");
        job.sizing.drivers[0].outputs[0].channel_currents[0] = most;
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.driver().output.current_per_channel = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

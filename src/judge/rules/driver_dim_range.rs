//! Drivers dim as low as is asked of them.

use crate::choose::sized::SizedDriver;
use crate::choose::suited;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::quantity::figure::{Figure, Unit};
use uom::si::ratio::percent;

/// Drivers dim as low as is asked of them.
pub static RULE: Rule = Rule {
    id: "driver-dim-range",
    subject: Subject::Driver,
    statement: "the lowest light that a driver holds steadily is no more than the lowest that is asked of it",
    formula: "`least_level` of the driver against `limits.dim_to`, or against the lowest light above 0 that a scene asks of its group",
    sources: &everywhere("datasheet; IEC 62386-102 physical minimum"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "a driver that dims lower; a higher level",
    caution: Some("below its minimum a driver stays at its minimum: scenes then do not match"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let drivers = evidence.sizing.drivers.iter();
    drivers
        .filter_map(|driver| of_driver(evidence, driver))
        .collect()
}

/// `None` where nothing asks it to dim.
fn of_driver(evidence: &Evidence<'_>, driver: &SizedDriver) -> Option<Finding> {
    let subject = format!("driver {}", driver.number);
    let item = &driver.item;
    let asked = suited::dimmed_to(evidence.project, &driver.group)?;
    let Some(checked) = suited::dim_range(item, asked) else {
        let missing = format!(
            "`least_level` in driver `{}` (the datasheet)",
            item.offer.id
        );
        return Some(Finding::cannot_tell(subject, missing).at(&item.offer.place));
    };
    let asked = Figure::new(asked.get::<percent>(), Unit::Percent);
    let finding = Finding::checked(subject, &checked)
        .working(|| {
            format!(
                "holds {}; {asked} is asked of group {}",
                checked.found, driver.group.name
            )
        })
        .at(&item.offer.place)
        .remedy(|| {
            format!(
                "a driver that holds {asked}, or ask for at least {} of group `{}`",
                checked.found, driver.group.name
            )
        });
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Ratio;

    /// The driver of the line, of which 80 % is asked, holding so much.
    fn job(least: Option<f64>) -> Sample {
        let mut job = Sample::new();
        job.sizing
            .drivers
            .retain(|driver| driver.group.name == "line");
        job.driver().least_level = least.map(Ratio::new::<percent>);
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(Some(80.1)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some(80.0)).worst(&RULE), "holds");
    }

    #[test]
    fn the_project_may_ask_for_less_than_its_scenes() {
        let mut job = job(Some(1.1));
        job.project.limits.dim_to = Some(Ratio::new::<percent>(1.0));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None).worst(&RULE), "cannot tell");
    }
}

//! What is not Class 2 is wired as power.

use crate::choose::sized::SizedDriver;
use crate::choose::suited;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::cable::WiringMethod;
use crate::model::project::Severity;
use crate::norms::nec_class_2;
use crate::norms::region::Region;
use crate::quantity::figure::{Figure, Unit};
use uom::si::power::watt;

/// What is not Class 2 is wired as power.
pub static RULE: Rule = Rule {
    id: "driver-not-class2-wiring",
    subject: Subject::Driver,
    statement: "feed cables of an output that is not Class 2 are of a Chapter 3 wiring method",
    formula: "where the output is not marked Class 2, or gives more than Class 2 allows: `wiring: chapter 3` of each of its feed cables",
    sources: &[(Region::NorthAmerica, "NEC Chapter 3, Article 411")],
    severity: Severity::Fault,
    severities: &[],
    remedy: "outputs of Class 2; or cable or conduit of a Chapter 3 method",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let drivers = evidence.sizing.drivers.iter();
    drivers
        .filter_map(|driver| of_driver(evidence, driver))
        .collect()
}

/// `None` for a driver whose outputs are Class 2, or whose sheet does not say.
fn of_driver(evidence: &Evidence<'_>, driver: &SizedDriver) -> Option<Finding> {
    let subject = format!("driver {}", driver.number);
    let item = &driver.item;
    if !suited::wired_as_power(item, evidence.project.region)? {
        return None;
    }
    let most = nec_class_2::most_power(item.output.voltage);
    let cables: Vec<_> = evidence.sizing.cables_of(driver).collect();
    let power = Figure::new(item.output.power.get::<watt>(), Unit::Watt);
    let other = cables
        .iter()
        .find(|cable| cable.item.detail.wiring == Some(WiringMethod::ClassTwo));
    let silent = cables
        .iter()
        .find(|cable| cable.item.detail.wiring.is_none());
    let finding = match (other, silent) {
        (None, Some(silent)) => {
            let id = &silent.item.offer.id;
            let missing = format!("`wiring` in cable `{id}` (its listing)");
            Finding::cannot_tell(subject, missing).at(&silent.item.offer.place)
        }
        _ => Finding::plain(subject, other.is_none())
            .working(|| {
                format!(
                    "an output of {power} that is not Class 2, {} feed cables",
                    cables.len()
                )
            })
            .at(&item.offer.place)
            .remedy(|| {
                format!(
                    "choose drivers marked class 2 of at most {}, or feed cables with `wiring: \
                     chapter 3` in place of `{}`",
                    Figure::new(most.map_or(0.0, |most| most.get::<watt>()), Unit::Watt),
                    other.map_or("", |cable| cable.item.offer.id.as_str())
                )
            }),
    };
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::driver::SafetyClass;
    use crate::quantity::Power;
    use std::sync::Arc;

    /// One driver of so many watts and marks, its cables of that method.
    fn job(watts: f64, marks: Vec<SafetyClass>, wiring: Option<WiringMethod>) -> Sample {
        let mut job = Sample::with("region: iec", "region: north-america");
        job.sizing.drivers.truncate(1);
        job.driver().output.power = Power::new::<watt>(watts);
        job.driver().output.current_per_channel = None;
        job.driver().safety = Some(marks);
        for cable in &mut job.sizing.cables {
            Arc::make_mut(&mut cable.item).detail.wiring = wiring;
        }
        job
    }

    #[test]
    fn breaks_with_class_2_cable_on_more_than_class_2() {
        let thin = Some(WiringMethod::ClassTwo);
        assert_eq!(job(96.0, Vec::new(), thin).worst(&RULE), "broken");
        assert_eq!(
            job(100.1, vec![SafetyClass::Class2], thin).worst(&RULE),
            "broken"
        );
    }

    #[test]
    fn holds_with_a_chapter_3_method_and_says_nothing_of_class_2() {
        let power = Some(WiringMethod::ChapterThree);
        assert_eq!(job(200.0, Vec::new(), power).worst(&RULE), "holds");
        let class_2 = job(100.0, vec![SafetyClass::Class2], None);
        assert_eq!(class_2.worst(&RULE), "nothing to judge");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(200.0, Vec::new(), None).worst(&RULE), "cannot tell");
    }

    #[test]
    fn other_regions_have_no_such_limit() {
        assert_eq!(Sample::new().worst(&RULE), "not here");
    }
}

//! Driver outputs are safety extra-low voltage.

use crate::choose::sized::SizedDriver;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::driver::SafetyClass;
use crate::model::project::Severity;
use crate::norms::iec_60364_4_41;
use crate::norms::limit::Bound;
use crate::norms::region::Region;
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_potential::volt;

/// Driver outputs are safety extra-low voltage.
pub static RULE: Rule = Rule {
    id: "driver-selv",
    subject: Subject::Driver,
    statement: "a driver’s output is marked SELV and is at most 60 V d.c.",
    formula: "the mark, and output voltage against 60 V",
    sources: &[
        (Region::Iec, "IEC 60364-4-41 clause 414; IEC 61347-2-13"),
        (
            Region::AusNz,
            "IEC 60364-4-41 clause 414 as adopted; IEC 61347-2-13",
        ),
    ],
    severity: Severity::Fault,
    severities: &[],
    remedy: "drivers with an SELV output",
    caution: Some("a non-SELV output makes every joint of the strip a live part"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.drivers.iter().map(of_driver).collect()
}

fn of_driver(driver: &SizedDriver) -> Finding {
    let subject = format!("driver {}", driver.number);
    let item = &driver.item;
    let Some(marks) = &item.safety else {
        let missing = format!("`safety` in driver `{}` (the datasheet)", item.offer.id);
        return Finding::cannot_tell(subject, missing).at(&item.offer.place);
    };
    let marked = marks.contains(&SafetyClass::Selv);
    let volts = item.output.voltage.get::<volt>();
    let most = iec_60364_4_41::touchable_dry_dc();
    let mut finding = Finding::plain(subject, marked && item.output.voltage <= most);
    finding.found = Some(Figure::new(volts, Unit::Volt));
    finding.limit = Some((Bound::AtMost, Figure::new(most.get::<volt>(), Unit::Volt)));
    finding.at(&item.offer.place).remedy(|| {
        if marked {
            "a strip and driver of lower voltage"
        } else {
            "a driver marked SELV"
        }
        .to_owned()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Voltage;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.driver().output.voltage = Voltage::new::<volt>(60.1);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.driver().output.voltage = Voltage::new::<volt>(60.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.driver().safety = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }

    #[test]
    fn an_unmarked_driver_breaks_it() {
        let mut job = Sample::new();
        job.driver().safety = Some(vec![SafetyClass::ProtectiveClassTwo]);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn north_america_has_a_rule_of_its_own() {
        let job = Sample::with("region: iec", "region: north-america");
        assert_eq!(job.worst(&RULE), "not here");
    }
}

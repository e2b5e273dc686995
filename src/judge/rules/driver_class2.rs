//! Class 2 outputs keep to the Class 2 limits.

use crate::choose::limits;
use crate::choose::sized::SizedDriver;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::driver::SafetyClass;
use crate::model::project::Severity;
use crate::norms::region::Region;
use uom::si::electric_potential::volt;

/// Class 2 outputs keep to the Class 2 limits.
pub static RULE: Rule = Rule {
    id: "driver-class2",
    subject: Subject::Driver,
    statement: "each output marked Class 2 gives at most 60 V and 100 VA (5 A up to 20 V)",
    formula: "power of each output (rated power, or channel current × voltage where each channel is limited) against 5 A × V up to 20 V, 100 VA above",
    sources: &[(
        Region::NorthAmerica,
        "NEC Chapter 9 Table 11(B), Article 725",
    )],
    severity: Severity::Fault,
    severities: &[],
    remedy: "more outputs; smaller sections; or wiring by Chapter 3 methods",
    caution: Some(
        "joining two Class 2 outputs makes neither Class 2; Class 2 wiring stays apart from all other wiring",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.drivers.iter().map(of_driver).collect()
}

fn of_driver(driver: &SizedDriver) -> Finding {
    let subject = format!("driver {}", driver.number);
    let item = &driver.item;
    let place = &item.offer.place;
    let Some(marks) = &item.safety else {
        let missing = format!("`safety` in driver `{}` (the datasheet)", item.offer.id);
        return Finding::cannot_tell(subject, missing).at(place);
    };
    if !marks.contains(&SafetyClass::Class2) {
        let why = format!("driver `{}` is not Class 2", item.offer.id);
        return Finding::not_here(subject, why);
    }
    if driver.half.is_some() {
        return Finding::plain(subject, false)
            .at(place)
            .remedy(|| "a two-channel Class 2 driver: the pluses of two are joined".to_owned());
    }
    let power = limits::class_2_power(item);
    let found = power.found;
    Finding::checked(subject, &power)
        .working(|| format!("{found} at {:.0} V", item.output.voltage.get::<volt>()))
        .at(place)
        .remedy(|| "a driver of at most 100 VA per output".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::{Power, Voltage};
    use uom::si::electric_potential::volt;
    use uom::si::power::watt;

    fn job(volts: f64, watts: f64, marks: Option<Vec<SafetyClass>>) -> Sample {
        let mut job = Sample::with("region: iec", "region: north-america");
        job.sizing.drivers.truncate(1);
        job.driver().output.voltage = Voltage::new::<volt>(volts);
        job.driver().output.power = Power::new::<watt>(watts);
        job.driver().output.channels = 1;
        job.driver().safety = marks;
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        let marks = || Some(vec![SafetyClass::Class2]);
        assert_eq!(job(24.0, 100.1, marks()).worst(&RULE), "broken");
        assert_eq!(job(12.0, 60.1, marks()).worst(&RULE), "broken");
        assert_eq!(job(61.0, 50.0, marks()).worst(&RULE), "broken");
    }

    /// NEC 725.121(B) (from memory): outputs of Class 2 supplies are not connected together.
    #[test]
    fn two_class_2_units_on_one_strip_break_it_whatever_they_give() {
        let mut job = job(24.0, 60.0, Some(vec![SafetyClass::Class2]));
        job.sizing.drivers[0].half = Some(crate::choose::sized::Half {
            channel: 0,
            other: String::new(),
        });
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let marks = || Some(vec![SafetyClass::Class2]);
        assert_eq!(job(24.0, 100.0, marks()).worst(&RULE), "holds");
        assert_eq!(job(12.0, 60.0, marks()).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(24.0, 60.0, None).worst(&RULE), "cannot tell");
    }

    #[test]
    fn what_is_not_class_2_is_another_rules() {
        assert_eq!(job(24.0, 200.0, Some(Vec::new())).worst(&RULE), "not here");
    }

    #[test]
    fn other_regions_have_no_such_limit() {
        assert_eq!(Sample::new().worst(&RULE), "not here");
    }
}

//! Drivers run on the mains that is there.

use crate::choose::limits;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::driver::Driver;
use crate::model::project::Severity;
use crate::quantity::voltage;
use std::collections::BTreeMap;

/// Drivers run on the mains that is there.
pub static RULE: Rule = Rule {
    id: "voltage-range",
    subject: Subject::Circuit,
    statement: "the supply voltage is inside the input range of every driver",
    formula: "`supply.voltage` against the ends of `mains.voltage` of each kind of driver in use",
    sources: &everywhere("driver datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a driver whose input range has the supply’s voltage",
    caution: Some(
        "277 V and 120 V drivers do not stand in for each other unless the sheet says so",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let drivers = evidence.sizing.drivers.iter();
    let used: BTreeMap<&str, &Driver> = drivers
        .map(|driver| &*driver.item)
        .map(|item| (item.offer.id.as_str(), item))
        .collect();
    used.into_values()
        .map(|item| of_item(evidence, item))
        .collect()
}

fn of_item(evidence: &Evidence<'_>, item: &Driver) -> Finding {
    let id = &item.offer.id;
    let subject = format!("driver {id}");
    let supply = evidence.project.supply.voltage;
    let (Some(checked), Some((least, most))) =
        (limits::mains_voltage(item, supply), item.mains.voltage)
    else {
        let missing = format!("`mains.voltage` in driver `{id}` (the datasheet)");
        return Finding::cannot_tell(subject, missing).at(&item.offer.place);
    };
    Finding::checked(subject, &checked)
        .at(&item.offer.place)
        .remedy(|| {
            format!(
                "another driver: `{id}` runs on {} to {}, not on {}",
                voltage::write(least),
                voltage::write(most),
                voltage::write(supply)
            )
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Voltage;
    use std::sync::Arc;
    use uom::si::electric_potential::volt;

    fn job(ends: Option<(f64, f64)>) -> Sample {
        let mut job = Sample::new();
        let volts = Voltage::new::<volt>;
        for driver in &mut job.sizing.drivers {
            let mains = &mut Arc::make_mut(&mut driver.item).mains;
            mains.voltage = ends.map(|(least, most)| (volts(least), volts(most)));
        }
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(Some((110.0, 229.0))).worst(&RULE), "broken");
        assert_eq!(job(Some((231.0, 277.0))).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some((110.0, 230.0))).worst(&RULE), "holds");
        assert_eq!(job(Some((230.0, 277.0))).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None).worst(&RULE), "cannot tell");
    }
}

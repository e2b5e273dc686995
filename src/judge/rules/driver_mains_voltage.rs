//! Drivers work at the voltage of the supply.

use crate::choose::limits;
use crate::choose::sized::SizedDriver;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::quantity::Voltage;
use uom::si::electric_potential::volt;

/// Drivers work at the voltage of the supply.
pub static RULE: Rule = Rule {
    id: "driver-mains-voltage",
    subject: Subject::Driver,
    statement: "the nominal voltage of the supply is within what a driver’s mains side works at",
    formula: "`supply: voltage` against the least and the most of the datasheet",
    sources: &everywhere("datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "drivers for the voltage of the supply",
    caution: Some(
        "a driver for another mains voltage fails, or takes more current than its circuit was laid out with",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let supply = evidence.project.supply.voltage;
    let drivers = evidence.sizing.drivers.iter();
    drivers.map(|driver| of_driver(supply, driver)).collect()
}

fn of_driver(supply: Voltage, driver: &SizedDriver) -> Finding {
    let (subject, item) = (format!("driver {}", driver.number), &driver.item);
    let Some(checked) = limits::mains_voltage(item, supply) else {
        let missing = format!(
            "`voltage` in `mains` of driver `{}` (the datasheet)",
            item.offer.id
        );
        return Finding::cannot_tell(subject, missing).at(&item.offer.place);
    };
    Finding::checked(subject, &checked)
        .at(&item.offer.place)
        .remedy(|| format!("a driver for {:.0} V mains", supply.get::<volt>()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn worst(range: Option<(f64, f64)>) -> &'static str {
        let mut job = Sample::new();
        job.sizing.drivers.truncate(1);
        let volts = Voltage::new::<volt>;
        job.driver().mains.voltage = range.map(|(least, most)| (volts(least), volts(most)));
        job.worst(&RULE)
    }

    #[test]
    fn breaks_beyond_its_limit() {
        // The sample's supply has the 230 V of IEC 60038.
        assert_eq!(worst(Some((100.0, 127.0))), "broken");
        assert_eq!(worst(Some((277.0, 277.0))), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(worst(Some((230.0, 240.0))), "holds");
        assert_eq!(worst(Some((220.0, 230.0))), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(worst(None), "cannot tell");
    }
}

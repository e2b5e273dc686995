//! Driver channels and gear type fit the strip.

use crate::choose::sized::{SizedDriver, Sizing};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::driver::GearType;
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;

/// Driver channels and gear type fit the strip.
pub static RULE: Rule = Rule {
    id: "driver-channel-count",
    subject: Subject::Driver,
    statement: "a driver has the channels its strips need, and two whites are steered under one colour address or two single ones",
    formula: "channels of the strip against channels of the driver; gear type and addresses for tunable white",
    sources: &everywhere("IEC 62386-207, -209"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a driver with the channels and the gear type that the strip needs",
    caution: Some("colour commands are ignored by single-channel gear without a word"),
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
    let runs = sizing.runs_on(driver);
    let needed = runs.map(|sized| sized.run.strip.channels.count()).max()?;
    let units = if driver.half.is_some() { 2 } else { 1 };
    let has = units * driver.item.output.channels;
    let mut finding = Finding::plain(
        format!("driver {}", driver.number),
        has >= needed && (units == 2 || steers(driver, needed)),
    );
    finding.found = Some(Figure::new(real(has), Unit::Count));
    finding.limit = Some((Bound::AtLeast, Figure::new(real(needed), Unit::Count)));
    let finding = finding.at(&driver.item.offer.place).remedy(|| {
        format!("a driver with {needed} channels, of gear type colour temperature for two whites")
    });
    Some(finding)
}

/// Whether the bus side can steer that many channels apart; a driver off the bus is not asked.
fn steers(driver: &SizedDriver, channels: usize) -> bool {
    driver.item.bus.as_ref().is_none_or(|bus| {
        channels < 2 || bus.gear == GearType::ColourTemperature || bus.addresses >= channels
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.driver().output.channels = 1;
        job.driver().bus.as_mut().expect("on the bus").gear = GearType::Single;
        assert_eq!(job.worst(&RULE), "broken");
    }

    /// IEC 62386-102: gear of one level has an address for each thing that it dims apart.
    #[test]
    fn two_whites_want_an_address_each_where_the_gear_has_one_level() {
        let with = |addresses: usize| {
            let mut job = Sample::new();
            job.driver().output.channels = 2;
            let bus = job.driver().bus.as_mut().expect("on the bus");
            (bus.gear, bus.addresses) = (GearType::Single, addresses);
            job.worst(&RULE)
        };
        assert_eq!([1, 2, 3].map(with), ["broken", "holds", "holds"]);
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.driver().output.channels = 2;
        assert_eq!(job.worst(&RULE), "holds");
    }
}

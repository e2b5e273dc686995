//! Emergency gear on the bus is counted and can be tested.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::driver::{Driver, EmergencyPart};
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use std::collections::BTreeMap;

/// Emergency gear on the bus is counted and can be tested.
pub static RULE: Rule = Rule {
    id: "bus-emergency-part",
    subject: Subject::Loop,
    statement: "the emergency part of a driver has its short addresses among those counted for the driver, and is tested over the bus",
    formula: "`bus.emergency.addresses` against `bus.addresses`; `bus.emergency.tested`",
    sources: &everywhere("IEC 62386-202"),
    severity: Severity::Note,
    severities: &[],
    remedy: "count its addresses in `bus.addresses`; gear that is tested over the bus",
    caution: Some("emergency lighting needs a design of its own: this is none"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let drivers = evidence.sizing.drivers.iter();
    let used: BTreeMap<&str, &Driver> = drivers
        .map(|driver| &*driver.item)
        .map(|item| (item.offer.id.as_str(), item))
        .collect();
    used.into_values()
        .filter_map(|item| {
            let bus = item.bus.as_ref()?;
            Some(of_item(item, bus.addresses, bus.emergency?))
        })
        .collect()
}

fn of_item(item: &Driver, counted: usize, part: EmergencyPart) -> Finding {
    let id = &item.offer.id;
    let subject = format!("driver {id}");
    let place = &item.offer.place;
    let enough = counted >= part.addresses;
    if enough && part.tested.is_none() {
        let missing = format!("`bus.emergency.tested` in driver `{id}` (the datasheet)");
        return Finding::cannot_tell(subject, missing).at(place);
    }
    let mut finding = Finding::plain(subject, enough && part.tested == Some(true));
    finding.found = Some(Figure::new(real(counted), Unit::Count));
    finding.limit = Some((
        Bound::AtLeast,
        Figure::new(real(part.addresses), Unit::Count),
    ));
    finding.at(place).remedy(|| {
        if enough {
            "gear whose function and duration tests are started and read over the bus".to_owned()
        } else {
            format!("set `bus: {{addresses: {}}}` at least", part.addresses)
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn job(addresses: usize, tested: Option<bool>) -> Sample {
        let mut job = Sample::new();
        let bus = job.driver().bus.as_mut().expect("on the bus");
        bus.addresses = 1;
        bus.emergency = Some(EmergencyPart { addresses, tested });
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(2, Some(true)).worst(&RULE), "broken");
        assert_eq!(job(1, Some(false)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(1, Some(true)).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(1, None).worst(&RULE), "cannot tell");
        assert_eq!(Sample::new().worst(&RULE), "nothing to judge");
    }
}

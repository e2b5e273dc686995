//! The bus is wired in one class throughout.

use crate::judge::finding::Finding;
use crate::judge::items;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::offer::{ItemKind, Offer};
use crate::model::project::{BusWiring, Severity};
use crate::norms::region::Region;
use std::collections::BTreeMap;

/// The bus is wired in one class throughout.
pub static RULE: Rule = Rule {
    id: "bus-class2-na",
    subject: Subject::Loop,
    statement: "the bus is wired as Class 1, or as Class 2 when every unit on it is listed for that",
    formula: "`loops.wiring`; with `class 2` the `class_2` listing of each driver and control device in use",
    sources: &[(Region::NorthAmerica, "NEC 725.121, 725.130, 725.136")],
    severity: Severity::Fault,
    severities: &[],
    remedy: "wire the bus as Class 1; units that are listed for Class 2",
    caution: Some("one unit that is not listed for Class 2 makes the whole loop Class 1"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    if evidence.allocation.loops.is_empty() {
        return Vec::new();
    }
    let settings = &evidence.project.loops;
    let subject = "bus wiring".to_owned();
    match settings.wiring {
        None => {
            let missing =
                "`loops.wiring` in the project file: `class 1` or `class 2` (the designer)";
            vec![Finding::cannot_tell(subject, missing.to_owned()).at(&settings.place)]
        }
        Some(BusWiring::Class1) => vec![Finding::plain(subject, true).at(&settings.place)],
        Some(BusWiring::Class2) => units(evidence)
            .into_values()
            .map(|(offer, listed)| of_unit(offer, listed))
            .collect(),
    }
}

/// The kinds of unit on the bus, each with its listing.
fn units<'a>(evidence: &Evidence<'a>) -> BTreeMap<(ItemKind, &'a str), (&'a Offer, Option<bool>)> {
    let drivers = evidence.sizing.drivers.iter();
    let drivers = drivers.filter_map(|driver| {
        let bus = driver.item.bus.as_ref()?;
        Some((&driver.item.offer, bus.marking.class_2))
    });
    let devices = evidence.project.devices.iter();
    let devices = devices.map(|set| (&set.item.offer, set.item.marking.class_2));
    drivers
        .chain(devices)
        .map(|(offer, listed)| ((offer.kind, offer.id.as_str()), (offer, listed)))
        .collect()
}

fn of_unit(offer: &Offer, listed: Option<bool>) -> Finding {
    let subject = items::subject(offer.kind, &offer.id);
    let key = match offer.kind {
        ItemKind::Driver => "bus.class_2",
        _ => "class_2",
    };
    let finding = match listed {
        Some(listed) => Finding::plain(subject, listed),
        None => {
            let missing = format!("`{key}` in `{}` (the listing)", offer.id);
            Finding::cannot_tell(subject, missing)
        }
    };
    finding.at(&offer.place).remedy(|| {
        "wire the bus as Class 1 (`loops.wiring: class 1`), or a unit that is listed".to_owned()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    fn job(wiring: Option<BusWiring>, listed: Option<bool>) -> Sample {
        let mut job = Sample::new();
        job.project.region = Region::NorthAmerica;
        job.project.loops.wiring = wiring;
        for driver in &mut job.sizing.drivers {
            let bus = Arc::make_mut(&mut driver.item).bus.as_mut();
            bus.expect("on the bus").marking.class_2 = Some(true);
        }
        for set in &mut job.project.devices {
            Arc::make_mut(&mut set.item).marking.class_2 = listed;
        }
        job
    }

    #[test]
    fn breaks_when_a_unit_is_not_listed() {
        let class_2 = Some(BusWiring::Class2);
        assert_eq!(job(class_2, Some(false)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_when_all_are_listed_or_the_wiring_is_class_1() {
        assert_eq!(
            job(Some(BusWiring::Class2), Some(true)).worst(&RULE),
            "holds"
        );
        assert_eq!(
            job(Some(BusWiring::Class1), Some(false)).worst(&RULE),
            "holds"
        );
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None, None).worst(&RULE), "cannot tell");
        assert_eq!(
            job(Some(BusWiring::Class2), None).worst(&RULE),
            "cannot tell"
        );
    }
}

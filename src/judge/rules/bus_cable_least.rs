//! Bus cable is thick enough and insulated for mains.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::cable::Cable;
use crate::model::project::{BusWiring, Severity};
use crate::norms::iec_62386::least_conductor;
use crate::norms::limit::{Bound, Limit, Source};
use crate::norms::region::Region;
use crate::quantity::figure::{Figure, Unit};
use std::collections::BTreeMap;
use uom::si::area::square_millimeter;
use uom::si::electric_potential::volt;

/// Bus cable is thick enough and insulated for mains.
pub static RULE: Rule = Rule {
    id: "bus-cable-least",
    subject: Subject::Loop,
    statement: "bus conductors are at least 0.5 mm² (20 AWG) and their insulation is rated for the mains voltage",
    formula: "conductor size against 0.5 mm²; `rated_voltage` of the cable against the supply’s voltage, except where the bus is wired as Class 2",
    sources: &everywhere("IEC 62386-101; IEC 61347-1"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "cable of at least 0.5 mm² that is rated for mains",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let loops = evidence.allocation.loops.iter();
    let used: BTreeMap<&str, (&Cable, &Loop)> = loops
        .filter_map(|bus| Some((bus.cable.as_deref()?, bus)))
        .map(|(cable, bus)| (cable.offer.id.as_str(), (cable, bus)))
        .collect();
    used.into_values()
        .flat_map(|(cable, _)| [Some(thick(cable)), insulated(evidence, cable)])
        .flatten()
        .collect()
}

fn thick(cable: &Cable) -> Finding {
    // 20 AWG is 0.518 mm²: the bound is the metric one.
    let least = Limit {
        value: least_conductor().get::<square_millimeter>(),
        bound: Bound::AtLeast,
        source: Source::Published("IEC 62386-101 by way of published bus guides"),
    };
    let area = cable.size.area().get::<square_millimeter>();
    let found = Figure::new(area, Unit::SquareMillimetre);
    Finding::measured(format!("cable {}", cable.offer.id), found, &least)
        .at(&cable.offer.place)
        .remedy(|| "bus cable of 0.5 mm² or more (`loops.cable`)".to_owned())
}

/// `None` where the bus is wired as Class 2, which asks for no mains insulation.
fn insulated(evidence: &Evidence<'_>, cable: &Cable) -> Option<Finding> {
    let project = evidence.project;
    let class_2 = project.loops.wiring == Some(BusWiring::Class2);
    if project.region == Region::NorthAmerica && class_2 {
        return None;
    }
    let subject = format!("insulation of cable {}", cable.offer.id);
    let Some(rated) = cable.marking.rated_voltage else {
        let missing = format!(
            "`rated_voltage` in cable `{}` (the datasheet)",
            cable.offer.id
        );
        return Some(Finding::cannot_tell(subject, missing).at(&cable.offer.place));
    };
    let least = Limit {
        value: project.supply.voltage.get::<volt>(),
        bound: Bound::AtLeast,
        source: Source::Published("IEC 62386-101; IEC 61347-1"),
    };
    let found = Figure::new(rated.get::<volt>(), Unit::Volt);
    Some(
        Finding::measured(subject, found, &least)
            .at(&cable.offer.place)
            .remedy(|| "bus cable that is rated for mains (`loops.cable`)".to_owned()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::conductor::ConductorSize;
    use crate::quantity::{Area, Voltage};
    use std::sync::Arc;

    fn job(mm2: f64, rated: Option<f64>) -> Sample {
        let mut job = Sample::new();
        for bus in &mut job.allocation.loops {
            let cable = Arc::make_mut(bus.cable.as_mut().expect("a bus cable"));
            cable.size = ConductorSize::Metric(Area::new::<square_millimeter>(mm2));
            cable.marking.rated_voltage = rated.map(Voltage::new::<volt>);
        }
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(0.49, Some(300.0)).worst(&RULE), "broken");
        assert_eq!(job(1.5, Some(229.0)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(0.5, Some(230.0)).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(0.5, None).worst(&RULE), "cannot tell");
    }

    /// Wired as Class 2 (NEC Article 725, from memory) it needs no insulation for mains.
    #[test]
    fn insulation_for_mains_is_asked_of_it_unless_it_is_class_2() {
        let asked = |region: Region, wiring: Option<BusWiring>| {
            let mut job = job(1.5, None);
            job.project.region = region;
            job.project.loops.wiring = wiring;
            let findings = check(&job.evidence());
            let mut subjects = findings.iter().map(|finding| &finding.subject);
            subjects.any(|subject| subject.starts_with("insulation"))
        };
        let class_2 = Some(BusWiring::Class2);
        assert!(asked(Region::Iec, None) && asked(Region::NorthAmerica, None));
        assert!(!asked(Region::NorthAmerica, class_2));
    }
}

//! The bus is treated as mains.

use crate::judge::finding::Finding;
use crate::judge::items;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::bus::{BusInsulation, ControlDevice};
use crate::model::offer::ItemKind;
use crate::model::project::Severity;
use std::collections::BTreeMap;

/// The bus is treated as mains.
pub static RULE: Rule = Rule {
    id: "bus-not-selv",
    subject: Subject::Loop,
    statement: "every control device keeps its bus terminals from what can be touched by basic insulation or better: the bus is not extra-low voltage",
    formula: "`insulation` of each control device in use: basic, double or reinforced",
    sources: &everywhere("IEC 62386-101; the national wiring rules"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a device with basic insulation or better; an enclosure that gives it",
    caution: Some("isolate the mains of every unit on the loop before the bus is touched"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let devices = evidence.project.devices.iter();
    let used: BTreeMap<&str, &ControlDevice> = devices
        .map(|set| &*set.item)
        .map(|item| (item.offer.id.as_str(), item))
        .collect();
    used.into_values().map(of_item).collect()
}

fn of_item(item: &ControlDevice) -> Finding {
    let id = &item.offer.id;
    let subject = items::subject(ItemKind::ControlDevice, id);
    let place = &item.offer.place;
    let Some(insulation) = item.marking.insulation else {
        let missing = format!("`insulation` in control device `{id}` (the datasheet)");
        return Finding::cannot_tell(subject, missing).at(place);
    };
    Finding::plain(subject, insulation >= BusInsulation::Basic)
        .at(place)
        .remedy(|| {
            format!(
                "`insulation: {}` is none against shock: another device, or an enclosure that gives basic insulation",
                insulation.name()
            )
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    fn job(insulation: Option<BusInsulation>) -> Sample {
        let mut job = Sample::new();
        for set in &mut job.project.devices {
            Arc::make_mut(&mut set.item).marking.insulation = insulation;
        }
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        let functional = Some(BusInsulation::Functional);
        assert_eq!(job(functional).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some(BusInsulation::Basic)).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None).worst(&RULE), "cannot tell");
    }
}

//! The gear of a group understands the same commands.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::driver::GearType;
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use std::collections::BTreeMap;

/// The gear of a group understands the same commands.
pub static RULE: Rule = Rule {
    id: "bus-mixed-gear-type",
    subject: Subject::Loop,
    statement: "the drivers of a group are all of one gear type: level alone, or level and colour temperature",
    formula: "kinds of gear among the drivers of the group",
    sources: &everywhere("IEC 62386-102, -207, -209"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "a group of its own for each gear type",
    caution: Some("gear of a single level ignores colour commands without a word"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let groups = evidence.project.groups.iter();
    groups
        .filter_map(|group| of_group(evidence, &group.name))
        .collect()
}

fn of_group(evidence: &Evidence<'_>, group: &str) -> Option<Finding> {
    let mut runs: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for driver in evidence.sizing.serving(group) {
        let Some(bus) = &driver.item.bus else {
            continue;
        };
        let kind = match bus.gear {
            GearType::Single => "level alone",
            GearType::ColourTemperature => "colour temperature",
        };
        let named = driver.runs.iter().map(String::as_str);
        runs.entry(kind).or_default().extend(named);
    }
    let (kind, fewest) = runs.iter().min_by_key(|(_, runs)| runs.len())?;
    let mut finding = Finding::plain(format!("group {group}"), runs.len() == 1);
    finding.found = Some(Figure::new(real(runs.len()), Unit::Count));
    finding.limit = Some((Bound::AtMost, Figure::new(1.0, Unit::Count)));
    let named = fewest.iter().filter_map(|name| evidence.sizing.run(name));
    let first = named.min_by_key(|sized| (sized.run.place.line, sized.run.place.column));
    let finding = match first {
        Some(sized) => finding.at(&sized.run.place),
        None => finding,
    };
    Some(finding.remedy(|| {
        format!(
            "give {} (gear of {kind}) a `group` of their own",
            fewest.join(", ")
        )
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_when_a_group_mixes_them() {
        let job = Sample::with("group: outside", "group: cove");
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_as_it_is() {
        let job = Sample::new();
        assert_eq!(job.worst(&RULE), "holds");
    }
}

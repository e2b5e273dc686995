//! Drivers can be isolated where they stand, and what keeps the bus live is named.

use crate::allocate::allocated::Loop;
use crate::judge::cupboards;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::site::Point;

/// Drivers can be isolated where they stand, and what keeps the bus live is named.
pub static RULE: Rule = Rule {
    id: "circuit-isolation",
    subject: Subject::Circuit,
    statement: "every cupboard with drivers has an isolator, and the circuit that feeds each loop’s supply is named",
    formula: "`isolator` of each such cupboard; the circuit on which each controller with a supply, or bus supply, stands",
    sources: &everywhere(
        "IEC 60364-4-46; IEC 60364-5-53 clause 536; NEC 404 and 410 (from memory)",
    ),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a local isolator in the cupboard; put the supply on a circuit",
    caution: Some("the bus may stay live from another circuit when one breaker is off"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let cupboards = cupboards::with_drivers(evidence).into_iter();
    let cupboards = cupboards.map(|(cupboard, _)| of_cupboard(evidence, cupboard));
    let loops = evidence.allocation.loops.iter();
    let loops = loops.filter_map(|bus| of_loop(evidence, bus));
    cupboards.chain(loops).collect()
}

fn of_cupboard(evidence: &Evidence<'_>, cupboard: &Point) -> Finding {
    let name = &cupboard.name;
    let subject = format!("cupboard {name}");
    let finding = match cupboard.isolator {
        Some(there) => Finding::plain(subject, there),
        None => {
            let missing = format!("`isolator` of point `{name}` (the installer)");
            Finding::cannot_tell(subject, missing)
        }
    };
    let circuits = &evidence.project.circuits.place;
    let place = cupboard.place.as_ref().unwrap_or(circuits);
    finding
        .at(place)
        .remedy(|| format!("fit an isolator in `{name}` and set `isolator: yes` of that point"))
}

/// `None` for a loop that nothing supplies: that is another rule's matter.
fn of_loop(evidence: &Evidence<'_>, bus: &Loop) -> Option<Finding> {
    let controller = bus.controller_item.as_ref();
    let built_in = controller.is_some_and(|item| item.supply.is_some());
    let unit = match (&bus.supply_item, built_in) {
        (Some(_), _) => bus.supply_name(),
        (None, true) => bus.controller.clone(),
        (None, false) => return None,
    };
    let named = evidence.allocation.circuit_of_supply(&unit).is_some();
    Some(
        Finding::plain(format!("loop {}", bus.name), named)
            .at(&evidence.project.loops.place)
            .remedy(|| format!("name the mains circuit that {unit} is on")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    fn job(isolator: Option<bool>) -> Sample {
        let mut job = Sample::new();
        for point in &mut job.project.site.points {
            Arc::make_mut(point).isolator = isolator;
        }
        job
    }

    #[test]
    fn breaks_without_an_isolator_or_a_named_circuit() {
        assert_eq!(job(Some(false)).worst(&RULE), "broken");
        let mut job = job(Some(true));
        for circuit in &mut job.allocation.circuits {
            circuit.supplies.clear();
        }
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_with_both() {
        assert_eq!(job(Some(true)).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None).worst(&RULE), "cannot tell");
    }
}

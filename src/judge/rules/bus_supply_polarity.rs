//! Supplies in parallel share polarity.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::loops;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;

/// Supplies in parallel share polarity.
pub static RULE: Rule = Rule {
    id: "bus-supply-polarity",
    subject: Subject::Loop,
    statement: "a loop has one supply, so that no second one can be joined to it the wrong way round",
    formula: "supplies on the loop: the one built into its controller and the separate one",
    sources: &everywhere("IEC 62386-101: supplies in parallel share polarity"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "leave one supply out; where both are needed join + to + and mark both at each end",
    caution: Some(
        "gear does not care about polarity, supplies do: mark + and − wherever a second supply could be joined",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .allocation
        .loops
        .iter()
        .map(|bus| of_loop(evidence, bus))
        .collect()
}

fn of_loop(evidence: &Evidence<'_>, bus: &Loop) -> Finding {
    let controller = bus.controller_item.as_ref();
    let built_in = controller.is_some_and(|item| item.supply.is_some());
    let supplies = usize::from(built_in) + usize::from(bus.supply_item.is_some());
    loops::counted(format!("loop {}", bus.name), supplies, 1)
        .at(&evidence.project.loops.place)
        .remedy(|| {
            "leave out `loops.supply`: the controller has a supply built in; or join + to + and mark both".to_owned()
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        let supply = Arc::clone(&job.project.catalogue.bus_supplies[0]);
        let bus = &mut job.allocation.loops[0];
        let controller = bus.controller_item.as_mut().expect("a controller");
        Arc::make_mut(controller).supply = Some(supply.supply);
        bus.supply_item = Some(supply);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(Sample::new().worst(&RULE), "holds");
    }
}

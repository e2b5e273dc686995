//! The drivers of a room sit on one phase.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::model::site::Point;
use crate::norms::limit::Bound;
use crate::norms::region::Region;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use std::collections::BTreeSet;

/// The drivers of a room sit on one phase.
pub static RULE: Rule = Rule {
    id: "one-phase-per-room",
    subject: Subject::Circuit,
    statement: "the drivers that light a room are all on one phase, unless the project spreads rooms",
    formula: "phases of the circuits whose drivers feed runs in the room",
    sources: &[
        (Region::Iec, "common practice, no source"),
        (Region::AusNz, "common practice, no source"),
    ],
    severity: Severity::Note,
    severities: &[],
    remedy: "circuits of the room on one phase; or `circuits: {spread_rooms: yes}`, with every phase marked at the room’s isolators",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    if evidence.project.supply.phases < 2 {
        return Vec::new();
    }
    let points = evidence.project.site.points.iter();
    points.filter_map(|room| of_room(evidence, room)).collect()
}

fn of_room(evidence: &Evidence<'_>, room: &Point) -> Option<Finding> {
    let drivers = evidence.sizing.drivers.iter();
    let here: BTreeSet<&str> = drivers
        .filter(|driver| driver.rooms.iter().any(|at| at.index == room.index))
        .map(|driver| driver.number.as_str())
        .collect();
    let circuits: Vec<_> = evidence
        .allocation
        .circuits
        .iter()
        .filter(|circuit| {
            circuit
                .drivers
                .iter()
                .any(|one| here.contains(one.as_str()))
        })
        .collect();
    let phases: BTreeSet<usize> = circuits.iter().map(|circuit| circuit.phase).collect();
    if phases.is_empty() {
        return None;
    }
    let subject = format!("room {}", room.name);
    if evidence.project.circuits.spread_rooms {
        let why = "the project spreads rooms over phases (`circuits.spread_rooms`)".to_owned();
        return Some(Finding::not_here(subject, why));
    }
    let mut finding = Finding::plain(subject, phases.len() == 1);
    finding.found = Some(Figure::new(real(phases.len()), Unit::Count));
    finding.limit = Some((Bound::AtMost, Figure::new(1.0, Unit::Count)));
    Some(finding.at(&evidence.project.circuits.place).remedy(|| {
        let named: Vec<String> = circuits
            .iter()
            .map(|circuit| format!("{} on phase {}", circuit.name, circuit.phase))
            .collect();
        format!(
            "one phase for {}; or set `circuits: {{spread_rooms: yes}}` and mark every phase at \
             the room’s isolators",
            named.join(", ")
        )
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn three_phases() -> Sample {
        let mut job = Sample::new();
        job.project.supply.phases = 3;
        let circuits = job.allocation.circuits.iter();
        let mut with_drivers = circuits.filter(|circuit| !circuit.drivers.is_empty());
        let mut other = with_drivers.next().expect("drivers have a circuit").clone();
        other.name = "C9".to_owned();
        job.allocation.circuits.push(other);
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = three_phases();
        job.allocation.circuits.last_mut().expect("there").phase = 2;
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let job = three_phases();
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn a_project_that_spreads_rooms_is_not_held_to_it() {
        let mut job = three_phases();
        job.allocation.circuits.last_mut().expect("there").phase = 2;
        job.project.circuits.spread_rooms = true;
        assert_eq!(job.worst(&RULE), "not here");
    }

    #[test]
    fn with_one_phase_there_is_nothing_to_judge() {
        assert_eq!(Sample::new().worst(&RULE), "nothing to judge");
    }
}

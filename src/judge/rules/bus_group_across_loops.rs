//! A group on several loops has a controller that joins them.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;

/// A group on several loops has a controller that joins them.
pub static RULE: Rule = Rule {
    id: "bus-group-across-loops",
    subject: Subject::Loop,
    statement: "a group with members on more than one loop is driven by a controller that joins those loops",
    formula: "loops that the group has members on, and the controllers they hang on",
    sources: &everywhere("common practice, no source"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "keep the group on one loop; a joining controller",
    caution: Some("without a controller that joins its loops, a room dims in two halves"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .project
        .groups
        .iter()
        .filter_map(|group| of_group(evidence, &group.name))
        .collect()
}

fn of_group(evidence: &Evidence<'_>, group: &str) -> Option<Finding> {
    let has_it = |bus: &&Loop| bus.groups.iter().any(|own| own.group == group);
    let loops: Vec<&Loop> = evidence.allocation.loops.iter().filter(has_it).collect();
    let first = loops.first()?;
    let joined = loops.iter().all(|bus| bus.controller == first.controller)
        && first
            .controller_item
            .as_ref()
            .is_some_and(|item| item.joins_loops);
    let mut finding = Finding::plain(format!("group {group}"), loops.len() < 2 || joined);
    finding.found = Some(Figure::new(real(loops.len()), Unit::Count));
    finding.limit = Some((Bound::AtMost, Figure::new(1.0, Unit::Count)));
    let finding = finding
        .at(&evidence.project.loops.place)
        .remedy(|| "a controller with `joins_loops: yes`, or smaller groups".to_owned());
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::bus::Controller;
    use std::sync::Arc;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        let mut other = job.allocation.loops[0].clone();
        other.controller = "CTL-2".to_owned();
        job.allocation.loops.push(other);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        let other = job.allocation.loops[0].clone();
        let item: &mut Controller = Arc::make_mut(
            job.allocation.loops[0]
                .controller_item
                .as_mut()
                .expect("a controller"),
        );
        item.joins_loops = true;
        job.allocation.loops.push(other);
        assert_eq!(job.worst(&RULE), "holds");
    }
}

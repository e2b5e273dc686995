//! Bus cable makes no closed loop.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use std::collections::BTreeMap;

/// Bus cable makes no closed loop.
pub static RULE: Rule = Rule {
    id: "bus-no-ring",
    subject: Subject::Loop,
    statement: "the bus is a line, a star or a tree: its cable makes no ring",
    formula: "stretches of cable whose two ends are joined already by the stretches before them",
    sources: &everywhere("IEC 62386-101"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "open the ring at one place",
    caution: Some(
        "a ring can appear at the second terminal of a unit: test each loop for continuity from end to end before it is closed up",
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
    let rings = rings(bus);
    let mut finding = Finding::plain(format!("loop {}", bus.name), rings.is_empty());
    finding.found = Some(Figure::new(real(rings.len()), Unit::Count));
    finding.limit = Some((Bound::AtMost, Figure::new(0.0, Unit::Count)));
    finding
        .at(&evidence.project.loops.place)
        .remedy(|| format!("leave out the bus cable {}", rings.join(", and that ")))
}

/// The stretches that close a ring, in words.
fn rings(bus: &Loop) -> Vec<String> {
    let mut joined: BTreeMap<usize, usize> = BTreeMap::new();
    let mut closing = Vec::new();
    for stretch in &bus.tree {
        let (from, to) = (
            root(&joined, stretch.from.index),
            root(&joined, stretch.to.index),
        );
        if from == to {
            closing.push(format!(
                "between `{}` and `{}`",
                stretch.from.name, stretch.to.name
            ));
        } else {
            joined.insert(to, from);
        }
    }
    closing
}

fn root(joined: &BTreeMap<usize, usize>, mut point: usize) -> usize {
    while let Some(next) = joined.get(&point) {
        point = *next;
    }
    point
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_when_a_stretch_closes_a_ring() {
        let mut job = Sample::new();
        let tree = &mut job.allocation.loops[0].tree;
        let mut back = tree[0].clone();
        std::mem::swap(&mut back.from, &mut back.to);
        tree.push(back);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_as_it_is() {
        let job = Sample::new();
        assert!(
            job.allocation.loops[0].tree.len() > 1,
            "a tree worth its name"
        );
        assert_eq!(job.worst(&RULE), "holds");
    }
}

//! No two members of a loop are too far apart.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::loops;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::iec_62386;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use uom::si::length::meter;

/// No two members of a loop are too far apart.
pub static RULE: Rule = Rule {
    id: "bus-distance",
    subject: Subject::Loop,
    statement: "no two members of a loop are further apart than 300 m of 1.5 mm² (150 m of 0.75 mm², 100 m of 0.5 mm²)",
    formula: "longest way along the loop’s cable between any two members, supply among them",
    sources: &everywhere("IEC 62386-101 and published bus guides"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "another loop; the controller nearer; a repeater",
    caution: None,
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
    let subject = format!("loop {}", bus.name);
    let place = &evidence.project.loops.place;
    let unmeasured = loops::unmeasured(bus, evidence.project.loops.temperature);
    let (Some(cable), None) = (bus.cable.as_ref(), &unmeasured) else {
        let missing = unmeasured.unwrap_or_else(|| "a bus cable".to_owned());
        return Finding::cannot_tell(subject, missing).at(place);
    };
    let Some(longest) = iec_62386::longest(cable.size.area()) else {
        return Finding::plain(subject, false)
            .at(&cable.offer.place)
            .remedy(|| "bus cable of at least 0.5 mm² (20 AWG)".to_owned());
    };
    let limit = Limit {
        value: longest.get::<meter>(),
        bound: Bound::AtMost,
        source: Source::Published("IEC 62386-101 and published bus guides"),
    };
    let found = Figure::new(bus.longest.get::<meter>(), Unit::Metre);
    Finding::measured(subject, found, &limit)
        .at(place)
        .remedy(|| "another loop, or the controller nearer (`loops.at`)".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::cable::Conductor;
    use crate::quantity::Length;
    use crate::quantity::conductor::ConductorSize;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].longest = Length::new::<meter>(310.0);
        assert_eq!(job.worst(&RULE), "broken");
    }

    /// Published bus guides start at 0.5 mm²; 22 AWG is 0.33 mm² (ASTM B258), 20 AWG 0.52 mm².
    #[test]
    fn a_conductor_thinner_than_any_that_a_bus_may_have_breaks_it_at_any_length() {
        let with = |gauge: i32| {
            let mut job = Sample::new();
            for bus in &mut job.allocation.loops {
                bus.longest = Length::new::<meter>(1.0);
                let cable = bus.cable.as_mut().expect("a bus cable");
                let cable = std::sync::Arc::make_mut(cable);
                cable.size = ConductorSize::Awg(gauge);
                cable.conductor = Conductor::AwgStranded;
            }
            job.worst(&RULE)
        };
        assert_eq!(with(22), "broken");
        assert_eq!(with(20), "holds");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].longest = Length::new::<meter>(300.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.allocation.loops[0].cable = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

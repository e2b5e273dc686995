//! A size in AWG and one in mm² are the same only by area.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::cable::Cable;
use crate::model::project::Severity;
use crate::norms::astm_b258::SAME_AREA;
use crate::norms::limit::Bound;
use crate::quantity::conductor::ConductorSize;
use crate::quantity::figure::{Figure, Unit};
use std::collections::BTreeMap;
use uom::si::area::square_millimeter;

/// A size in AWG and one in mm² are the same only by area.
pub static RULE: Rule = Rule {
    id: "cable-size-unit",
    subject: Subject::Cable,
    statement: "a cable that is marked in mm² and in AWG has the same area by both, to 3 %",
    formula: "area of `also_marked` against that of `size`: 18 AWG is 0.823 mm², 16 AWG 1.31 mm², 14 AWG 2.08 mm²",
    sources: &everywhere("ASTM B258; 3 % for a rounded marking (common practice, no source)"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "give the size that the maker states first, and convert it by area",
    caution: Some(
        "18 AWG is not 1 mm²: a size is converted by its area, never to the nearest name",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let feeds = evidence.sizing.cables.iter().map(|cable| &*cable.item);
    let loops = evidence.allocation.loops.iter();
    let circuits = evidence.allocation.circuits.iter();
    let used: BTreeMap<&str, &Cable> = feeds
        .chain(loops.filter_map(|bus| bus.cable.as_deref()))
        .chain(circuits.filter_map(|circuit| circuit.cable.as_deref()))
        .map(|cable| (cable.offer.id.as_str(), cable))
        .collect();
    used.into_values().filter_map(of_cable).collect()
}

/// `None` for a cable with one marking: there is nothing to mistake.
pub(in crate::judge) fn of_cable(cable: &Cable) -> Option<Finding> {
    let also = cable.marking.also_marked?;
    let mm2 = |size: ConductorSize| size.area().get::<square_millimeter>();
    let (size, other) = (mm2(cable.size), mm2(also));
    let apart = (other / size - 1.0).abs();
    let mut finding = Finding::plain(format!("cable {}", cable.offer.id), apart <= SAME_AREA);
    finding.found = Some(Figure::new(100.0 * apart, Unit::Percent));
    finding.limit = Some((Bound::AtMost, Figure::new(100.0 * SAME_AREA, Unit::Percent)));
    Some(finding.at(&cable.offer.place).remedy(|| {
        format!(
            "`size: {}` is {size:.3} mm² and `also_marked: {also}` is {other:.3} mm²: ask the maker which it is, and leave the other out",
            cable.size
        )
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Area;
    use std::sync::Arc;

    /// The sample, its first feed cable of that gauge and marked with those mm².
    fn job(gauge: i32, mm2: f64) -> Sample {
        let mut job = Sample::new();
        let item = Arc::make_mut(&mut job.sizing.cables[0].item);
        item.size = ConductorSize::Awg(gauge);
        let area = Area::new::<square_millimeter>(mm2);
        item.marking.also_marked = Some(ConductorSize::Metric(area));
        item.offer.id = "a-first".to_owned();
        job
    }

    #[test]
    fn breaks_when_the_nearest_name_was_taken() {
        assert_eq!(job(18, 1.0).worst(&RULE), "broken");
        assert_eq!(job(16, 1.5).worst(&RULE), "broken");
        assert_eq!(job(14, 2.5).worst(&RULE), "broken");
    }

    // ASTM B258: 18 AWG 0.823 mm², 16 AWG 1.31 mm², 14 AWG 2.08 mm².
    #[test]
    fn holds_when_it_was_converted_by_area() {
        assert_eq!(job(18, 0.82).worst(&RULE), "holds");
        assert_eq!(job(16, 1.3).worst(&RULE), "holds");
        assert_eq!(job(14, 2.1).worst(&RULE), "holds");
    }

    // 1.0 mm² is 21.5 % more than 0.823 mm², which is 18 AWG.
    #[test]
    fn how_far_apart_the_two_are_is_told_in_percent() {
        let job = job(18, 1.0);
        let finding = check(&job.evidence()).remove(0);
        let found = finding.found.expect("a figure").value;
        assert!((found - 21.5).abs() < 0.05, "{found}");
        let (bound, limit) = finding.limit.expect("a limit");
        assert_eq!(bound, Bound::AtMost);
        assert!((limit.value / 100.0 - SAME_AREA).abs() < 1e-12, "{limit}");
    }

    #[test]
    fn with_one_marking_there_is_nothing_to_judge() {
        assert_eq!(Sample::new().worst(&RULE), "nothing to judge");
    }
}

//! Strip is cut on its marks.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use uom::si::length::{meter, millimeter};

/// Strip is cut on its marks.
pub static RULE: Rule = Rule {
    id: "cut-increment",
    subject: Subject::Strip,
    statement: "every section is a whole number of cuts long, rounded down to fit",
    formula: "whole part of length / cut, times the cut; the rest is the gap at the end",
    sources: &everywhere("datasheet; round down to fit, never up (common practice, no source)"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a length on a cut mark; a strip with another cut; the end moved to a mark",
    caution: Some("a cut off the mark kills the whole end segment"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.runs.iter().map(of_run).collect()
}

fn of_run(sized: &SizedRun) -> Finding {
    let cut = sized.run.strip.cut;
    let off = |section: &crate::choose::sized::Section| {
        let marks = cut * real(section.segments);
        (section.length - marks).get::<millimeter>().abs()
    };
    let furthest = sized.sections.iter().map(off).fold(0.0, f64::max);
    // A tenth of a millimetre is a saw's own width.
    let limit = Limit {
        value: 0.1,
        bound: Bound::AtMost,
        source: Source::Datasheet,
    };
    let found = Figure::new(furthest, Unit::Millimetre);
    let subject = format!("run {}", sized.run.name);
    Finding::measured(subject, found, &limit)
        .working(|| {
            format!(
                "{} asked for = {} cuts of {} + {} at the end",
                Figure::new(sized.run.length.get::<meter>(), Unit::Metre),
                sized.segments,
                Figure::new(cut.get::<millimeter>(), Unit::Millimetre),
                Figure::new(
                    (sized.run.length - sized.length).get::<millimeter>(),
                    Unit::Millimetre
                ),
            )
        })
        .at(&sized.run.place)
        .remedy(|| {
            format!(
                "set `length: {} m`, on a cut mark",
                crate::quantity::figure::Figure::new(sized.length.get::<meter>(), Unit::Metre)
                    .number()
            )
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Length;

    #[test]
    fn breaks_off_the_mark() {
        let mut job = Sample::new();
        job.sizing.runs[0].sections[0].length += Length::new::<millimeter>(0.2);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_on_the_mark_and_tells_the_rest() {
        let job = Sample::with("length: 4.2 m", "length: 4.23 m");
        assert_eq!(job.worst(&RULE), "holds");
        let working = check(&job.evidence())[0].working.clone();
        let working = working.expect("worked");
        assert_eq!(
            working,
            "4.23 m asked for = 84 cuts of 50 mm + 30 mm at the end"
        );
    }
}

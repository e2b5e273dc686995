//! A run falls short of the length asked for by no more than allowed.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::Limit;
use crate::quantity::figure::{Figure, Unit};
use uom::si::length::{meter, millimeter};

/// A run falls short of the length asked for by no more than allowed.
pub static RULE: Rule = Rule {
    id: "end-gap",
    subject: Subject::Strip,
    statement: "after fitting down to whole cut segments a run ends no further from its end than the room accepts",
    formula: "length asked for less the length of whole segments",
    sources: &everywhere("common practice, no source: 50 mm"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "a strip with a smaller cut; centre the strip to share the gap",
    caution: Some(
        "cut strip on its cut marks alone: a cut off the mark kills the whole end segment",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .sizing
        .runs
        .iter()
        .map(|sized| of_run(evidence, sized))
        .collect()
}

fn of_run(evidence: &Evidence<'_>, sized: &SizedRun) -> Finding {
    let gap = sized.run.length - sized.length;
    let own = &evidence.project.limits.end_gap;
    let limit = Limit {
        value: own.value.get::<millimeter>(),
        bound: own.bound,
        source: own.source.clone(),
    };
    let found = Figure::new(gap.get::<millimeter>().max(0.0), Unit::Millimetre);
    Finding::measured(format!("run {}", sized.run.name), found, &limit)
        .working(|| {
            let metres = |length: crate::quantity::Length| length.get::<meter>();
            format!(
                "{:.2} m asked for − {:.2} m of whole segments = {found}",
                metres(sized.run.length),
                metres(sized.length)
            )
        })
        .at(&sized.run.place)
        .remedy(|| "choose a strip with a smaller cut, or centre the strip".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Length;
    use std::sync::Arc;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        Arc::make_mut(&mut job.sizing.runs[0].run).length =
            job.sizing.runs[0].length + Length::new::<millimeter>(50.1);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        Arc::make_mut(&mut job.sizing.runs[0].run).length =
            job.sizing.runs[0].length + Length::new::<millimeter>(50.0);
        assert_eq!(job.worst(&RULE), "holds");
    }
}

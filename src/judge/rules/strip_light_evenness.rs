//! The darkest place of a run is not too far below its brightest.

use crate::choose::limits;
use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::remedy;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use uom::si::ratio::percent;

/// The darkest place of a run is not too far below its brightest.
pub static RULE: Rule = Rule {
    id: "strip-light-evenness",
    subject: Subject::Strip,
    statement: "the darkest place of a run gives at least the allowed share of the light of its brightest",
    formula: "evenness = light of the darkest segment / light of the brightest, in the least even lit state",
    sources: &everywhere("common practice, no source: the complement of the light drop limit"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "feed it at both ends or in the middle; shorter sections; a regulated strip",
    caution: None,
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
    let limits = evidence.project.limits.of_run(&sized.run.limits);
    let checked = limits::evenness(&limits, sized.figures.evenness);
    Finding::checked(format!("run {}", sized.run.name), &checked)
        .working(|| {
            let most = sized.figures.light_most.get::<percent>();
            format!(
                "darkest / brightest ({most:.1} % of nominal) = {}",
                checked.found
            )
        })
        .resting_on(sized.light_assumed.as_ref())
        .at(&sized.run.feed_place)
        .remedy(|| remedy::of_run(evidence, sized))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Ratio;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.sizing.runs[0].figures.evenness = Ratio::new::<percent>(89.99);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.sizing.runs[0].figures.evenness = Ratio::new::<percent>(90.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.sizing.runs[0].light_assumed = Some(crate::model::assumption::Assumption {
            subject: "strip".into(),
            statement: "light starts at 21.1 V".into(),
            missing: "`light_starts_at`".into(),
            supplied_by: "the datasheet".into(),
        });
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

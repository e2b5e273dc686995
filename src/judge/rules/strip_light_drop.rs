//! The darkest place of a run loses no more light than allowed.

use crate::choose::limits;
use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::remedy;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::quantity::figure::{Figure, Unit};
use uom::si::length::meter;
use uom::si::ratio::ratio;

/// The darkest place of a run loses no more light than allowed.
pub static RULE: Rule = Rule {
    id: "strip-light-drop",
    subject: Subject::Strip,
    statement: "the darkest place of a run keeps its light within the allowed drop of nominal",
    formula: "light drop = 1 − light of the darkest segment / nominal light, the worst of all lit states, feed cable included; for a resistor strip a share v of the volts costs v / (1 − v₀/Vₙ) of the light",
    sources: &everywhere(
        "common practice, no source: 10 % on a continuous line of light, 5 % where both ends are seen together, 20 % on long gradients",
    ),
    severity: Severity::Fault,
    severities: &[],
    remedy: "feed it at both ends or in the middle; a heavier cable; shorter sections; a regulated strip",
    caution: Some(
        "judge light at full level: dimming by pulse width keeps the same drop along the strip",
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
    let limits = evidence.project.limits.of_run(&sized.run.limits);
    let checked = limits::light_drop(&limits, sized.figures.light_least);
    Finding::checked(format!("run {}", sized.run.name), &checked)
        .working(|| {
            let light = sized.figures.light_least.get::<ratio>();
            format!(
                "1 − {light:.4} = {} at {} from its start",
                checked.found,
                Figure::new(sized.figures.darkest_at.get::<meter>(), Unit::Metre)
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
    use uom::si::ratio::percent;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.sizing.runs[0].figures.light_least = Ratio::new::<percent>(89.99);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.sizing.runs[0].figures.light_least = Ratio::new::<percent>(90.0);
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

//! Runs seen together lose alike.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::remedy;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::judge::views::{View, of_several};
use crate::model::project::Severity;
use crate::quantity::Ratio;
use crate::quantity::figure::{Figure, Unit};
use uom::si::ratio::{percent, ratio};

/// Runs seen together lose alike.
pub static RULE: Rule = Rule {
    id: "white-balance-across-runs",
    subject: Subject::Scene,
    statement: "the brightest places of runs that are seen together are as bright as the evenness asks of one run",
    formula: "least of the runs’ brightest segments over the greatest of them, each in the state where its run is least even, against the evenness",
    sources: &everywhere(
        "common practice, no source: one feed arrangement, and cable that drops alike",
    ),
    severity: Severity::Note,
    severities: &[],
    remedy: "the same arrangement of feeds; cable sizes that drop alike; a heavier cable to the far runs",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let views = of_several(evidence);
    views
        .iter()
        .filter_map(|view| of_view(evidence, view))
        .collect()
}

fn of_view(evidence: &Evidence<'_>, view: &View<'_>) -> Option<Finding> {
    let by_light = |a: &&&SizedRun, b: &&&SizedRun| {
        let light = |sized: &SizedRun| sized.figures.light_most.get::<ratio>();
        light(a).total_cmp(&light(b))
    };
    let dimmest = view.runs.iter().min_by(by_light)?;
    let brightest = view.runs.iter().max_by(by_light)?;
    let percents = |share: Ratio| Figure::new(share.get::<percent>(), Unit::Percent);
    let (least, most) = (dimmest.figures.light_most, brightest.figures.light_most);
    let limits = &evidence.project.limits;
    let assumed = view
        .runs
        .iter()
        .find_map(|sized| sized.light_assumed.as_ref());
    let finding = Finding::share(view.subject.clone(), least / most, &limits.evenness)
        .resting_on(assumed)
        .working(|| {
            format!(
                "{} of run {} / {} of run {}",
                percents(least),
                dimmest.run.name,
                percents(most),
                brightest.run.name
            )
        })
        .at(&dimmest.run.feed_place)
        .remedy(|| remedy::of_run(evidence, dimmest));
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    /// Two runs of one view whose brightest places give so much light.
    fn job(light: [f64; 2]) -> Sample {
        let old = "group: line, cupboard: cupboard-a";
        let mut job = Sample::with(old, "group: line, view: all, cupboard: cupboard-a");
        let second = std::sync::Arc::make_mut(&mut job.sizing.runs[2].run);
        second.detail.view = Some("all".to_owned());
        for (run, light) in [1, 2].into_iter().zip(light) {
            job.sizing.runs[run].figures.light_most = Ratio::new::<percent>(light);
        }
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job([89.9, 100.0]).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job([90.0, 100.0]).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = job([90.0, 100.0]);
        job.sizing.runs[1].light_assumed = Some(crate::model::assumption::Assumption {
            subject: "strip".into(),
            statement: "light starts at 21.1 V".into(),
            missing: "`light_starts_at`".into(),
            supplied_by: "the datasheet".into(),
        });
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

//! Fades shorter than the bus's shortest are none.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::scene::Scene;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::Time;
use crate::quantity::figure::{Figure, Unit};
use crate::solve::dimming;
use uom::si::time::second;

/// Fades shorter than the bus's shortest are none.
pub static RULE: Rule = Rule {
    id: "fade-short",
    subject: Subject::Scene,
    statement: "a scene that fades takes at least 0.7 s: a shorter fade is none",
    formula: "`fade` against the fade time of code 1; the nearest code is sent",
    sources: &everywhere("IEC 62386-102 Table 4"),
    severity: Severity::Note,
    severities: &[],
    remedy: "a fade of 0.7 s or more; or none",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .project
        .scenes
        .iter()
        .filter_map(of_scene)
        .collect()
}

/// `None` for a scene that does not fade, or leaves it to the controller.
fn of_scene(scene: &Scene) -> Option<Finding> {
    let fade = scene.fade.filter(|fade| fade.get::<second>() > 0.0)?;
    let shortest = dimming::fade(1)?;
    let seconds = |time: Time| Figure::new(time.get::<second>(), Unit::Second);
    let limit = Limit {
        value: shortest.get::<second>(),
        bound: Bound::AtLeast,
        source: Source::Published("IEC 62386-102 Table 4"),
    };
    let code = dimming::fade_code(fade);
    let finding = Finding::measured(format!("scene {}", scene.name), seconds(fade), &limit)
        .working(|| match dimming::fade(code) {
            Some(given) => format!(
                "{} asked for: code {code}, {}",
                seconds(fade),
                seconds(given)
            ),
            None => format!("{} asked for: code 0, no fade", seconds(fade)),
        })
        .at(&scene.place)
        .remedy(|| format!("set `fade: {}`, or leave it out", seconds(shortest)));
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn job(fade: Option<f64>) -> Sample {
        let mut job = Sample::new();
        job.project.scenes[0].fade = fade.map(Time::new::<second>);
        job
    }

    #[test]
    fn breaks_below_its_limit() {
        assert_eq!(job(Some(0.69)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some(0.7)).worst(&RULE), "holds");
    }

    #[test]
    fn no_fade_is_none() {
        assert_eq!(job(Some(0.0)).worst(&RULE), "nothing to judge");
        assert_eq!(job(None).worst(&RULE), "nothing to judge");
    }
}

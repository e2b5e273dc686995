//! A scene asks for whites that its strips can give.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::run::Run;
use crate::model::scene::{Scene, SceneSetting};
use crate::model::strip::Channels;
use crate::norms::limit::Bound;
use crate::quantity::Temperature;
use crate::quantity::figure::{Figure, Unit};
use std::sync::Arc;
use uom::si::thermodynamic_temperature::kelvin;

/// A scene asks for whites that its strips can give.
pub static RULE: Rule = Rule {
    id: "white-range",
    subject: Subject::Scene,
    statement: "the white that a scene asks of a group lies between the warm and the cool white of every strip in it",
    formula: "white asked for against the strip’s warm and cool colour temperatures",
    sources: &everywhere("strip datasheet; IEC 62386-209"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "another white in the scene; another strip",
    caution: Some(
        "gear clips a white outside its range without a word: give the controller the strip’s own range",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let settings = |scene: &'_ Scene| {
        let of = |setting| of_setting(evidence, scene, setting);
        scene
            .settings
            .iter()
            .filter_map(of)
            .collect::<Vec<Finding>>()
    };
    evidence.project.scenes.iter().flat_map(settings).collect()
}

fn of_setting(evidence: &Evidence<'_>, scene: &Scene, setting: &SceneSetting) -> Option<Finding> {
    let asked = setting.white?;
    let subject = format!("scene {}, group {}", scene.name, setting.group.name);
    let in_group = |run: &&Arc<Run>| run.group.name == setting.group.name;
    let runs = evidence.project.runs.iter().filter(in_group);
    let verdicts: Vec<Finding> = runs
        .map(|run| of_run(subject.clone(), run, asked).at(&setting.place))
        .collect();
    verdicts.into_iter().reduce(Finding::or_worse)
}

fn of_run(subject: String, run: &Run, asked: Temperature) -> Finding {
    let Channels::TunableWhite { warm, cool } = &run.strip.channels else {
        return Finding::plain(subject, false).remedy(|| {
            format!(
                "leave `white` out: run `{}` is single colour and ignores it",
                run.name
            )
        });
    };
    let (Some(warm), Some(cool)) = (warm.white, cool.white) else {
        let missing = format!("`white` in strip `{}` (the datasheet)", run.strip.offer.id);
        return Finding::cannot_tell(subject, missing);
    };
    let kelvins = |t: Temperature| Figure::new(t.get::<kelvin>(), Unit::Kelvin);
    let (bound, nearest) = if asked < warm {
        (Bound::AtLeast, warm)
    } else {
        (Bound::AtMost, cool)
    };
    let mut finding = Finding::plain(subject, asked >= warm && asked <= cool);
    finding.found = Some(kelvins(asked));
    finding.limit = Some((bound, kelvins(nearest)));
    finding.remedy(|| {
        format!(
            "ask for {}: the nearest that strip `{}` gives",
            kelvins(nearest),
            run.strip.offer.id
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use uom::si::thermodynamic_temperature::kelvin;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.project.scenes[0].settings[0].white = Some(Temperature::new::<kelvin>(2699.0));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.project.scenes[0].settings[0].white = Some(Temperature::new::<kelvin>(2700.0));
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        let strip = Arc::make_mut(&mut Arc::make_mut(&mut job.project.runs[0]).strip);
        if let Channels::TunableWhite { warm, .. } = &mut strip.channels {
            warm.white = None;
        }
        assert_eq!(job.worst(&RULE), "cannot tell");
    }

    #[test]
    fn a_single_colour_group_ignores_a_white() {
        let job = Sample::with("line: {light: 80 %}", "line: {light: 80 %, white: 3000 K}");
        assert_eq!(job.worst(&RULE), "broken");
    }
}

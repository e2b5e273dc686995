//! Scenes ask for no less light than drivers hold steadily.

use crate::choose::sized::SizedDriver;
use crate::model::scene::{Scene, SceneSetting};
use crate::quantity::Ratio;
use uom::si::ratio::percent;

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};

/// Scenes ask for no less light than drivers hold steadily.
pub static RULE: Rule = Rule {
    id: "least-dim-level",
    subject: Subject::Scene,
    statement: "a scene’s light is off, or at least the lowest level that every driver of the group holds steadily",
    formula: "light asked for against `least_level`",
    sources: &everywhere("datasheet; IEC 62386-102 physical minimum"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "a higher level in the scene; a driver that dims lower",
    caution: None,
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
    if setting.light.get::<percent>() <= 0.0 {
        return None;
    }
    let subject = format!("scene {}, group {}", scene.name, setting.group.name);
    let drivers: Vec<&SizedDriver> = evidence.sizing.serving(&setting.group.name).collect();
    let levels: Option<Vec<_>> = drivers.iter().map(|d| d.item.least_level).collect();
    let Some(levels) = levels else {
        let silent = drivers
            .iter()
            .find(|driver| driver.item.least_level.is_none())?;
        let missing = format!(
            "`least_level` in driver `{}` (the datasheet)",
            silent.item.offer.id
        );
        return Some(Finding::cannot_tell(subject, missing).at(&silent.item.offer.place));
    };
    let least = levels.into_iter().reduce(Ratio::max)?;
    let limit = Limit {
        value: least,
        bound: Bound::AtLeast,
        source: Source::Datasheet,
    };
    let finding = Finding::share(subject, setting.light, &limit)
        .at(&setting.place)
        .remedy(|| format!("ask for at least {} %", least.get::<percent>()));
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.driver().least_level = Some(Ratio::new::<percent>(90.1));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.driver().least_level = Some(Ratio::new::<percent>(90.0));
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.driver().least_level = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}

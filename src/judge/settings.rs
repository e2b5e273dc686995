//! What several scene rules share: each thing that a scene asks of a group.

use super::rule::Evidence;
use crate::model::scene::SceneSetting;

/// Every setting of every scene, with what a verdict about it is of.
pub fn all<'a>(evidence: &Evidence<'a>) -> Vec<(String, &'a SceneSetting)> {
    let scenes = evidence.project.scenes.iter();
    scenes
        .flat_map(|scene| {
            let subject = |setting: &SceneSetting| {
                format!("scene {}, group {}", scene.name, setting.group.name)
            };
            scene
                .settings
                .iter()
                .map(move |setting| (subject(setting), setting))
        })
        .collect()
}

//! Groups and scenes of a project.

use super::desk::Desk;
use super::measure::{FadeTime, LumensPerLength, Share, White};
use super::nearest::hint;
use super::plain::{Name, NewName, Text};
use super::site::first_use;
use super::written::{Entries, Reads, Span, Written};
use crate::model::scene::{Group, Scene, SceneSetting};
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Runs that dim together.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct GroupBlock {
    /// Its name in this file.
    #[schemars(required)]
    group: Option<Written<NewName>>,
    /// Its name for people; the name when left out.
    name: Option<Written<Text>>,
}

/// A scene.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct SceneBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Its name.
    #[schemars(required)]
    scene: Option<Written<NewName>>,
    /// What it sets, by group.
    #[schemars(required)]
    set: Option<Entries<SettingBlock>>,
    /// The time it takes to fade in.
    fade: Option<Written<FadeTime>>,
}

/// What a scene asks of a group.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct SettingBlock {
    /// Light, of full.
    #[schemars(required)]
    light: Option<Written<Share>>,
    /// White; stays as it is when left out.
    white: Option<Written<White>>,
    /// Least light asked of each metre of its strip at that.
    at_least: Option<Written<LumensPerLength>>,
}

/// What a run says of the group that it dims with.
#[derive(Clone, Copy)]
pub struct Membership<'a> {
    /// The run's name.
    pub run: Option<&'a Written<NewName>>,
    /// The group; one of its own, named as the run, when left out.
    pub group: Option<&'a Written<Name>>,
}

/// The groups of a project: those of the file, then one for each run that names none.
#[derive(Debug, Default)]
pub struct Groups {
    /// In order.
    pub list: Vec<Arc<Group>>,
    names: BTreeMap<String, usize>,
}

impl Groups {
    /// Reads the groups. A project that lists none has those that its runs name, in their order;
    /// one that lists some is held to them.
    pub fn read(blocks: &[GroupBlock], runs: &[Membership], desk: &mut Desk) -> Groups {
        let mut groups = Groups::default();
        for block in blocks {
            let title = desk.read(&block.name);
            let Some(written) = &block.group else {
                continue;
            };
            let Some(name) = desk.one(written) else {
                continue;
            };
            if first_use(&mut groups.names, "group", written, desk) {
                groups.add(name, title);
            }
        }
        if blocks.is_empty() {
            for name in runs.iter().filter_map(|run| run.group) {
                let name = NewName::read(&name.text).ok();
                if let Some(name) = name.filter(|name| groups.named(name).is_none()) {
                    groups.add(name, None);
                }
            }
        }
        for run in runs.iter().filter(|run| run.group.is_none()) {
            let name = run.run.and_then(|name| NewName::read(&name.text).ok());
            if let Some(name) = name.filter(|name| groups.named(name).is_none()) {
                groups.add(name, None);
            }
        }
        groups
    }

    fn add(&mut self, name: String, title: Option<String>) {
        self.list.push(Arc::new(Group {
            title: title.unwrap_or_else(|| name.clone()),
            name,
            index: self.list.len(),
        }));
    }

    fn named(&self, name: &str) -> Option<Arc<Group>> {
        self.list.iter().find(|group| group.name == name).cloned()
    }

    /// The group of a run. `None` when it names one that is not there; then there is a complaint.
    pub fn of_run(&self, run: Membership, subject: &str, desk: &mut Desk) -> Option<Arc<Group>> {
        match run.group {
            Some(written) => self.find(written, subject, desk),
            None => self.named(&run.run?.text),
        }
    }

    /// The group of a name. `None` when there is none; then there is a complaint, begun with
    /// `subject`.
    pub fn find(
        &self,
        written: &Written<Name>,
        subject: &str,
        desk: &mut Desk,
    ) -> Option<Arc<Group>> {
        let name = desk.one(written)?;
        let found = self.named(&name);
        if found.is_none() && !self.names.contains_key(&name) {
            let known: Vec<_> = self.list.iter().map(|group| group.name.as_str()).collect();
            let hint = hint(&name, &known);
            let message = format!("{subject}: there is no group `{name}`{hint}");
            desk.complain("unknown-id", message, written.at);
        }
        found
    }
}

/// Reads the scenes.
pub fn read(blocks: &[SceneBlock], groups: &Groups, desk: &mut Desk) -> Vec<Scene> {
    let mut scenes = Vec::with_capacity(blocks.len());
    let mut names = BTreeMap::new();
    for block in blocks {
        let name = desk.read(&block.scene);
        let fade = desk.read(&block.fade);
        let Some(written) = &block.scene else {
            continue;
        };
        first_use(&mut names, "scene", written, desk);
        let subject = format!("scene `{}`", written.text);
        let entries = block.set.iter().flat_map(|set| &set.0);
        let mut settings = Vec::new();
        for entry in entries {
            let group = groups.find(&entry.key, &subject, desk);
            let light = desk.read(&entry.value.light);
            let white = desk.read(&entry.value.white);
            let at_least = desk.read(&entry.value.at_least);
            if let (Some(group), Some(light)) = (group, light) {
                settings.push(SceneSetting {
                    group,
                    light,
                    white,
                    at_least,
                    place: desk.place(entry.key.at),
                });
            }
        }
        if let Some(name) = name {
            scenes.push(Scene {
                name,
                settings,
                fade,
                place: desk.place(block.place),
            });
        }
    }
    scenes
}

//! The group and scene schedule: numbers on each loop, what each scene asks of each group, and the
//! range of whites that controllers must be told.

use super::cell::joined;
use super::{Cell, Column, Part, Table, whites};
use crate::allocate::allocated::{Loop, LoopGroup};
use crate::model::run::Run;
use crate::model::scene::{Group, Scene, SceneSetting};
use crate::present::job::Job;
use crate::present::measured;
use crate::quantity::figure::Unit;
use crate::quantity::{Ratio, Temperature, Time};
use crate::solve::dimming;
use std::sync::Arc;

/// The parts of the group and scene schedule.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut parts = vec![groups(job), scenes(job)];
    parts.extend(whites::part(job));
    parts
}

fn groups(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("loop", "Loop"),
        Column::number("number", "Group"),
        Column::text("group", "Name"),
        Column::long_text("title", "Title"),
        Column::long_text("members", "Members: address and device"),
    ]);
    for on in &job.allocation.loops {
        for group in &on.groups {
            table.row(vec![
                Cell::text(&on.name),
                Cell::count(group.number),
                Cell::text(&group.group),
                Cell::text(&group.title),
                Cell::names(members(on, group)),
            ]);
        }
    }
    Part::table("groups", "Groups on each loop", table)
}

fn members(on: &Loop, group: &LoopGroup) -> Vec<String> {
    on.members
        .iter()
        .filter(|member| member.groups.contains(&group.number))
        .map(|member| {
            let addresses: Vec<_> = member.addresses.iter().map(ToString::to_string).collect();
            format!("{} {}", addresses.join("+"), member.device)
        })
        .collect()
}

fn scenes(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("loop", "Loop").data_only(),
        Column::number("number", "Scene").data_only(),
        Column::text("scene", "Name").data_only(),
        Column::text("group", "Group"),
        Column::figure("light_percent", "Light", Unit::Percent),
        Column::number("level", "Level"),
        Column::figure("white_k", "White", Unit::Kelvin),
        Column::figure("white_mirek", "White", Unit::Mirek),
        Column::figure("fade_s", "Fade", Unit::Second),
        Column::number("fade_code", "Fade code"),
        Column::long_text("remarks", "Remarks"),
    ]);
    for on in &job.allocation.loops {
        for (number, name) in on.scenes.iter().enumerate() {
            let Some(scene) = job.project.scenes.iter().find(|scene| &scene.name == name) else {
                continue;
            };
            let settings = settings_on(on, scene);
            let none = if settings.is_empty() {
                ", of no group here: all keep what they have"
            } else {
                ""
            };
            table.group(format!("Loop {}, scene {number}: {name}{none}", on.name));
            for setting in settings {
                table.row(setting_row(job, on, number, scene, setting));
            }
        }
    }
    let mut part = Part::table("scene-schedule", "Scenes on each loop", table);
    part.notes.push(
        "Level is 0 to 254 on the logarithmic curve of IEC 62386-102; white is sent as whole \
         mirek. A group without a level or white in a scene keeps what it has. A fade code is the \
         nearest that there is to the fade asked for."
            .to_owned(),
    );
    part.notes.extend(
        job.project
            .groups
            .iter()
            .filter_map(|group| two_units(job, group)),
    );
    part
}

/// Said of a group some of whose whites are dimmed by two single-channel units.
fn two_units(job: &Job, group: &Group) -> Option<String> {
    let units: Vec<String> = job
        .sizing
        .serving(&group.name)
        .filter_map(|driver| Some((driver, driver.half.as_ref()?)))
        .map(|(driver, half)| format!("{} {}", driver.number, half.white()))
        .collect();
    (!units.is_empty()).then(|| {
        format!(
            "{}: {} are single-channel units: they take no white from the bus. Give each the level \
             at which the mix has the white asked for.",
            group.title,
            joined(units.iter().map(String::as_str))
        )
    })
}

/// What a scene sets on groups of this loop, by group number.
fn settings_on<'a>(on: &Loop, scene: &'a Scene) -> Vec<&'a SceneSetting> {
    let number = |setting: &SceneSetting| {
        on.groups
            .iter()
            .find(|group| group.group == setting.group.name)
            .map(|group| group.number)
    };
    let mut settings: Vec<_> = scene
        .settings
        .iter()
        .filter(|setting| number(setting).is_some())
        .collect();
    settings.sort_by_key(|setting| number(setting));
    settings
}

/// A white in whole mirek.
pub(super) fn mirek(white: Temperature) -> Cell {
    Cell::known(
        dimming::mirek(white),
        |mirek| Cell::figure(f64::from(mirek), Unit::Mirek),
        "no mirek value stands for this white",
    )
}

/// A light as the level that the bus sends.
pub(super) fn level(light: Ratio) -> Cell {
    Cell::known(
        dimming::level(light),
        |level| Cell::count(usize::from(level)),
        "the light asked for is not between 0 and 100 %",
    )
}

/// A fade time asked for, and the code nearest to it.
pub(super) fn fade_cells(fade: Option<Time>) -> [Cell; 2] {
    match fade {
        None => [Cell::Empty, Cell::Empty],
        Some(fade) => [
            Cell::figure(measured::seconds(fade), Unit::Second),
            Cell::count(usize::from(dimming::fade_code(fade))),
        ],
    }
}

/// What the one who sets a scene up has to know of a setting.
pub(super) fn remark(job: &Job, scene: &Scene, setting: &SceneSetting) -> String {
    let of_group = |run: &&Arc<Run>| run.group.index == setting.group.index;
    let runs: Vec<_> = job.project.runs.iter().filter(of_group).collect();
    let single = |run: &&Arc<Run>| run.strip.channels.count() == 1;
    let mut remarks: Vec<String> = Vec::new();
    if !runs.is_empty() && runs.iter().all(&single) {
        remarks.push(match setting.white {
            Some(_) => "single colour: the white is not obeyed".to_owned(),
            None => "single colour: level alone".to_owned(),
        });
    } else if runs.iter().any(single) {
        remarks.push("some of its strip is single colour and takes the level alone".to_owned());
    } else if setting.white.is_none() {
        remarks.push("keeps its white".to_owned());
    }
    remarks.extend(scene.fade.and_then(fade_remark));
    let on: Vec<&str> = job
        .allocation
        .loops_of(&setting.group.name)
        .map(|on| on.name.as_str())
        .collect();
    if on.len() > 1 {
        remarks.push(format!("on loops {}", on.join(" and ")));
    }
    remarks.join("; ")
}

/// What becomes of a fade time that the table does not have.
fn fade_remark(wanted: Time) -> Option<String> {
    let seconds = measured::seconds(wanted);
    let code = dimming::fade_code(wanted);
    let Some(nearest) = dimming::fade(code).map(measured::seconds) else {
        return (seconds > 0.0).then(|| format!("{seconds} s is too short to fade: code 0"));
    };
    let apart = (nearest - seconds).abs();
    if seconds > nearest && apart > 1.0 && code == 15 {
        return Some(format!(
            "the table ends at {nearest:.1} s: set {seconds} s as extended fade time"
        ));
    }
    (apart > 0.05).then(|| format!("fades in {nearest:.1} s, the nearest in the table"))
}

fn setting_row(
    job: &Job,
    on: &Loop,
    number: usize,
    scene: &Scene,
    setting: &SceneSetting,
) -> Vec<Cell> {
    let [fade, code] = fade_cells(scene.fade);
    vec![
        Cell::text(&on.name),
        Cell::count(number),
        Cell::text(&scene.name),
        Cell::text(&setting.group.title),
        Cell::percent(setting.light),
        level(setting.light),
        setting.white.map_or(Cell::Empty, Cell::kelvin),
        setting.white.map_or(Cell::Empty, mirek),
        fade,
        code,
        Cell::text(remark(job, scene, setting)),
    ]
}

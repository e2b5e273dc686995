//! The group and scene schedule: numbers on each loop, and what each scene asks of each group.

use super::cell::joined;
use super::{Cell, Column, Part, Table};
use crate::allocate::allocated::{Loop, LoopGroup};
use crate::model::scene::{Group, Scene, SceneSetting};
use crate::present::job::Job;
use crate::present::measured;
use crate::quantity::Temperature;
use crate::quantity::figure::Unit;
use crate::solve::dimming;

/// The parts of the group and scene schedule.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    vec![groups(job), scenes(job)]
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
    ]);
    for on in &job.allocation.loops {
        for (number, name) in on.scenes.iter().enumerate() {
            let Some(scene) = job.project.scenes.iter().find(|scene| &scene.name == name) else {
                continue;
            };
            table.group(format!("Loop {}, scene {number}: {name}", on.name));
            for setting in settings_on(on, scene) {
                table.row(setting_row(on, number, scene, setting));
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
    let drivers = job.sizing.drivers.iter();
    let units: Vec<String> = drivers
        .filter(|driver| driver.group.name == group.name)
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

fn mirek(white: Temperature) -> Cell {
    Cell::known(
        dimming::mirek(white),
        |mirek| Cell::figure(f64::from(mirek), Unit::Mirek),
        "no mirek value stands for this white",
    )
}

fn setting_row(on: &Loop, number: usize, scene: &Scene, setting: &SceneSetting) -> Vec<Cell> {
    vec![
        Cell::text(&on.name),
        Cell::count(number),
        Cell::text(&scene.name),
        Cell::text(&setting.group.title),
        Cell::percent(setting.light),
        Cell::known(
            dimming::level(setting.light),
            |level| Cell::count(usize::from(level)),
            "the light asked for is not between 0 and 100 %",
        ),
        setting.white.map_or(Cell::Empty, Cell::kelvin),
        setting.white.map_or(Cell::Empty, mirek),
        scene.fade.map_or(Cell::Empty, |fade| {
            Cell::figure(measured::seconds(fade), Unit::Second)
        }),
        scene.fade.map_or(Cell::Empty, |fade| {
            Cell::count(usize::from(dimming::fade_code(fade)))
        }),
    ]
}

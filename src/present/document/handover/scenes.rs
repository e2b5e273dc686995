//! Scenes in plain words, how they are called, and what is there to call them with.

use super::super::cell::joined;
use super::super::{Cell, Column, Part, Table};
use crate::model::scene::{Scene, SceneSetting};
use crate::present::job::Job;
use crate::present::measured;
use crate::quantity::figure::{Figure, Unit};

/// The parts: scenes, then panels, sensors and other control devices.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut parts = vec![scenes(job)];
    if !job.project.devices.is_empty() {
        parts.push(devices(job));
    }
    parts
}

/// How scenes are called, in short.
pub(super) fn calls(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("scene", "Scene"),
        Column::text("number", "Number"),
        Column::long_text("called_by", "Called by (button, time)"),
    ]);
    for scene in &job.project.scenes {
        table.row(vec![
            Cell::text(&scene.name),
            Cell::text(numbers(job, scene)),
            Cell::Blank,
        ]);
    }
    let mut part = Part::table("handover-calls", "How scenes are called", table);
    part.notes.push(if job.project.scenes.is_empty() {
        "The project has no scenes.".to_owned()
    } else {
        "A scene is called on its loops by its number. Which button or hour calls it is set on \
         site: write it in."
            .to_owned()
    });
    part
}

fn scenes(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("scene", "Scene"),
        Column::text("number", "Number"),
        Column::long_text("does", "What it does"),
        Column::figure("fade_s", "Fade", Unit::Second),
    ]);
    for scene in &job.project.scenes {
        let does = scene.settings.iter().map(asked_for);
        let fade = scene.fade.map(measured::seconds);
        table.row(vec![
            Cell::text(&scene.name),
            Cell::text(numbers(job, scene)),
            Cell::text(does.collect::<Vec<_>>().join("; ")),
            fade.map_or(Cell::Empty, |fade| Cell::figure(fade, Unit::Second)),
        ]);
    }
    let mut part = Part::table("handover-scenes", "What each scene does", table);
    part.notes.push(if job.project.scenes.is_empty() {
        "The project has no scenes.".to_owned()
    } else {
        "A group that a scene does not name keeps what it has.".to_owned()
    });
    part
}

/// `0 on L1, L2`: a scene may have another number on another loop.
fn numbers(job: &Job, scene: &Scene) -> String {
    let mut numbered: Vec<(usize, Vec<&str>)> = Vec::new();
    for on in &job.allocation.loops {
        let Some(number) = on.scenes.iter().position(|name| *name == scene.name) else {
            continue;
        };
        match numbered.iter_mut().find(|(known, _)| *known == number) {
            Some((_, loops)) => loops.push(&on.name),
            None => numbered.push((number, vec![&on.name])),
        }
    }
    numbered.sort_unstable();
    let words = numbered
        .iter()
        .map(|(number, loops)| format!("{number} on {}", joined(loops)));
    let words: Vec<String> = words.collect();
    match words.is_empty() {
        true => "on no loop".to_owned(),
        false => words.join("; "),
    }
}

fn devices(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("room", "Room"),
        Column::text("device", "Name"),
        Column::number("count", "Number"),
        Column::text("item", "Item"),
        Column::long_text("description", "What it is"),
    ]);
    let mut order: Vec<_> = job.project.devices.iter().collect();
    order.sort_by_key(|set| set.room.index);
    for set in order {
        table.row(vec![
            Cell::text(&set.room.title),
            Cell::text(&set.name),
            Cell::count(set.count),
            Cell::text(&set.item.offer.id),
            Cell::text(&set.item.offer.description),
        ]);
    }
    Part::table(
        "handover-devices",
        "Panels, sensors and other control devices",
        table,
    )
}

/// `Reading hall cove 90.0 %, 4000 K`.
fn asked_for(setting: &SceneSetting) -> String {
    let light = Figure::new(measured::percent(setting.light), Unit::Percent);
    let white = setting.white.map_or_else(String::new, |white| {
        format!(", {}", Figure::new(measured::kelvin(white), Unit::Kelvin))
    });
    format!("{} {light}{white}", setting.group.title)
}

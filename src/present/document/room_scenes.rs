//! A scene sheet for each room: what its groups do in each scene, and what calls it.

use super::scenes::{fade_cells, level, mirek, remark};
use super::{Cell, Column, Part, Table};
use crate::model::scene::{Group, Scene};
use crate::model::site::Point;
use crate::present::job::Job;
use crate::quantity::figure::Unit;
use std::collections::BTreeSet;
use std::sync::Arc;

/// One part for each room that has light in it.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let site = &job.project.site;
    site.points
        .iter()
        .map(|room| (room, groups(job, room)))
        .filter(|(_, groups)| !groups.is_empty())
        .map(|(room, groups)| sheet(job, room, &groups))
        .collect()
}

/// The groups with a run in a room, in project order.
fn groups<'a>(job: &'a Job, room: &Point) -> Vec<&'a Arc<Group>> {
    let runs = job.project.runs.iter();
    let in_room = runs.filter(|run| run.room.index == room.index);
    let lit: BTreeSet<usize> = in_room.map(|run| run.group.index).collect();
    let here = |group: &&Arc<Group>| lit.contains(&group.index);
    job.project.groups.iter().filter(here).collect()
}

fn sheet(job: &Job, room: &Point, groups: &[&Arc<Group>]) -> Part {
    let mut table = Table::new(vec![
        Column::text("room", "Room").data_only(),
        Column::text("scene", "Scene").data_only(),
        Column::text("group", "Group"),
        Column::figure("light_percent", "Light", Unit::Percent),
        Column::number("level", "Level"),
        Column::figure("white_k", "White", Unit::Kelvin),
        Column::figure("white_mirek", "White", Unit::Mirek),
        Column::figure("fade_s", "Fade", Unit::Second),
        Column::number("fade_code", "Fade code"),
        Column::long_text("remarks", "Remarks"),
    ]);
    for scene in &job.project.scenes {
        table.group(numbered(job, scene));
        for group in groups {
            table.row(row(job, room, scene, group));
        }
    }
    let mut part = Part::table("scene-sheets", room.title.clone(), table);
    part.text = vec![called_by(job, room)];
    if job.project.scenes.is_empty() {
        part.table = None;
        part.notes.push("The project has no scenes.".to_owned());
    }
    part
}

/// `open (scene 0)`, with the loops where its number is another.
fn numbered(job: &Job, scene: &Scene) -> String {
    let mut numbers: Vec<usize> = job
        .allocation
        .loops
        .iter()
        .filter_map(|on| on.scenes.iter().position(|name| *name == scene.name))
        .collect();
    numbers.sort_unstable();
    numbers.dedup();
    let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    format!("{} (scene {})", scene.name, numbers.join(" or "))
}

fn row(job: &Job, room: &Point, scene: &Scene, group: &Arc<Group>) -> Vec<Cell> {
    let mut settings = scene.settings.iter();
    let setting = settings.find(|setting| setting.group.index == group.index);
    let mut cells = vec![
        Cell::text(&room.title),
        Cell::text(&scene.name),
        Cell::text(&group.title),
    ];
    let Some(setting) = setting else {
        cells.extend(std::iter::repeat_n(Cell::Empty, 6));
        cells.push(Cell::text("keeps what it has"));
        return cells;
    };
    let white = setting.white;
    cells.extend([
        Cell::percent(setting.light),
        level(setting.light),
        white.map_or(Cell::Empty, Cell::kelvin),
        white.map_or(Cell::Empty, mirek),
    ]);
    cells.extend(fade_cells(scene.fade));
    cells.push(Cell::text(remark(job, scene, setting)));
    cells
}

/// The control devices in a room, by set.
fn called_by(job: &Job, room: &Point) -> String {
    let sets: Vec<String> = job
        .project
        .devices
        .iter()
        .filter(|set| set.room.index == room.index)
        .map(|set| {
            format!(
                "{} × {} ({})",
                set.count, set.item.offer.description, set.name
            )
        })
        .collect();
    match sets.is_empty() {
        true => {
            "No control device is in this room: its scenes are called from elsewhere.".to_owned()
        }
        false => format!("Control devices here: {}.", sets.join("; ")),
    }
}

//! What the price is for, in plain words, counted from the job.

use super::Part;
use super::cell::joined;
use super::feet::feet_and_inches;
use crate::allocate::allocated::MemberKind;
use crate::norms::region::Region;
use crate::present::counts::counted;
use crate::present::job::Job;
use crate::present::measured::metres;
use crate::quantity::Length;
use crate::quantity::figure::{Figure, Unit};

/// The scope of the work.
pub(super) fn part(job: &Job) -> Part {
    Part::prose("Scope", lines(job))
}

/// The scope, a sentence each.
pub(crate) fn lines(job: &Job) -> Vec<String> {
    let mut text = vec![strip(job)];
    text.extend(rooms(job));
    text.push(drivers(job));
    text.extend(control(job));
    text.extend(mains(job));
    text.push(work(job));
    text.extend(more(job));
    text
}

/// A length in metres, with feet and inches first where people measure with such tapes.
fn shown(job: &Job, length: Length) -> String {
    let in_metres = Figure::new(metres(length), Unit::Metre).to_string();
    let in_feet = match job.project.region {
        Region::NorthAmerica => feet_and_inches(metres(length)),
        Region::Iec | Region::AusNz => None,
    };
    in_feet.map_or(in_metres.clone(), |feet| format!("{feet} ({in_metres})"))
}

fn strip(job: &Job) -> String {
    let runs = &job.sizing.runs;
    let length: Length = runs.iter().map(|sized| sized.length).sum();
    let in_profile: Length = runs
        .iter()
        .filter(|sized| sized.run.profile.is_some())
        .map(|sized| sized.length)
        .sum();
    let feeds: usize = runs
        .iter()
        .flat_map(|sized| &sized.sections)
        .map(|section| section.feeds.len())
        .sum();
    let profile = if metres(in_profile) > 0.0 {
        format!(", {} of it in profile", shown(job, in_profile))
    } else {
        String::new()
    };
    format!(
        "Supply of {} of LED strip in {}{profile}, fed at {}.",
        shown(job, length),
        counted(runs.len(), "run"),
        counted(feeds, "place"),
    )
}

/// Metres by room, in site order.
fn rooms(job: &Job) -> Option<String> {
    let mut rooms: Vec<(usize, &str, Length)> = Vec::new();
    for sized in &job.sizing.runs {
        let room = &sized.run.room;
        match rooms.iter_mut().find(|(index, ..)| *index == room.index) {
            Some((.., sum)) => *sum += sized.length,
            None => rooms.push((room.index, &room.title, sized.length)),
        }
    }
    rooms.sort_by_key(|(index, ..)| *index);
    let rooms = rooms
        .iter()
        .map(|(_, title, length)| format!("{title} {}", shown(job, *length)));
    (job.sizing.runs.len() > 1).then(|| format!("By room: {}.", joined(rooms)))
}

fn drivers(job: &Job) -> String {
    let mut cupboards: Vec<&str> = Vec::new();
    for driver in &job.sizing.drivers {
        let title = driver.cupboard.title.as_str();
        if !cupboards.contains(&title) {
            cupboards.push(title);
        }
    }
    let feed: Length = job.sizing.cables.iter().map(|cable| cable.length).sum();
    let count = counted(job.sizing.drivers.len(), "driver");
    let place = match cupboards.as_slice() {
        [] => String::new(),
        some => format!(" in {}", joined(some)),
    };
    format!(
        "{count}{place}, with {} of cable to the strip.",
        shown(job, feed)
    )
}

fn control(job: &Job) -> Option<String> {
    let loops = &job.allocation.loops;
    if loops.is_empty() {
        return None;
    }
    let devices = loops
        .iter()
        .flat_map(|one| &one.members)
        .filter(|member| member.kind == MemberKind::ControlDevice)
        .count();
    let cable: Length = loops.iter().map(|one| one.cable_length).sum();
    Some(format!(
        "{} with {} and {} of bus cable; {} and {} to be programmed.",
        counted(loops.len(), "control loop"),
        counted(devices, "control device"),
        shown(job, cable),
        counted(job.project.groups.len(), "group"),
        counted(job.project.scenes.len(), "scene"),
    ))
}

fn mains(job: &Job) -> Option<String> {
    let circuits = &job.allocation.circuits;
    if circuits.is_empty() {
        return None;
    }
    let cable: Length = circuits.iter().filter_map(|circuit| circuit.length).sum();
    Some(format!(
        "{} from the panel, with {} of mains cable.",
        counted(circuits.len(), "mains circuit"),
        shown(job, cable)
    ))
}

/// What is neither material nor fitting.
fn more(job: &Job) -> Vec<String> {
    let quote = &job.quote;
    let mut text = Vec::new();
    if !quote.commissioning.is_empty() {
        text.push(format!(
            "Commissioning: {} h, as listed.",
            quote.totals.commissioning_hours
        ));
    }
    let sums: Vec<&str> = quote
        .provisional
        .iter()
        .map(|sum| sum.what.as_str())
        .collect();
    if !sums.is_empty() {
        text.push(format!("Provisional sums for {}.", joined(sums)));
    }
    text
}

fn work(job: &Job) -> String {
    match job.quote.labour.len() {
        0 => "No work is priced: supply only.".to_owned(),
        _ => format!(
            "Fitting: {} h, as listed under labour.",
            job.quote.totals.labour_hours
        ),
    }
}

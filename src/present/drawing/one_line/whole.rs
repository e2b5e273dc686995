//! The whole installation: each mains circuit, the places where its drivers and bus supplies stand,
//! and the rooms and groups that they light.

use super::cupboard::{Fed, no_circuit, sheets, supply, switching_lines};
use super::{Part, parts};
use crate::allocate::allocated::Circuit;
use crate::choose::sized::SizedDriver;
use crate::model::site::Point;
use crate::present::job::Job;

/// The drawing; empty where nothing is fed.
#[must_use]
pub fn drawing(job: &Job) -> Vec<Part> {
    let circuits: Vec<Option<&Circuit>> = job
        .allocation
        .circuits
        .iter()
        .map(Some)
        .chain([None])
        .collect();
    let mut units = Vec::new();
    for (index, circuit) in circuits.iter().enumerate() {
        let places = job.project.site.points.iter();
        units.extend(places.filter_map(|place| drivers_at(job, index, *circuit, place)));
        let supplies = circuit.iter().flat_map(|circuit| &circuit.supplies);
        units.extend(supplies.map(|name| said_once(supply(job, index, name))));
    }
    if units.is_empty() {
        return Vec::new();
    }
    let boxes: Vec<Vec<String>> = circuits
        .iter()
        .map(|circuit| circuit.map_or_else(no_circuit, |circuit| switched_at(job, circuit)))
        .collect();
    parts(
        "The installation in one drawing",
        "installation",
        sheets(&units, &boxes),
    )
}

/// What a circuit is and where it is switched off.
fn switched_at(job: &Job, circuit: &Circuit) -> Vec<String> {
    switching_lines(job, circuit).to_vec()
}

/// What is said of every loop of a supply is said once, first.
fn said_once(mut unit: Fed) -> Fed {
    let said = unit.leaving.first().and_then(|lines| lines.get(1)).cloned();
    for lines in &mut unit.leaving {
        lines.truncate(1);
    }
    if let (Some(said), Some(first)) = (said, unit.leaving.first_mut()) {
        first.insert(0, said);
    }
    unit
}

/// The drivers of a circuit at a place, and what they light.
fn drivers_at(job: &Job, index: usize, circuit: Option<&Circuit>, place: &Point) -> Option<Fed> {
    let here = job.sizing.drivers.iter().filter(|driver| {
        driver.cupboard.index == place.index && job.allocation.is_on(&driver.number, circuit)
    });
    let here: Vec<&SizedDriver> = here.collect();
    let (first, last) = (here.first()?, here.last()?);
    let drivers = match here.len() {
        1 => first.number.clone(),
        2 => format!("{}, {}", first.number, last.number),
        count => format!("{count} drivers, {} … {}", first.number, last.number),
    };
    let isolator = match place.isolator {
        Some(true) => "isolator here",
        Some(false) => "no isolator here",
        None => "isolator here? not known",
    };
    Some(Fed {
        circuit: index,
        name: drivers,
        lines: vec![format!("in {}", place.title), isolator.to_owned()],
        leaving: lit(&here),
    })
}

/// Each group with its rooms, in the order of the drivers; a room that the group is named after is
/// not said twice.
fn lit(drivers: &[&SizedDriver]) -> Vec<Vec<String>> {
    let mut groups: Vec<(usize, &str, Vec<&str>)> = Vec::new();
    for driver in drivers {
        let rooms = driver.rooms.iter().map(|room| room.title.as_str());
        let known = groups
            .iter_mut()
            .find(|(index, _, _)| *index == driver.group.index);
        match known {
            Some((_, _, list)) => {
                for room in rooms
                    .filter(|room| !list.contains(room))
                    .collect::<Vec<_>>()
                {
                    list.push(room);
                }
            }
            None => groups.push((driver.group.index, &driver.group.title, rooms.collect())),
        }
    }
    groups
        .into_iter()
        .map(|(_, title, rooms)| match rooms.as_slice() {
            [room] if title.starts_with(room) => vec![title.to_owned()],
            rooms => vec![format!("{title}, in {}", rooms.join(", "))],
        })
        .collect()
}

//! The whole installation: each mains circuit, the places where its drivers and bus supplies stand,
//! and the rooms and groups that they light.

use super::cupboard::{Fed, circuit_lines, no_circuit, sheets, supply};
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
        units.extend(supplies.map(|name| supply(job, index, name)));
    }
    if units.is_empty() {
        return Vec::new();
    }
    let boxes: Vec<Vec<String>> = circuits
        .iter()
        .map(|circuit| circuit.map_or_else(no_circuit, |circuit| circuit_lines(job, circuit)))
        .collect();
    parts(
        "The installation in one drawing",
        "installation",
        sheets(&units, &boxes),
    )
}

/// The drivers of a circuit at a place, and what they light.
fn drivers_at(job: &Job, index: usize, circuit: Option<&Circuit>, place: &Point) -> Option<Fed> {
    let anywhere = |number: &String| {
        let mut circuits = job.allocation.circuits.iter();
        circuits.any(|it| it.drivers.contains(number))
    };
    let here = job.sizing.drivers.iter().filter(|driver| {
        driver.cupboard.index == place.index
            && match circuit {
                Some(circuit) => circuit.drivers.contains(&driver.number),
                None => !anywhere(&driver.number),
            }
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

/// Each group with its rooms, in the order of the drivers.
fn lit(drivers: &[&SizedDriver]) -> Vec<[String; 2]> {
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
        .map(|(_, title, rooms)| [title.to_owned(), format!("in {}", rooms.join(", "))])
        .collect()
}

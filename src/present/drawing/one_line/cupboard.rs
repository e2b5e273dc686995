//! A cupboard: its mains circuits on the left, the drivers and bus equipment on them, and the feed
//! cables that leave each driver for the strip.

use super::{EDGE, LETTERS, Part, SMALL, SMALL_LINE, TALL, WIDTH, blank, parts, small};
use crate::allocate::allocated::{Circuit, Loop};
use crate::choose::sized::SizedDriver;
use crate::model::site::Point;
use crate::present::cable_size::cores;
use crate::present::document::protection_of;
use crate::present::drawing::sheet::{Bounds, Fill, Sheet, Stroke, clipped};
use crate::present::job::Job;
use crate::present::measured::{metres, percent, volts, watts};
use crate::present::printable::printable;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;

/// The circuit's box.
const CIRCUIT: f64 = 150.0;
/// Where the units' boxes begin, and how wide they are.
const UNIT: (f64, f64) = (206.0, 200.0);
/// Where the feeds' text begins.
const FEED: f64 = 440.0;
/// Between two units.
const GAP: f64 = 8.0;
/// Feeds of one unit on one sheet, at most.
const MOST_FEEDS: usize = 24;

/// A unit on a circuit, with what leaves it.
pub(super) struct Fed {
    /// Index of the circuit's box.
    pub circuit: usize,
    /// What stands first in its box.
    pub name: String,
    /// What stands under that.
    pub lines: Vec<String>,
    /// Lines of text for each way that leaves it.
    pub leaving: Vec<Vec<String>>,
}

/// The drawing of a cupboard, or of another place where drivers or bus equipment are fed; empty
/// when nothing is.
#[must_use]
pub fn drawing(job: &Job, place: &Point) -> Vec<Part> {
    let circuits: Vec<Option<&Circuit>> = job
        .allocation
        .circuits
        .iter()
        .filter(|circuit| circuit.places.iter().any(|it| it.name == place.name))
        .map(Some)
        .chain([None])
        .collect();
    let units = units(job, place, &circuits);
    if units.is_empty() {
        return Vec::new();
    }
    let boxes: Vec<Vec<String>> = circuits
        .iter()
        .map(|circuit| circuit.map_or_else(no_circuit, |circuit| circuit_lines(job, circuit)))
        .collect();
    parts(&place.title, &place.name, sheets(&units, &boxes))
}

pub(super) fn no_circuit() -> Vec<String> {
    vec![
        "no circuit".to_owned(),
        "see the circuit schedule".to_owned(),
    ]
}

/// What a circuit is called, the panel that it leaves, and how it is protected there.
pub(super) fn switching_lines(job: &Job, circuit: &Circuit) -> [String; 3] {
    let panel = circuit
        .panel
        .as_ref()
        .map_or("no panel in the project", |panel| panel.title.as_str());
    let phase = if job.project.supply.phases > 1 {
        format!(", phase {}", circuit.phase)
    } else {
        String::new()
    };
    [
        format!("{}{phase}", circuit.name),
        panel.to_owned(),
        protection_of(job, circuit),
    ]
}

fn circuit_lines(job: &Job, circuit: &Circuit) -> Vec<String> {
    let [name, panel, breaker] = switching_lines(job, circuit);
    let cable = circuit.cable.as_ref().map_or_else(
        || "no mains cable in the catalogue".to_owned(),
        |cable| format!("{} and earth", cores(cable)),
    );
    let length = circuit.length.map_or_else(
        || "length not known".to_owned(),
        |length| Figure::new(metres(length), Unit::Metre).to_string(),
    );
    vec![
        name,
        "isolate at:".to_owned(),
        panel,
        breaker,
        cable,
        length,
    ]
}

/// Units in the order of their circuits; those without one last.
fn units(job: &Job, place: &Point, circuits: &[Option<&Circuit>]) -> Vec<Fed> {
    let at_place = |it: &&SizedDriver| it.cupboard.name == place.name;
    let mut here: Vec<&SizedDriver> = job.sizing.drivers.iter().filter(at_place).collect();
    here.sort_by(|a, b| a.number.cmp(&b.number));
    let mut units = Vec::new();
    for (index, circuit) in circuits.iter().enumerate() {
        let on_it = here
            .iter()
            .filter(|it| job.allocation.is_on(&it.number, *circuit));
        units.extend(on_it.flat_map(|it| driver(job, index, it)));
        let supplies = circuit.iter().flat_map(|circuit| &circuit.supplies);
        units.extend(supplies.map(|name| supply(job, index, name)));
    }
    units
}

/// A driver, as often as its feeds need sheets.
fn driver(job: &Job, circuit: usize, driver: &SizedDriver) -> Vec<Fed> {
    let output = &driver.item.output;
    let lines = vec![
        driver.item.offer.id.clone(),
        format!(
            "{}, {}, {}",
            Figure::new(volts(output.voltage), Unit::Volt),
            Figure::new(watts(driver.load), Unit::Watt),
            Figure::new(percent(driver.load_share), Unit::Percent)
        ),
        bus_line(job, driver),
    ];
    let several = driver.outputs.len() > 1;
    let cables = job.sizing.cables_of(driver);
    let feeds: Vec<Vec<String>> = cables
        .filter(|cable| cable.driver == driver.number)
        .map(|cable| {
            let output = driver.outputs.iter().find(|output| {
                let mut sections = output.sections.iter();
                sections.any(|(run, section)| *run == cable.run && *section == cable.section)
            });
            let output = match output {
                Some(output) if several => format!(", output {}", output.output),
                _ => String::new(),
            };
            vec![
                format!(
                    "{}, {}, {}{output}",
                    cable.number,
                    cores(&cable.item),
                    Figure::new(metres(cable.length), Unit::Metre)
                ),
                format!(
                    "at {}: {}",
                    Figure::new(metres(cable.at), Unit::Metre),
                    cable.run
                ),
            ]
        })
        .collect();
    let name = |part: usize| {
        if part == 0 {
            driver.number.clone()
        } else {
            format!("{}, continued", driver.number)
        }
    };
    let mut chunks: Vec<Vec<Vec<String>>> = feeds
        .chunks(MOST_FEEDS)
        .map(<[Vec<String>]>::to_vec)
        .collect();
    if chunks.is_empty() {
        chunks.push(Vec::new());
    }
    let numbered = chunks.into_iter().enumerate();
    numbered
        .map(|(part, leaving)| Fed {
            circuit,
            name: name(part),
            lines: lines.clone(),
            leaving,
        })
        .collect()
}

fn bus_line(job: &Job, driver: &SizedDriver) -> String {
    let found = job.allocation.loops.iter().find_map(|on| {
        let member = on.members.iter().find(|it| it.device == driver.number)?;
        Some((on, member))
    });
    match found {
        None => "not on a bus".to_owned(),
        Some((on, member)) => {
            let addresses = member.addresses.iter().map(ToString::to_string);
            let addresses: Vec<String> = addresses.collect();
            match addresses.as_slice() {
                [] => format!("bus {}, no address left", on.name),
                known => format!("bus {}, address {}", on.name, known.join(", ")),
            }
        }
    }
}

/// A controller or bus supply with the loops it serves.
pub(super) fn supply(job: &Job, circuit: usize, name: &str) -> Fed {
    let loops = job.allocation.loops.iter();
    let loops: Vec<&Loop> = loops.filter(|on| on.is_served_by(name)).collect();
    let item = loops.first().and_then(|on| match &on.supply_item {
        Some(supply) if on.supply_name() == name => Some(&supply.offer),
        _ => on.controller_item.as_ref().map(|item| &item.offer),
    });
    Fed {
        circuit,
        name: name.to_owned(),
        lines: item.map(|offer| offer.id.clone()).into_iter().collect(),
        leaving: loops
            .iter()
            .map(|on| {
                vec![
                    format!("loop {}, port {}", on.name, on.port),
                    "control bus: treat as mains".to_owned(),
                ]
            })
            .collect(),
    }
}

fn height(unit: &Fed) -> f64 {
    let leaving = unit.leaving.iter().map(Vec::len).sum();
    let lines = (unit.lines.len() + 1).max(leaving);
    SMALL_LINE * real(lines) + 10.0
}

/// Places units one under the other, a circuit's box at the head of its units on every sheet.
pub(super) fn sheets(units: &[Fed], boxes: &[Vec<String>]) -> Vec<Sheet> {
    let mut sheets = Vec::new();
    let mut open = blank();
    let mut y = 2.0;
    let mut drawn: Option<(usize, f64)> = None;
    for unit in units {
        let lines = boxes.get(unit.circuit).map_or(0, Vec::len);
        let least = SMALL_LINE * real(lines) + 14.0;
        // Under a circuit's box is room for the whole of it, whatever its units need.
        if let Some((_, top)) = drawn.filter(|(circuit, _)| *circuit != unit.circuit) {
            y = f64::max(y, top + least + GAP);
            drawn = None;
        }
        let needed = height(unit).max(if drawn.is_none() { least } else { 0.0 });
        if y + needed > TALL && y > 2.0 {
            open.height = f64::max(y, drawn.map_or(y, |(_, top)| top + least)) + 2.0;
            sheets.push(std::mem::replace(&mut open, blank()));
            (y, drawn) = (2.0, None);
        }
        if drawn.is_none() {
            if let Some(lines) = boxes.get(unit.circuit) {
                circuit_box(&mut open, y, lines);
            }
            drawn = Some((unit.circuit, y));
        }
        let from = drawn.map_or(y, |(_, top)| top);
        draw_unit(&mut open, y, from, unit);
        let end = y + height(unit);
        y = end + GAP;
        open.height = f64::max(end, from + least) + 2.0;
    }
    sheets.push(open);
    sheets
}

fn circuit_box(sheet: &mut Sheet, top: f64, lines: &[String]) {
    let bounds = Bounds {
        left: EDGE,
        top,
        width: CIRCUIT,
        height: SMALL_LINE * real(lines.len()) + 10.0,
    };
    sheet.rectangle(bounds, Fill::Pale, Stroke::Plain);
    write(sheet, (EDGE + 8.0, top), CIRCUIT - 16.0, lines);
}

/// A name, and small lines under it.
fn write(sheet: &mut Sheet, (left, top): (f64, f64), room: f64, lines: &[String]) {
    for (index, line) in lines.iter().enumerate() {
        let y = top + 14.0 + SMALL_LINE * real(index);
        if index == 0 {
            let name = clipped(&printable(line), LETTERS, true, room);
            sheet.bold((left, y), LETTERS, name);
        } else {
            small(sheet, (left, y), room, line);
        }
    }
}

/// The unit at `top`, joined to its circuit whose box begins at `from`.
fn draw_unit(sheet: &mut Sheet, top: f64, from: f64, unit: &Fed) {
    let bar = 0.5 * (EDGE + CIRCUIT + UNIT.0);
    let entry = top + 12.0;
    let way = vec![
        (EDGE + CIRCUIT, from + 12.0),
        (bar, from + 12.0),
        (bar, entry),
        (UNIT.0, entry),
    ];
    sheet.path(way, Stroke::Plain);
    let bounds = Bounds {
        left: UNIT.0,
        top,
        width: UNIT.1,
        height: SMALL_LINE * real(unit.lines.len() + 1) + 10.0,
    };
    sheet.rectangle(bounds, Fill::Paper, Stroke::Plain);
    let mut lines = vec![unit.name.clone()];
    lines.extend(unit.lines.iter().cloned());
    write(sheet, (UNIT.0 + 8.0, top), UNIT.1 - 16.0, &lines);
    let out = UNIT.0 + UNIT.1;
    let join = 0.5 * (out + FEED) - 4.0;
    let mut above = 0;
    for lines in &unit.leaving {
        let y = entry + SMALL_LINE * real(above);
        above += lines.len();
        let way = vec![(out, entry), (join, entry), (join, y), (FEED - 6.0, y)];
        sheet.path(way, Stroke::Plain);
        let tip = vec![
            (FEED - 12.0, y - 3.0),
            (FEED - 6.0, y),
            (FEED - 12.0, y + 3.0),
        ];
        sheet.path(tip, Stroke::Plain);
        for (line, text) in lines.iter().enumerate() {
            let y = y + 0.35 * SMALL + SMALL_LINE * real(line) - 2.0;
            small(sheet, (FEED, y), WIDTH - EDGE - FEED, text);
        }
    }
}

//! Projects of any size: libraries with as many reading rooms as it takes, drawn the same each time.

use super::draw::Draw;
use std::fmt::Write;

/// Runs in a room, and in a group.
const IN_ROOM: usize = 12;
const IN_GROUP: usize = 4;
/// Rooms on a floor: their cupboards stand along one way.
const ON_FLOOR: usize = 8;

/// A project file of so many runs, priced from the example catalogue `trade.yaml` beside it: twelve
/// runs to a room with its own cupboard, eight rooms to a floor, four runs to a group.
pub fn project(runs: usize, seed: u64) -> String {
    let mut draw = Draw(seed);
    let rooms = runs.div_ceil(IN_ROOM);
    let mut text = String::from(
        "format: 1\nproject: {title: Many rooms, revision: A, date: 2026-11-20}\nregion: iec\n\
         catalogues: [trade.yaml]\nsupply: {voltage: 230 V, frequency: 50 Hz, upstream_drop: 0.5 %}\n\
         pricing: {labour_rate: 42.00, overhead: 8 %, margin: 22 %, tax: {name: VAT, rate: 20 %}}\n",
    );
    points(&mut text, rooms);
    routes(&mut text, rooms, &mut draw);
    text.push_str("runs:\n");
    for run in 0..runs {
        one_run(&mut text, run, &mut draw);
    }
    text
}

fn points(text: &mut String, rooms: usize) {
    text.push_str("points:\n  - {point: panel, kind: panel}\n");
    for floor in 0..rooms.div_ceil(ON_FLOOR) {
        line(
            text,
            format_args!("  - {{point: riser-{floor}, kind: junction}}"),
        );
    }
    for room in 0..rooms {
        line(
            text,
            format_args!("  - {{point: cupboard-{room}, kind: cupboard, ambient: 35 °C}}"),
        );
        line(
            text,
            format_args!("  - {{point: room-{room}, kind: room, ambient: 25 °C}}"),
        );
    }
}

fn routes(text: &mut String, rooms: usize, draw: &mut Draw) {
    text.push_str("routes:\n");
    for floor in 0..rooms.div_ceil(ON_FLOOR) {
        let below = if floor == 0 {
            "panel".to_owned()
        } else {
            format!("riser-{}", floor - 1)
        };
        line(
            text,
            format_args!("  - {{from: {below}, to: riser-{floor}, length: 4 m}}"),
        );
    }
    for room in 0..rooms {
        let (floor, on_floor) = (room / ON_FLOOR, room % ON_FLOOR);
        let before = if on_floor == 0 {
            format!("riser-{floor}")
        } else {
            format!("cupboard-{}", room - 1)
        };
        let (along, across) = (6 + draw.below(9), 4 + draw.below(9));
        line(
            text,
            format_args!("  - {{from: {before}, to: cupboard-{room}, length: {along} m}}"),
        );
        line(
            text,
            format_args!("  - {{from: cupboard-{room}, to: room-{room}, length: {across} m}}"),
        );
    }
}

fn one_run(text: &mut String, run: usize, draw: &mut Draw) {
    let (room, group) = (run / IN_ROOM, run / IN_GROUP);
    // A group is of one kind of strip, as a driver's outputs are.
    let strips = ["white-pair-24-10", "shelf-24-7", "work-24-14"];
    let strip = strips[group % strips.len()];
    let (length, start) = (20 + draw.below(100), 30 + draw.below(90));
    let end = start + length;
    let tenths = |value: u64| format!("{}.{} m", value / 10, value % 10);
    line(
        text,
        format_args!(
            "  - {{run: run-{run}, room: room-{room}, cupboard: cupboard-{room}, group: group-{group}, \
             strip: {strip}, length: {}, to_start: {}, to_end: {}, reach_along: yes}}",
            tenths(length),
            tenths(start),
            tenths(end)
        ),
    );
}

fn line(text: &mut String, what: std::fmt::Arguments) {
    writeln!(text, "{what}").expect("text grows");
}

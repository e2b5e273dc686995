//! The circuit schedule: mains circuits with their load, inrush, leakage and drop.

use super::{Cell, Column, Part, Table, cables, places, verdicts};
use crate::allocate::allocated::{Circuit, Loop};
use crate::model::site::Point;
use crate::present::job::Job;
use crate::present::measured;
use crate::quantity::Current;
use crate::quantity::figure::Unit;

/// The parts of the circuit schedule.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut parts = vec![circuits(job), contents(job)];
    if job.project.supply.phases > 1 {
        parts.push(phases(job));
    }
    parts
}

fn circuits(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("circuit", "Circuit"),
        Column::text("panel", "Panel").when_wide(),
        Column::number("way", "Way").when_wide(),
        Column::number("phase", "Phase"),
        Column::text("breaker", "Breaker"),
        Column::figure("residual_ma", "Residual", Unit::Milliampere).when_wide(),
        Column::text("residual_type", "Type").when_wide(),
        Column::text("cable", "Cable"),
        Column::text("cores", "Cores").when_wide(),
        Column::figure("length_m", "Length", Unit::Metre),
        Column::number("drivers", "Drivers"),
        Column::figure("current_a", "Load", Unit::Ampere),
        Column::figure("load_percent", "Load", Unit::Percent),
        Column::figure("inrush_share_percent", "Inrush", Unit::Percent),
        Column::figure("leakage_ma", "Leakage", Unit::LeakageMilliampere),
        Column::figure("drop_percent", "Drop", Unit::Percent),
        Column::text("isolator", "Isolator").when_wide(),
        Column::text("checks", "Checks"),
    ]);
    for circuit in &job.allocation.circuits {
        table.row(circuit_row(job, circuit));
    }
    let mut part = Part::table("circuit-schedule", "Mains circuits", table);
    part.notes = notes(job);
    part
}

fn notes(job: &Job) -> Vec<String> {
    let upstream = measured::percent(job.project.supply.upstream_drop);
    let mut notes = vec![format!(
        "Load is of the breaker's rating. Inrush 100 % is as many drivers as their sheets allow \
         on that breaker. Drop is from the panel; {upstream:.1} % is lost before it."
    )];
    notes.push(
        "Cores are as the catalogue counts them: every mains cable has its protective conductor as \
         well, counted or not."
            .to_owned(),
    );
    if job.allocation.circuits.len() > 1 && !job.allocation.circuits_proved {
        notes.push("Fewer circuits might do: the number is not proved least.".to_owned());
    }
    notes
}

/// The panel that a circuit comes from.
pub(super) fn panel(circuit: &Circuit) -> Cell {
    Cell::known(
        circuit.panel.as_ref(),
        |panel| Cell::text(&panel.title),
        "the project has no panel for this circuit",
    )
}

fn circuit_row(job: &Job, circuit: &Circuit) -> Vec<Cell> {
    let rating = Current::new::<uom::si::electric_current::ampere>(circuit.breaker.amperes.into());
    let (item, cores) = cables::type_and_cores(circuit.cable.as_deref(), "mains");
    let known_load = |cell: Cell| Cell::sum(cell, &circuit.unknown_current, "mains current");
    vec![
        Cell::text(&circuit.name),
        panel(circuit),
        Cell::count(way(job, circuit)),
        Cell::count(circuit.phase),
        Cell::text(circuit.breaker.to_string()),
        job.project
            .circuits
            .residual
            .map_or(Cell::text("none"), Cell::milliamperes),
        residual_type(job),
        item,
        cores,
        Cell::known(
            circuit.length,
            Cell::metres,
            "no route leads from the panel to this place",
        ),
        Cell::count(circuit.drivers.len()),
        known_load(Cell::amperes(circuit.current)),
        known_load(Cell::percent(circuit.current / rating)),
        Cell::sum(
            Cell::percent(circuit.inrush_share),
            &circuit.unknown_inrush,
            "most on a B16",
        ),
        Cell::sum(
            Cell::leakage(circuit.leakage),
            &circuit.unknown_leakage,
            "earth leakage",
        ),
        Cell::known(
            circuit.drop,
            Cell::percent,
            "its length, cable or current is not known",
        ),
        isolators(circuit),
        verdicts::of_subject(job, &format!("circuit {}", circuit.name)),
    ]
}

/// Its place among the circuits of its panel, from 1.
fn way(job: &Job, circuit: &Circuit) -> usize {
    let panel = |circuit: &Circuit| circuit.panel.as_ref().map(|panel| panel.index);
    let before = job.allocation.circuits.iter();
    let before = before.take_while(|other| other.name != circuit.name);
    1 + before
        .filter(|other| panel(other) == panel(circuit))
        .count()
}

/// What residual currents its device answers to; nothing where there is no such device.
fn residual_type(job: &Job) -> Cell {
    let circuits = &job.project.circuits;
    if circuits.residual.is_none() {
        return Cell::Empty;
    }
    Cell::known(
        circuits.protection.residual_type,
        |kind| Cell::text(kind.name()),
        "the project gives no `circuits: residual_type`",
    )
}

/// Whether each place that it serves, its panel left out, can be isolated there.
fn isolators(circuit: &Circuit) -> Cell {
    let served: Vec<&Point> = beyond_panel(circuit).collect();
    match served.as_slice() {
        [one] => places::isolator(one),
        _ => named_isolators(circuit),
    }
}

/// How a circuit is protected at its panel, in words: "B16, RCD 30 mA".
pub(crate) fn protection(job: &Job, circuit: &Circuit) -> String {
    match job.project.circuits.residual {
        Some(rated) => format!(
            "{}, RCD {:.0} mA",
            circuit.breaker,
            measured::milliamperes(rated)
        ),
        None => circuit.breaker.to_string(),
    }
}

/// The same with the name of each place.
pub(super) fn named_isolators(circuit: &Circuit) -> Cell {
    let said = beyond_panel(circuit).map(places::named_isolator);
    Cell::text(said.collect::<Vec<_>>().join("; "))
}

/// The places that it serves, its panel left out.
fn beyond_panel(circuit: &Circuit) -> impl Iterator<Item = &Point> {
    let panel = circuit.panel.as_ref().map(|panel| panel.index);
    let served = circuit.places.iter().map(AsRef::as_ref);
    served.filter(move |place| Some(place.index) != panel)
}

fn contents(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("circuit", "Circuit"),
        Column::text("places", "Serves"),
        Column::text("loops_supplied", "Loops supplied"),
        Column::long_text("drivers", "Drivers"),
        Column::long_text("supplies", "Controllers and bus supplies"),
    ]);
    for circuit in &job.allocation.circuits {
        table.row(vec![
            Cell::text(&circuit.name),
            Cell::names(circuit.places.iter().map(|place| place.title.as_str())),
            Cell::names(loops(job, circuit)),
            Cell::names(&circuit.drivers),
            Cell::names(&circuit.supplies),
        ]);
    }
    let mut part = Part::table("circuit-contents", "What is on each circuit", table);
    part.notes.push(
        "A driver and its loop's supply can be on different circuits: switching one off can leave \
         the bus live."
            .to_owned(),
    );
    part
}

/// The loops whose controller or supply it feeds.
fn loops<'a>(job: &'a Job, circuit: &Circuit) -> Vec<&'a str> {
    let supplied = |on: &&Loop| {
        let mut units = circuit.supplies.iter();
        units.any(|unit| on.is_served_by(unit))
    };
    let loops = job.allocation.loops.iter();
    loops.filter(supplied).map(|on| on.name.as_str()).collect()
}

fn phases(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::number("phase", "Phase"),
        Column::long_text("circuits", "Circuits"),
        Column::figure("current_a", "Load", Unit::Ampere),
    ]);
    for phase in 1..=job.project.supply.phases {
        let on: Vec<&Circuit> = job
            .allocation
            .circuits
            .iter()
            .filter(|circuit| circuit.phase == phase)
            .collect();
        let silent: Vec<String> = on
            .iter()
            .flat_map(|circuit| circuit.unknown_current.iter().cloned())
            .collect();
        let load = on.iter().map(|circuit| circuit.current).sum();
        table.row(vec![
            Cell::count(phase),
            Cell::names(on.iter().map(|circuit| circuit.name.as_str())),
            Cell::sum(Cell::amperes(load), &silent, "mains current"),
        ]);
    }
    Part::table("phases", "Phases", table)
}

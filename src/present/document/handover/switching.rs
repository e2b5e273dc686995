//! Where the installation is switched off, and what stays live when one circuit is off.

use super::super::cell::joined;
use super::super::{Cell, Column, Part, Table, circuits};
use crate::allocate::allocated::{Circuit, Loop};
use crate::present::job::Job;

/// The part with one row a mains circuit.
pub(super) fn part(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("circuit", "Circuit"),
        Column::text("panel", "Switch off at"),
        Column::text("breaker", "Breaker"),
        Column::long_text("units", "Switches off"),
        Column::long_text("places", "Isolator there").data_only(),
        Column::long_text("bus_live", "Bus live from"),
    ]);
    for circuit in &job.allocation.circuits {
        table.row(row(job, circuit));
    }
    let mut part = Part::table("handover-switching", "Where to switch off", table);
    part.text = vec![
        "In an emergency switch every circuit below off. Whoever opens a unit isolates it, locks \
         off, and proves mains and control bus dead: both, since the bus may be fed from another \
         circuit."
            .to_owned(),
    ];
    part.notes.push(
        "Nothing here was worked out as emergency lighting: escape routes do not rely on it."
            .to_owned(),
    );
    let on_no_circuit = on_no_circuit(job);
    if !on_no_circuit.is_empty() {
        part.notes.push(format!(
            "On no circuit of this job, and not switched off by any of these: {}.",
            joined(on_no_circuit)
        ));
    }
    part
}

fn on_no_circuit(job: &Job) -> Vec<&str> {
    let numbers = job.sizing.drivers.iter().map(|it| it.number.as_str());
    numbers
        .filter(|number| job.allocation.circuit_of(number).is_none())
        .collect()
}

fn row(job: &Job, circuit: &Circuit) -> Vec<Cell> {
    let units = circuit.drivers.iter().chain(&circuit.supplies);
    vec![
        Cell::text(&circuit.name),
        circuits::panel(circuit),
        Cell::text(circuits::protection(job, circuit)),
        Cell::names(units),
        circuits::named_isolators(circuit),
        bus(job, circuit),
    ]
}

/// Loops whose bus reaches units of this circuit and is fed from another one.
fn bus(job: &Job, circuit: &Circuit) -> Cell {
    let live = job.allocation.loops_on(circuit);
    let live = live.filter_map(|on| match feeding(job, on) {
        None => Some(format!("{}: fed from a circuit not known", on.name)),
        Some(other) if other.name != circuit.name => Some(format!("{}: {}", on.name, other.name)),
        Some(_) => None,
    });
    let live: Vec<String> = live.collect();
    if live.is_empty() {
        Cell::text("no other circuit of this job")
    } else {
        Cell::names(live)
    }
}

/// The circuit on which a loop's supply stands.
fn feeding<'a>(job: &'a Job, on: &Loop) -> Option<&'a Circuit> {
    let unit = match &on.supply_item {
        Some(_) => on.supply_name(),
        None => on.controller.clone(),
    };
    job.allocation.circuit_of_supply(&unit)
}

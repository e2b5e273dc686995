//! The cable schedule: every cable by what it serves, and the metres of each type.

use super::{Cell, Column, Part, Table, verdicts};
use crate::allocate::allocated::{BusStretch, Circuit, Loop};
use crate::choose::sized::FeedCable;
use crate::model::cable::{Cable, CableUse};
use crate::norms::region::Region;
use crate::present::cable_size::cores;
use crate::present::job::Job;
use crate::present::measured;
use crate::quantity::Length;
use crate::quantity::figure::Unit;
use std::collections::BTreeMap;

const NO_AMPACITY: &str = "neither the region's tables nor the maker say what this cable carries";

/// The parts of the cable schedule.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    vec![cables(job), metres_by_type(job)]
}

/// What a cable counts as where cables of several services run together.
fn kept_apart_as(service: CableUse) -> &'static str {
    match service {
        CableUse::StripFeed => "extra-low voltage",
        CableUse::Bus => "as mains",
        CableUse::Mains => "mains",
    }
}

fn cables(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("cable", "Cable"),
        Column::text("service", "Service").data_only(),
        Column::text("from", "From"),
        Column::text("to", "To"),
        Column::number("section", "Section"),
        Column::figure("at_m", "Feed at", Unit::Metre),
        Column::text("type", "Type"),
        Column::text("cores", "Cores"),
        Column::figure("length_m", "Length", Unit::Metre),
        Column::figure("current_a", "Current", Unit::Ampere),
        Column::figure("ampacity_a", "May carry", Unit::Ampere).when_wide(),
        Column::figure("drop_v", "Drop", Unit::Volt),
        Column::figure("drop_percent", "Drop", Unit::Percent).when_wide(),
        Column::text("kept_apart_as", "Kept apart as").data_only(),
        Column::text("checks", "Checks").when_wide(),
    ]);
    table.group("Strip feeds: driver to strip");
    for cable in &job.sizing.cables {
        table.row(feed_row(job, cable));
    }
    table.group("Control bus: to be treated as mains");
    for on in &job.allocation.loops {
        for stretch in &on.tree {
            table.row(bus_row(on, stretch));
        }
    }
    table.group("Mains: panel to cupboard");
    for circuit in &job.allocation.circuits {
        table.row(mains_row(job, circuit));
    }
    let mut part = Part::table("cable-schedule", "Cables", table);
    part.notes = notes(job);
    part
}

fn notes(job: &Job) -> Vec<String> {
    let mut warmest: Option<f64> = None;
    for sized in &job.sizing.runs {
        let here = measured::celsius(sized.cable_temperature);
        warmest = Some(warmest.map_or(here, |known| known.max(here)));
    }
    let mut notes: Vec<String> = warmest
        .map(|celsius| {
            format!(
                "Drop in strip feeds counts the way there and back, with copper at up to \
                 {celsius:.0} °C. Lengths are one way, as the project's routes give them: add \
                 what the site needs."
            )
        })
        .into_iter()
        .collect();
    if job.project.region == Region::NorthAmerica {
        notes.push(
            "A strip feed must carry 125 % of the current that is written: lighting is a \
             continuous load (NEC 210.19(A))."
                .to_owned(),
        );
    }
    notes.push("Currents and drops of the control bus are in the loop schedule.".to_owned());
    notes.push(
        "mm² and AWG are different sizes: buy the size that is written, not the nearest."
            .to_owned(),
    );
    notes
}

fn feed_row(job: &Job, cable: &FeedCable) -> Vec<Cell> {
    let run = job.sizing.run(&cable.run);
    let nominal = run.map(|sized| sized.run.strip.voltage);
    let driver = if cable.driver.is_empty() {
        Cell::unknown("no driver in the catalogue can feed this section")
    } else {
        Cell::text(cable.from())
    };
    vec![
        Cell::text(&cable.number),
        Cell::text(CableUse::StripFeed.name()),
        driver,
        Cell::text(&cable.run),
        Cell::count(cable.section),
        Cell::metres(cable.at),
        Cell::text(&cable.item.offer.id),
        Cell::text(cores(&cable.item)),
        Cell::metres(cable.length),
        Cell::amperes(cable.current),
        Cell::known(cable.ampacity, Cell::amperes, NO_AMPACITY),
        Cell::volts(cable.drop),
        nominal.map_or(Cell::Empty, |volts| Cell::percent(cable.drop / volts)),
        Cell::text(kept_apart_as(CableUse::StripFeed)),
        verdicts::of_subject(job, &format!("feed cable {}", cable.number)),
    ]
}

fn bus_row(on: &Loop, stretch: &BusStretch) -> Vec<Cell> {
    let (item, cores) = type_and_cores(on.cable.as_deref(), "bus");
    vec![
        Cell::text(&on.name),
        Cell::text(CableUse::Bus.name()),
        Cell::text(&stretch.from.title),
        Cell::text(&stretch.to.title),
        Cell::Empty,
        Cell::Empty,
        item,
        cores,
        Cell::metres(stretch.length),
        Cell::Empty,
        Cell::Empty,
        Cell::Empty,
        Cell::Empty,
        Cell::text(kept_apart_as(CableUse::Bus)),
        Cell::Empty,
    ]
}

fn mains_row(job: &Job, circuit: &Circuit) -> Vec<Cell> {
    let (item, cores) = type_and_cores(circuit.cable.as_deref(), "mains");
    let to = super::cell::joined(circuit.places.iter().map(|place| place.title.as_str()));
    let drop = circuit.drop.map(|share| share * job.project.supply.voltage);
    vec![
        Cell::text(&circuit.name),
        Cell::text(CableUse::Mains.name()),
        Cell::known(
            circuit.panel.as_ref(),
            |panel| Cell::text(&panel.title),
            "the project has no panel for this circuit",
        ),
        Cell::text(to),
        Cell::Empty,
        Cell::Empty,
        item,
        cores,
        Cell::known(
            circuit.length,
            Cell::metres,
            "no route leads from the panel to this place",
        ),
        Cell::sum(
            Cell::amperes(circuit.current),
            &circuit.unknown_current,
            "mains current",
        ),
        Cell::known(circuit.ampacity, Cell::amperes, NO_AMPACITY),
        Cell::known(
            drop,
            Cell::volts,
            "its length, cable or current is not known",
        ),
        Cell::known(
            circuit.drop,
            Cell::percent,
            "its length, cable or current is not known",
        ),
        Cell::text(kept_apart_as(CableUse::Mains)),
        verdicts::of_subject(job, &format!("circuit {}", circuit.name)),
    ]
}

/// The id of a cable and its cores; unknown where there is none for this service.
pub(super) fn type_and_cores(cable: Option<&Cable>, service: &str) -> (Cell, Cell) {
    match cable {
        Some(cable) => (Cell::text(&cable.offer.id), Cell::text(cores(cable))),
        None => {
            let none = Cell::unknown(format!("no catalogue of the project has {service} cable"));
            (none.clone(), none)
        }
    }
}

fn metres_by_type(job: &Job) -> Part {
    // By service and id, so that the order does not hang on which cable came first.
    let mut sums: Sums = BTreeMap::new();
    for cable in &job.sizing.cables {
        count(&mut sums, CableUse::StripFeed, &cable.item, cable.length);
    }
    for on in &job.allocation.loops {
        if let Some(cable) = &on.cable {
            count(&mut sums, CableUse::Bus, cable, on.cable_length);
        }
    }
    for circuit in &job.allocation.circuits {
        if let (Some(cable), Some(length)) = (&circuit.cable, circuit.length) {
            count(&mut sums, CableUse::Mains, cable, length);
        }
    }
    let mut table = Table::new(vec![
        Column::text("service", "Service"),
        Column::text("type", "Type"),
        Column::long_text("description", "Description"),
        Column::text("cores", "Cores"),
        Column::number("cables", "Cables"),
        Column::figure("length_m", "Length", Unit::Metre),
    ]);
    for ((service, id), (cable, length, number)) in sums {
        table.row(vec![
            Cell::text(service.name()),
            Cell::text(id),
            Cell::text(&cable.offer.description),
            Cell::text(cores(cable)),
            Cell::count(number),
            Cell::metres(length),
        ]);
    }
    Part::table("cable-metres", "Metres of each type", table)
}

type Sums<'a> = BTreeMap<(CableUse, &'a str), (&'a Cable, Length, usize)>;

fn count<'a>(sums: &mut Sums<'a>, service: CableUse, cable: &'a Cable, length: Length) {
    let sum =
        sums.entry((service, cable.offer.id.as_str()))
            .or_insert((cable, Length::default(), 0));
    sum.1 += length;
    sum.2 += 1;
}

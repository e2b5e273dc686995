//! The driver schedule: what stands in each cupboard, what hangs on it, and what it hangs on.

use super::cell::joined;
use super::{Cell, Column, Part, Table, places, verdicts};
use crate::allocate::allocated::Member;
use crate::choose::sized::{OutputUse, PackingProof, SizedDriver};
use crate::model::driver::{Driver, GearType, SafetyClass};
use crate::present::cable_size;
use crate::present::job::Job;
use crate::present::measured;
use crate::quantity::figure::Unit;
use crate::quantity::{Power, Ratio};

/// The parts of the driver schedule.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    vec![loads(job), connections(job), outputs(job), losses(job)]
}

/// Drivers with the name of the cupboard before each new one.
pub(super) fn by_cupboard<'a>(
    job: &'a Job,
    table: &mut Table,
    row: impl Fn(&'a SizedDriver) -> Vec<Cell>,
) {
    let mut cupboard = None;
    for driver in &job.sizing.drivers {
        if cupboard != Some(&driver.cupboard.name) {
            cupboard = Some(&driver.cupboard.name);
            table.group(driver.cupboard.title.clone());
        }
        table.row(row(driver));
    }
}

fn loads(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("driver", "Driver"),
        Column::text("cupboard", "Cupboard").data_only(),
        Column::text("item", "Item"),
        Column::long_text("description", "Description").data_only(),
        Column::figure("volts_v", "Output", Unit::Volt).when_wide(),
        Column::figure("rated_w", "Rated", Unit::Watt),
        Column::figure("ambient_c", "Ambient", Unit::Celsius).when_wide(),
        Column::figure("usable_w", "Usable there", Unit::Watt).when_wide(),
        Column::figure("load_w", "Load", Unit::Watt),
        Column::figure("load_percent", "Load", Unit::Percent),
        Column::text("group", "Group"),
        Column::long_text("runs", "Runs"),
        Column::text("checks", "Checks"),
    ]);
    by_cupboard(job, &mut table, |driver| load_row(job, driver));
    let load: Power = job.sizing.drivers.iter().map(|driver| driver.load).sum();
    let rated: Power = job.sizing.drivers.iter().map(rated_power).sum();
    table.total(
        "All drivers",
        vec![
            ("rated_w", Cell::watts(rated)),
            ("load_w", Cell::watts(load)),
        ],
    );
    let mut part = Part::table("driver-schedule", "Drivers and their load", table);
    part.notes.push(
        "Load is at the worst mix of whites that the driver allows, and its share is of what may \
         be drawn at the ambient."
            .to_owned(),
    );
    for driver in &job.sizing.drivers {
        part.notes.extend(half_note(driver));
    }
    part.notes.extend(
        job.sizing
            .proofs
            .iter()
            .filter_map(|proof| unproved(job, proof)),
    );
    part
}

/// Said once for each two units that stand in for one.
fn half_note(driver: &SizedDriver) -> Option<String> {
    let half = driver.half.as_ref().filter(|half| half.channel == 0)?;
    Some(format!(
        "{} (warm) and {} (cool) are two single-channel units in place of one two-channel driver: \
         two addresses, two lines in the price, their plus outputs joined at the common plus core \
         of each cable.",
        driver.number, half.other
    ))
}

/// What a cheaper choice of drivers could save at most, where none is proved impossible.
fn unproved(job: &Job, proof: &PackingProof) -> Option<String> {
    if proof.optimal {
        return None;
    }
    let bound = proof.cost.zip(proof.bound).zip(proof.gap()).map_or_else(
        || "no bound is known without prices".to_owned(),
        |((cost, bound), gap)| {
            let (currency, gap) = (&job.quote.currency, measured::percent(gap));
            let (cost, bound) = (cost.round_dp(2), bound.round_dp(2));
            format!(
                "with labour it costs {cost} {currency}, and none costs less than {bound} \
                 {currency}: {gap:.2} % at most could be saved"
            )
        },
    );
    Some(format!(
        "{}: the choice of drivers is not proved the cheapest; {bound}.",
        proof.subject
    ))
}

fn rated_power(driver: &SizedDriver) -> Power {
    driver.item.output.power
}

fn load_row(job: &Job, driver: &SizedDriver) -> Vec<Cell> {
    vec![
        Cell::text(&driver.number),
        Cell::text(&driver.cupboard.name),
        Cell::text(&driver.item.offer.id),
        Cell::text(description(driver)),
        Cell::volts(driver.item.output.voltage),
        Cell::watts(rated_power(driver)),
        Cell::known(
            driver.cupboard.ambient,
            Cell::celsius,
            "the project gives this place no `ambient`",
        ),
        Cell::watts(driver.usable),
        Cell::watts(driver.load),
        Cell::percent(driver.load_share),
        Cell::text(&driver.group.title),
        Cell::names(&driver.runs),
        verdicts::of_subject(job, &format!("driver {}", driver.number)),
    ]
}

/// What the catalogue calls it, and which white it feeds where it is one of two units.
fn description(driver: &SizedDriver) -> String {
    let text = &driver.item.offer.description;
    driver.half.as_ref().map_or_else(
        || text.clone(),
        |half| format!("{text}; {} white, with {}", half.white(), half.other),
    )
}

fn connections(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("driver", "Driver"),
        Column::text("gear", "Gear type"),
        Column::text("loop", "Loop"),
        Column::text("address", "Address"),
        Column::text("circuit", "Circuit, switched on at once"),
        Column::figure("mains_a", "Mains", Unit::Ampere),
        Column::figure("leakage_ma", "Leakage", Unit::LeakageMilliampere),
        Column::number("most_per_b16", "Most on a B16"),
        Column::text("largest_terminal", "Largest core").when_wide(),
        Column::text("safety", "Marked"),
        Column::text("access", "Access").when_wide(),
    ]);
    by_cupboard(job, &mut table, |driver| connection_row(job, driver));
    Part::table("driver-connections", "Bus and mains connections", table)
}

fn connection_row(job: &Job, driver: &SizedDriver) -> Vec<Cell> {
    let (item, mains) = (&driver.item, &driver.item.mains);
    let missing = |key: &str| format!("`{key}` is not in the catalogue for {}", item.offer.id);
    let member = job.allocation.member(&driver.number);
    let addresses = member.map_or(Cell::Empty, |(_, member)| addresses(member));
    vec![
        Cell::text(&driver.number),
        Cell::text(driver.half.as_ref().map_or_else(
            || gear(item).to_owned(),
            |half| format!("{}, {} of two", gear(item), half.white()),
        )),
        member.map_or(Cell::Empty, |(on, _)| Cell::text(&on.name)),
        addresses,
        job.allocation
            .circuit_of(&driver.number)
            .map_or(Cell::Empty, |on| Cell::text(&on.name)),
        Cell::known(mains.current, Cell::amperes, &missing("mains: current")),
        Cell::known(
            mains.earth_leakage,
            Cell::leakage,
            &missing("mains: earth_leakage"),
        ),
        Cell::known(
            mains.most_per_b16,
            Cell::count,
            &missing("mains: most_per_b16"),
        ),
        Cell::known(
            item.largest_terminal,
            |size| Cell::text(cable_size::size(size)),
            &missing("terminals: largest"),
        ),
        Cell::known(
            item.safety.as_ref(),
            |marks| Cell::text(safety(marks)),
            &missing("safety"),
        ),
        places::access(&driver.cupboard),
    ]
}

/// The short addresses of a member.
pub(super) fn addresses(member: &Member) -> Cell {
    if member.addresses.is_empty() {
        Cell::unknown("no address was left on this loop")
    } else {
        Cell::names(member.addresses.iter().map(ToString::to_string))
    }
}

/// What the bus side controls, in words.
pub(super) fn gear(driver: &Driver) -> &'static str {
    match driver.bus.as_ref().map(|bus| bus.gear) {
        Some(GearType::Single) => "level, Part 207",
        Some(GearType::ColourTemperature) => "white, Part 209",
        None => "none: switched",
    }
}

fn safety(marks: &[SafetyClass]) -> String {
    joined(marks.iter().map(|mark| match mark {
        SafetyClass::Selv => "SELV",
        SafetyClass::Class2 => "class 2",
        SafetyClass::ProtectiveClassTwo => "protective class II",
    }))
}

fn outputs(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("driver", "Driver"),
        Column::number("output", "Output"),
        Column::long_text("sections", "Run and section"),
        Column::text("channel_currents_a", "Channels, most A"),
    ]);
    for driver in &job.sizing.drivers {
        for output in &driver.outputs {
            table.row(output_row(driver, output));
        }
    }
    Part::table("driver-outputs", "Outputs in use", table)
}

fn output_row(driver: &SizedDriver, output: &OutputUse) -> Vec<Cell> {
    let sections = output
        .sections
        .iter()
        .map(|(run, section)| format!("{run} section {section}"));
    let currents = output
        .channel_currents
        .iter()
        .map(|current| format!("{:.2}", measured::amperes(*current)));
    vec![
        Cell::text(&driver.number),
        Cell::count(output.output),
        Cell::names(sections),
        Cell::text(currents.collect::<Vec<_>>().join(" + ")),
    ]
}

/// Connected, rated and lost power of each cupboard.
fn losses(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("cupboard", "Cupboard"),
        Column::number("drivers", "Drivers"),
        Column::figure("rated_w", "Rated", Unit::Watt),
        Column::figure("load_w", "Load", Unit::Watt),
        Column::figure("losses_w", "Heat given off", Unit::Watt),
    ]);
    for point in &job.project.site.points {
        let here: Vec<_> = job
            .sizing
            .drivers
            .iter()
            .filter(|driver| driver.cupboard.name == point.name)
            .collect();
        if !here.is_empty() {
            table.row(vec![
                Cell::text(&point.title),
                Cell::count(here.len()),
                Cell::watts(here.iter().map(|driver| rated_power(driver)).sum()),
                Cell::watts(here.iter().map(|driver| driver.load).sum()),
                heat(&here),
            ]);
        }
    }
    Part::table("cupboards", "Cupboards", table)
}

/// Load × (1/efficiency − 1), summed; the known part when a driver is silent.
fn heat(drivers: &[&SizedDriver]) -> Cell {
    let mut known = Power::default();
    let mut silent: Vec<String> = Vec::new();
    for driver in drivers {
        match driver.item.mains.efficiency {
            Some(efficiency) => {
                let one = Ratio::new::<uom::si::ratio::ratio>(1.0);
                known += driver.load * (one / efficiency - one);
            }
            None => silent.push(driver.number.clone()),
        }
    }
    Cell::sum(Cell::watts(known), &silent, "efficiency")
}

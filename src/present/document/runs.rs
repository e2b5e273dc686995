//! The run schedule: each run's light, its feeds, and why they are where they are.

use super::{Cell, Column, Part, Table, verdicts};
use crate::choose::limits;
use crate::choose::sized::{Section, SizedFeed, SizedRun};
use crate::present::cable_size::cores;
use crate::present::job::Job;
use crate::present::measured;
use crate::quantity::figure::Unit;
use crate::quantity::{Power, Ratio};
use uom::si::ratio::ratio;

const NO_WORKING_POINT: &str =
    "the strip has no working point here: it can't draw its power over these cables";
const NO_COLOUR: &str = "the strip's whites or its light per metre are not in the catalogue";
const NO_PRICE: &str = "an item of this arrangement has no price";
const NO_DRIVER: &str = "no driver in the catalogue can feed this section";

/// The parts of the run schedule.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    vec![
        light(job),
        rooms(job),
        feeds(job),
        states(job),
        reasons(job),
    ]
}

/// Runs by room in site order, then in project order.
fn by_room(job: &Job) -> Vec<&SizedRun> {
    let mut runs: Vec<_> = job.sizing.runs.iter().collect();
    runs.sort_by_key(|sized| sized.run.room.index);
    runs
}

fn light(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("run", "Run"),
        Column::text("room", "Room").data_only(),
        Column::long_text("strip", "Strip").when_wide(),
        Column::figure("asked_m", "Asked", Unit::Metre).when_wide(),
        Column::figure("length_m", "Length", Unit::Metre),
        Column::number("pieces", "Pieces").when_wide(),
        Column::text("fed", "Fed"),
        Column::figure("volts_least_v", "Least volts", Unit::Volt),
        Column::figure("feed_drop_percent", "Feed drop", Unit::Percent),
        Column::figure("light_least_percent", "Least light", Unit::Percent),
        Column::figure("light_limit_percent", "At least", Unit::Percent).when_wide(),
        Column::figure("darkest_at_m", "Dimmest at", Unit::Metre).when_wide(),
        Column::figure("light_evenness_percent", "Even", Unit::Percent),
        Column::figure("colour_shift_steps", "Colour shift", Unit::Steps).when_wide(),
        Column::figure("power_w", "Power", Unit::Watt).when_wide(),
        Column::text("drivers", "Drivers").when_wide(),
        Column::text("checks", "Checks"),
    ]);
    let mut room = None;
    for sized in by_room(job) {
        if room != Some(&sized.run.room.name) {
            room = Some(&sized.run.room.name);
            table.group(sized.run.room.title.clone());
        }
        table.row(light_row(job, sized));
    }
    let [_, length, .., power] = sums(&by_room(job));
    table.total("All runs", vec![("length_m", length), ("power_w", power)]);
    let mut part = Part::table("run-schedule", "Light along each run", table);
    part.notes = light_notes(job);
    part
}

fn run_power(sized: &SizedRun) -> Power {
    sized.sections.iter().map(|section| section.power).sum()
}

fn light_row(job: &Job, sized: &SizedRun) -> Vec<Cell> {
    let (run, figures) = (&sized.run, &sized.figures);
    let working = |cell: Cell| {
        if figures.works {
            cell
        } else {
            Cell::unknown(NO_WORKING_POINT)
        }
    };
    let single_colour = run.strip.channels.count() == 1;
    let shift = match figures.colour_shift {
        Some(steps) => Cell::figure(steps, Unit::Steps),
        None if single_colour => Cell::Empty,
        None => Cell::unknown(NO_COLOUR),
    };
    vec![
        Cell::text(&run.name),
        Cell::text(&run.room.name),
        Cell::text(&run.strip.offer.id),
        Cell::metres(run.length),
        Cell::metres(sized.length),
        Cell::count(pieces(sized)),
        Cell::text(&sized.reasons.arrangement),
        working(Cell::volts(figures.volts_least)),
        working(Cell::percent(figures.feed_drop_share)),
        working(Cell::percent(figures.light_least)),
        Cell::percent(light_limit(job, sized)),
        working(Cell::metres(figures.darkest_at)),
        working(Cell::percent(figures.evenness)),
        shift,
        working(Cell::watts(run_power(sized))),
        drivers_of(sized),
        verdicts::of_subject(job, &format!("run {}", run.name)),
    ]
}

/// Pieces of reel that it is made of.
fn pieces(sized: &SizedRun) -> usize {
    let sections = sized.sections.iter();
    sections.map(|section| section.joints + 1).sum()
}

/// The least light that its limit leaves at the dimmest place.
fn light_limit(job: &Job, sized: &SizedRun) -> Ratio {
    let limits = limits::of_run(&job.project, &sized.run);
    Ratio::new::<ratio>(1.0) - limits.light_drop.value
}

fn drivers_of(sized: &SizedRun) -> Cell {
    if sized
        .sections
        .iter()
        .any(|section| section.driver.is_empty())
    {
        return Cell::unknown(NO_DRIVER);
    }
    let mut names: Vec<String> = Vec::new();
    for section in &sized.sections {
        let fed_by = section.fed_by();
        if !names.contains(&fed_by) {
            names.push(fed_by);
        }
    }
    Cell::names(names)
}

/// What the figures rest on.
fn light_notes(job: &Job) -> Vec<String> {
    let limits = &job.project.limits;
    let mut notes = vec![format!(
        "Light is of the dimmest segment at full level, in % of the strip's own; limit: {:.1} % \
         lost ({}). Dimming by pulse width keeps the same drop.",
        measured::percent(limits.light_drop.value),
        limits.light_drop.source
    )];
    for sized in &job.sizing.runs {
        if let Some(assumed) = &sized.light_assumed {
            notes.push(format!(
                "{}: its light rests on an assumption: {} ({} not given).",
                sized.run.name, assumed.statement, assumed.missing
            ));
        }
        if let Some(unmet) = &sized.unmet {
            notes.push(format!(
                "{}: nothing in the catalogue keeps every limit; what fails: {}. What would cure it: {}.",
                sized.run.name,
                unmet.what(),
                unmet.cure
            ));
        }
    }
    notes
}

/// What each room has of it.
fn rooms(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("room", "Room"),
        Column::number("runs", "Runs"),
        Column::figure("length_m", "Length", Unit::Metre),
        Column::number("sections", "Sections"),
        Column::number("feeds", "Feeds"),
        Column::figure("power_w", "Power", Unit::Watt),
    ]);
    let runs = by_room(job);
    for of_room in runs.chunk_by(|a, b| a.run.room.index == b.run.room.index) {
        let title = of_room.first().map(|sized| &sized.run.room.title);
        let mut cells = vec![title.map_or(Cell::Empty, Cell::text)];
        cells.extend(sums(of_room));
        table.row(cells);
    }
    let keys = ["runs", "length_m", "sections", "feeds", "power_w"];
    table.total("All rooms", keys.into_iter().zip(sums(&runs)).collect());
    Part::table("room-totals", "By room", table)
}

/// How many runs, their length, sections and feeds, and what they take.
fn sums(runs: &[&SizedRun]) -> [Cell; 5] {
    let sections = || runs.iter().flat_map(|sized| &sized.sections);
    let feeds = sections().map(|section| section.feeds.len()).sum();
    let power = if runs.iter().all(|sized| sized.figures.works) {
        Cell::watts(runs.iter().map(|sized| run_power(sized)).sum())
    } else {
        Cell::unknown(NO_WORKING_POINT)
    };
    [
        Cell::count(runs.len()),
        Cell::metres(runs.iter().map(|sized| sized.length).sum()),
        Cell::count(sections().count()),
        Cell::count(feeds),
        power,
    ]
}

fn feeds(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("run", "Run"),
        Column::number("section", "Section"),
        Column::figure("at_m", "Feed at", Unit::Metre),
        Column::text("driver", "Driver"),
        Column::number("output", "Output").when_wide(),
        Column::text("cable_number", "Cable"),
        Column::text("cable", "Cable type"),
        Column::text("cores", "Cores").when_wide(),
        Column::figure("cable_length_m", "Cable length", Unit::Metre),
        Column::figure("current_a", "Current", Unit::Ampere),
        Column::figure("volts_v", "Volts at feed", Unit::Volt),
    ]);
    for sized in by_room(job) {
        for (index, section) in sized.sections.iter().enumerate() {
            for feed in &section.feeds {
                table.row(feed_row(job, sized, index + 1, section, feed));
            }
        }
    }
    let mut part = Part::table("feeds", "Feeds", table);
    part.notes.push(
        "Places are measured from the run's start. The feeds of one section hang on one driver \
         output; volts are the least over all states, at full level."
            .to_owned(),
    );
    part
}

fn feed_row(
    job: &Job,
    sized: &SizedRun,
    number: usize,
    section: &Section,
    feed: &SizedFeed,
) -> Vec<Cell> {
    let cable = job.sizing.cable_to(sized, number, feed);
    let (driver, output) = if section.driver.is_empty() {
        (Cell::unknown(NO_DRIVER), Cell::unknown(NO_DRIVER))
    } else {
        (Cell::text(section.fed_by()), Cell::count(section.output))
    };
    vec![
        Cell::text(&sized.run.name),
        Cell::count(number),
        Cell::metres(feed.at),
        driver,
        output,
        cable.map_or(Cell::Empty, |cable| Cell::text(&cable.number)),
        Cell::text(&section.cable.offer.id),
        Cell::text(cores(&section.cable)),
        Cell::metres(feed.cable_length),
        Cell::amperes(feed.current),
        Cell::volts(feed.volts),
    ]
}

/// Figures by state, for runs that have more than one.
fn states(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("run", "Run"),
        Column::text("lit", "Lit"),
        Column::figure("volts_least_v", "Least volts", Unit::Volt),
        Column::figure("light_least_percent", "Least light", Unit::Percent),
        Column::figure("light_most_percent", "Most light", Unit::Percent),
        Column::figure("darkest_at_m", "Dimmest at", Unit::Metre),
        Column::number("dark_segments", "Dark segments"),
        Column::figure("current_a", "Current", Unit::Ampere),
    ]);
    for sized in by_room(job).into_iter().filter(|run| run.states.len() > 1) {
        for state in &sized.states {
            table.row(vec![
                Cell::text(&sized.run.name),
                Cell::text(state.lit.name()),
                Cell::volts(state.volts_least),
                Cell::percent(state.light_least),
                Cell::percent(state.light_most),
                Cell::metres(state.darkest_at),
                Cell::count(state.dark_segments),
                Cell::amperes(state.current),
            ]);
        }
    }
    Part::table("states", "By whites lit", table)
}

fn reasons(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::text("run", "Run"),
        Column::text("arrangement", "Arrangement"),
        Column::number("cost", "Cost compared"),
        Column::long_text("runner_up", "Next cheapest"),
        Column::number("runner_up_cost", "Its cost"),
        Column::long_text("deciding_limit", "A simpler one breaks"),
    ]);
    for sized in by_room(job) {
        let reasons = &sized.reasons;
        let (next, next_cost) = match &reasons.runner_up {
            Some((name, cost)) => (Cell::text(name), Cell::Money(*cost)),
            None => (Cell::Empty, Cell::Empty),
        };
        table.row(vec![
            Cell::text(&sized.run.name),
            Cell::text(&reasons.arrangement),
            Cell::money(reasons.cost, NO_PRICE),
            next,
            next_cost,
            reasons
                .deciding_limit
                .as_ref()
                .map_or(Cell::Empty, Cell::text),
        ]);
    }
    Part::table("reasons", "Why this arrangement", table)
}

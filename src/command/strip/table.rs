//! A strip's answer as a document.

use super::answer::{Answer, ByCable};
use super::json::{along, names};
use crate::present::document::{Cell, Column, Document, Part, Table, TitleBlock, tolerance};
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use crate::quantity::{Ratio, length};
use crate::solve::longest::{Longest, MOST_SEGMENTS};
use crate::solve::strip::{ChannelState, Lit, State};
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::kelvin;

/// The document of an answer.
#[must_use]
pub fn document(answer: &Answer, cautions: Vec<String>) -> Document {
    let mut parts = Vec::new();
    if !answer.only_longest {
        parts.push(light(answer));
        parts.extend(white(answer));
        parts.push(feeds(answer));
    }
    parts.push(longest(answer));
    if !answer.by_cable.is_empty() {
        parts.push(cables(answer));
    }
    if let Some(within) = &answer.within {
        parts.push(tolerance::part(&answer.tolerances, within));
    }
    parts.extend(assumptions(answer));
    Document {
        name: "strip",
        title: title(answer),
        block: TitleBlock::default(),
        currency: String::new(),
        decimals: 2,
        inside: false,
        parts,
        cautions,
    }
}

fn title(answer: &Answer) -> String {
    let ladder = &answer.laid.ladder;
    if answer.only_longest {
        return "How long the strip may be".to_owned();
    }
    let places: Vec<String> = ladder
        .feeds
        .iter()
        .map(|feed| length::write(ladder.segment * real(feed.cut)))
        .collect();
    format!(
        "Strip of {} ({} segments), fed at {}",
        Figure::new((ladder.segment * real(ladder.segments)).value, Unit::Metre),
        ladder.segments,
        places.join(", ")
    )
}

fn share(ratio: Ratio) -> Figure {
    Figure::new(ratio.get::<percent>(), Unit::Percent)
}

/// The verdict in words; nothing is passed that rests on what isn't known.
fn verdict(answer: &Answer) -> String {
    let (drop, limit) = (share(answer.drop), share(answer.limit.value));
    if answer.states.iter().any(|(_, state)| state.is_none()) {
        return "No working point: fed like this, the strip's converters draw more than the \
                rails and cables can carry, and the voltage collapses."
            .to_owned();
    }
    let figure = format!("The darkest segment loses {drop} of its light (limit {limit})");
    if !answer.laid.model.is_known() {
        return format!("{figure}. Cannot tell whether that is so: it rests on assumptions below.");
    }
    let kept = if answer.limit.allows(answer.drop) {
        "holds"
    } else {
        "broken"
    };
    format!("{figure}: {kept}.")
}

fn light(answer: &Answer) -> Part {
    let mut table = Table::new(vec![
        Column::text("lit", "Lit"),
        Column::text("channel", "Channel"),
        Column::figure("light_end_percent", "Light at end", Unit::Percent),
        Column::figure("light_least_percent", "Light least", Unit::Percent),
        Column::figure("darkest_at_m", "Least at", Unit::Metre),
        Column::figure("volts_end_v", "Volts at end", Unit::Volt),
        Column::figure("volts_least_v", "Volts least", Unit::Volt),
        Column::figure("current_a", "Current", Unit::Ampere),
        Column::figure("source_w", "From driver", Unit::Watt).when_wide(),
        Column::figure("loss_w", "Lost", Unit::Watt).when_wide(),
    ]);
    for (lit, state) in &answer.states {
        match state {
            None => table.row(without_point(*lit)),
            Some(state) => {
                for channel in &state.channels {
                    table.row(light_row(answer, *lit, state, channel));
                }
            }
        }
    }
    let mut part = Part::table("light", "Light along the strip", table);
    part.text.push(verdict(answer));
    let ladder = &answer.laid.ladder;
    if ladder.supply > ladder.nominal * OVERVOLTAGE {
        part.notes.push(format!(
            "The supply, {}, is above the strip's {}: overvoltage shortens its life steeply.",
            Figure::new(ladder.supply.value, Unit::Volt),
            Figure::new(ladder.nominal.value, Unit::Volt)
        ));
    }
    part
}

/// Supply over nominal from which the reader is told. Common practice, no source.
const OVERVOLTAGE: f64 = 1.05;

fn without_point(lit: Lit) -> Vec<Cell> {
    let mut cells = vec![Cell::text(lit.name()), Cell::text("no working point")];
    cells.resize(10, Cell::Empty);
    cells
}

fn light_row(answer: &Answer, lit: Lit, state: &State, channel: &ChannelState) -> Vec<Cell> {
    let ladder = &answer.laid.ladder;
    let darkest = channel.least_light();
    let at = channel.light.iter().position(|light| *light <= darkest);
    let metres = at.map_or(0.0, |at| ladder.segment.value * (real(at) + 0.5));
    let name = names(ladder).get(channel.channel).copied();
    vec![
        Cell::text(lit.name()),
        Cell::text(name.unwrap_or_default()),
        Cell::figure(100.0 * channel.end_light(), Unit::Percent),
        Cell::figure(100.0 * darkest, Unit::Percent),
        Cell::figure(metres, Unit::Metre),
        Cell::figure(channel.end_volts(), Unit::Volt),
        Cell::figure(channel.least_volts(), Unit::Volt),
        Cell::amperes(channel.current),
        Cell::watts(state.source_power),
        Cell::watts(state.cable_loss + state.rail_loss),
    ]
}

/// The white with both channels on, where it is known.
fn white(answer: &Answer) -> Option<Part> {
    let both = answer.states.iter().find(|(lit, _)| *lit == Lit::Both)?;
    let along = along(&answer.laid, both.1.as_ref()?)?;
    let whites = along.whites?;
    let white = |white: Option<crate::solve::colour::White>| {
        white.map_or("not known".to_owned(), |white| {
            Figure::new(white.temperature.get::<kelvin>(), Unit::Kelvin).to_string()
        })
    };
    let text = format!(
        "With both channels on the white runs from {} to {}; it is {} where nothing is lost. That \
         is {} between the ends, {} between the places furthest apart.",
        white(whites.warmest),
        white(whites.coolest),
        white(whites.nominal),
        Figure::new(whites.ends_steps, Unit::Steps),
        Figure::new(whites.most_steps, Unit::Steps),
    );
    Some(Part::prose("White along the strip", vec![text]))
}

fn feeds(answer: &Answer) -> Part {
    let known = answer.laid.model.is_known();
    let mut table = Table::new(vec![
        Column::text("fed", "Fed"),
        Column::number("feeds", "Feeds"),
        Column::figure("light_drop_percent", "Light lost", Unit::Percent),
        Column::text("limit", "Limit"),
    ]);
    for tried in &answer.tried {
        table.row(vec![
            Cell::text(&tried.way.name),
            Cell::count(tried.way.cuts.len()),
            Cell::percent(tried.drop),
            Cell::Verdict(match (known, tried.keeps) {
                (false, _) => "cannot tell",
                (true, true) => "holds",
                (true, false) => "broken",
            }),
        ]);
    }
    let mut part = Part::table("feeds", "Feeds needed", table);
    let limit = share(answer.limit.value);
    part.text.push(match answer.fewest() {
        Some(tried) => format!(
            "Fewest feeds that lose at most {limit}{}: {}, fed at {} ({}).",
            if known {
                ""
            } else {
                ", if what is assumed is so"
            },
            tried.way.cuts.len(),
            tried.way.name,
            share(tried.drop)
        ),
        None => format!("No way of feeding tried here loses at most {limit}."),
    });
    part.notes
        .push("Every feed through a cable like the first one's, all from one output.".to_owned());
    part
}

fn longest(answer: &Answer) -> Part {
    let segment = answer.laid.ladder.segment;
    let metres = |segments: usize| Cell::metres(segment * real(segments));
    let mut table = Table::new(vec![
        Column::text("fed", "Fed"),
        Column::figure("longest_m", "Longest", Unit::Metre),
        Column::number("segments", "Segments"),
    ]);
    for (arrangement, longest) in &answer.longest {
        let (length, count) = match longest {
            Longest::None => (metres(0), Cell::count(0)),
            Longest::Segments(segments) => (metres(*segments), Cell::count(*segments)),
            Longest::Unbounded => {
                let why = format!("longer than {MOST_SEGMENTS} segments: light does not bound it");
                (Cell::unknown(why.as_str()), Cell::unknown(why.as_str()))
            }
        };
        table.row(vec![Cell::text(arrangement.name()), length, count]);
    }
    let heading = format!(
        "Longest run that loses at most {}",
        share(answer.limit.value)
    );
    with_doubt(answer, Part::table("longest", heading, table))
}

fn cables(answer: &Answer) -> Part {
    let mut columns = vec![Column::text("size", "Cores")];
    for way in &answer.cable_ways {
        let key = format!("{}_percent", way.name.replace(' ', "_"));
        columns.push(Column::figure(&key, &way.name, Unit::Percent));
    }
    let mut table = Table::new(columns);
    for ByCable { size, drops } in &answer.by_cable {
        let mut cells = vec![Cell::text(size.to_string())];
        cells.extend(drops.iter().map(|drop| Cell::percent(*drop)));
        table.row(cells);
    }
    with_doubt(
        answer,
        Part::table("cables", "Light lost, by cable and feeds", table),
    )
}

/// Says of figures that rest on assumptions that they do.
fn with_doubt(answer: &Answer, mut part: Part) -> Part {
    if !answer.laid.model.is_known() {
        let doubt = "Cannot tell: so it is only if what is assumed is so.";
        part.text.push(doubt.to_owned());
    }
    part
}

fn assumptions(answer: &Answer) -> Option<Part> {
    let mut lines: Vec<String> = answer
        .assumptions
        .iter()
        .map(|assumption| {
            format!(
                "{}; missing: {}, from {}",
                assumption.statement, assumption.missing, assumption.supplied_by
            )
        })
        .collect();
    if !answer.stood_in.is_empty() {
        let stood_in = answer.stood_in.iter();
        let stood_in: Vec<&str> = stood_in.map(|one| one.statement.as_str()).collect();
        lines.push(format!("because no flag says it: {}", stood_in.join(", ")));
    }
    (!lines.is_empty()).then(|| Part::prose("Assumed", lines))
}

//! The figures of a run that count, each with its limit and whether it is kept.

use super::{NO_PRICE, NO_WORKING_POINT};
use crate::choose::limits::{self, Checked};
use crate::choose::sized::{SizedRun, Unmet};
use crate::present::along::Along;
use crate::present::document::{Cell, Column, Part, Table, verdicts};
use crate::present::{measured, money};
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::{Length, Ratio};
use rust_decimal::Decimal;

/// The figures that count, each with its limit, as lines for people and as columns for programs.
pub(super) fn figures(along: &Along) -> Part {
    let sized = along.shown();
    let (mut columns, mut cells) = (Vec::new(), Vec::new());
    for (key, heading, cell) in lines(along, sized) {
        columns.push(Column::long_text(key, heading));
        cells.push(cell);
    }
    let figures = &sized.figures;
    for (key, unit, cell) in [
        ("length_m", Unit::Metre, Cell::metres(sized.length)),
        (
            "light_least_percent",
            Unit::Percent,
            Cell::percent(figures.light_least),
        ),
        (
            "darkest_at_m",
            Unit::Metre,
            Cell::metres(figures.darkest_at),
        ),
        (
            "feed_drop_percent",
            Unit::Percent,
            Cell::percent(figures.feed_drop_share),
        ),
    ] {
        columns.push(Column::figure(key, key, unit).data_only());
        cells.push(if figures.works {
            cell
        } else {
            Cell::unknown(NO_WORKING_POINT)
        });
    }
    let mut table = Table::new(columns);
    table.row(cells);
    let mut part = Part::table("along", "", table);
    part.block_head = 1;
    part
}

fn lines(along: &Along, sized: &SizedRun) -> Vec<(&'static str, &'static str, Cell)> {
    let (run, reasons) = (&sized.run, &sized.reasons);
    let strip = format!(
        "{} of {}, {} segments",
        metres(sized.length),
        run.strip.offer.id,
        sized.segments
    );
    let money = |amount: Decimal| price(along, amount);
    let next = reasons.runner_up.as_ref();
    let next = next.map(|(name, cost)| format!("{name}: {}", money(*cost)));
    let cost = reasons.cost.map_or_else(
        || Cell::unknown(NO_PRICE),
        |cost| {
            Cell::text(format!(
                "{}, of cable, labour, connectors and driver share",
                money(cost)
            ))
        },
    );
    vec![
        (
            "run",
            "Run",
            Cell::text(format!("{}, {}", run.name, run.room.title)),
        ),
        ("strip", "Strip", Cell::text(strip)),
        ("fed", "Fed", Cell::text(&reasons.arrangement)),
        ("cables", "Cables", Cell::text(cables(sized))),
        ("drivers", "Drivers", Cell::text(drivers(sized))),
        ("darkest", "Darkest", Cell::text(darkest(along, sized))),
        (
            "feed_drop",
            "Feed drop",
            Cell::text(feed_drop(along, sized)),
        ),
        ("evenness", "Evenness", Cell::text(evenness(along, sized))),
        (
            "colour_shift",
            "Colour shift",
            Cell::text(colour(along, sized)),
        ),
        ("cost", "Cost compared", cost),
        (
            "runner_up",
            "Next cheapest",
            Cell::text(next.unwrap_or_default()),
        ),
        (
            "deciding_limit",
            "Simpler breaks",
            Cell::text(reasons.deciding_limit.clone().unwrap_or_default()),
        ),
        ("tighter", "Tighter limit", Cell::text(tighter(along))),
        ("checks", "Checks", checks(along)),
    ]
}

/// What the next tighter limit on light drop costs, beside the run as the job has it.
fn tighter(along: &Along) -> String {
    let Some(row) = &along.tighter else {
        return String::new();
    };
    if let Some(unmet) = &row.unmet {
        return format!("light drop {}: {}", share(row.limit), unmet.what());
    }
    let cost = row.cost.zip(along.present.reasons.cost);
    let cost = cost.map_or(NO_PRICE.to_owned(), |(new, old)| {
        format!("{} more", price(along, new - old))
    });
    format!(
        "light drop {} for {cost}: {}, {}",
        share(row.limit),
        row.arrangement,
        row.cable
    )
}

fn price(along: &Along, amount: Decimal) -> String {
    let quote = &along.job.quote;
    format!(
        "{} {}",
        money::shown(amount, quote.decimals),
        quote.currency
    )
}

fn cables(sized: &SizedRun) -> String {
    let mut kinds: Vec<&str> = Vec::new();
    for section in &sized.sections {
        if !kinds.contains(&section.cable.offer.id.as_str()) {
            kinds.push(&section.cable.offer.id);
        }
    }
    let feeds = || sized.sections.iter().flat_map(|section| &section.feeds);
    let length: Length = feeds().map(|feed| feed.cable_length).sum();
    let count = feeds().count();
    let lengths = if count == 1 { "length" } else { "lengths" };
    format!(
        "{}, {} in {count} {lengths}",
        kinds.join(", "),
        metres(length)
    )
}

fn drivers(sized: &SizedRun) -> String {
    let outputs: Vec<String> = sized
        .sections
        .iter()
        .filter(|section| !section.driver.is_empty())
        .map(|section| format!("{} output {}", section.fed_by(), section.output))
        .collect();
    let missing = sized.sections.len() - outputs.len();
    let mut named = outputs;
    named.dedup();
    match (missing, sized.sections.len()) {
        (0, _) => named.join(", "),
        (_, 1) => format!("one output, in {}", sized.cupboard.name),
        (_, many) => format!("{many} outputs, in {}", sized.cupboard.name),
    }
}

/// A figure with its limit, where the limit is from, and whether it is kept.
fn held(checked: &Checked, known: bool) -> String {
    let kept = match (known, checked.keeps) {
        (false, _) => "cannot tell",
        (true, true) => "holds",
        (true, false) => "broken",
    };
    let limit = format!("limit {}, {}", checked.limit, checked.source);
    format!("({limit}): {kept}")
}

fn darkest(along: &Along, sized: &SizedRun) -> String {
    let figures = &sized.figures;
    if !figures.works {
        return format!("no light: {NO_WORKING_POINT}");
    }
    let checked = limits::light_drop(&along.run_limits(), figures.light_least);
    format!(
        "{} of its light at {}, {} lost {}",
        share(figures.light_least),
        metres(figures.darkest_at),
        checked.found,
        held(&checked, sized.light_assumed.is_none())
    )
}

fn feed_drop(along: &Along, sized: &SizedRun) -> String {
    let figures = &sized.figures;
    let checked = limits::feed_drop(&along.run_limits(), figures.feed_drop_share);
    let volts = |value| Figure::new(measured::volts(value), Unit::Volt);
    format!(
        "{}, {} {}; least {}",
        volts(figures.feed_drop),
        checked.found,
        held(&checked, sized.light_assumed.is_none()),
        volts(figures.volts_least)
    )
}

fn evenness(along: &Along, sized: &SizedRun) -> String {
    let checked = limits::evenness(&along.run_limits(), sized.figures.evenness);
    let known = sized.light_assumed.is_none();
    format!(
        "{} darkest to brightest {}",
        checked.found,
        held(&checked, known)
    )
}

fn colour(along: &Along, sized: &SizedRun) -> String {
    match sized.figures.colour_shift {
        _ if sized.run.strip.channels.count() == 1 => String::new(),
        None => "not known: the strip's whites or light are not in the catalogue".to_owned(),
        Some(steps) => {
            let checked = limits::colour_shift(&along.run_limits(), steps);
            let known = sized.light_assumed.is_none();
            format!(
                "{} at the worst mix {}",
                checked.found,
                held(&checked, known)
            )
        }
    }
}

/// What the rules say of the run; of an arrangement that is tried, whether it keeps its limits.
fn checks(along: &Along) -> Cell {
    if let Some(tried) = &along.tried {
        let mut wrong: Vec<String> = tried.sized.unmet.iter().map(unmet).collect();
        if !tried.unreached.is_empty() {
            let places: Vec<String> = tried
                .unreached
                .iter()
                .map(|at| metres(*at).to_string())
                .collect();
            wrong.push(format!(
                "no cable is said to reach {} (`to_start`, `to_end`, `reach_along`)",
                places.join(", ")
            ));
        }
        return Cell::text(if wrong.is_empty() {
            "keeps every limit of the run; drivers are placed when the project has it so".to_owned()
        } else {
            wrong.join("; ")
        });
    }
    let mut broken = along.broken().peekable();
    if broken.peek().is_none() {
        return verdicts::of_subject(along.job, &format!("run {}", along.present.run.name));
    }
    let broken: Vec<String> = broken
        .map(|verdict| match &verdict.remedy {
            Some(remedy) => format!("{} broken: {remedy}", verdict.rule),
            None => format!("{} broken", verdict.rule),
        })
        .collect();
    Cell::text(broken.join("; "))
}

fn unmet(unmet: &Unmet) -> String {
    format!("broken: {}; {}", unmet.what(), unmet.cure)
}

fn metres(value: Length) -> Figure {
    Figure::new(measured::metres(value), Unit::Metre)
}

fn share(value: Ratio) -> Figure {
    Figure::new(measured::percent(value), Unit::Percent)
}

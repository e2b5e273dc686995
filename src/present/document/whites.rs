//! The range-setting list: controllers that can be told a range of whites, and what each group of
//! tunable white must be told so that nothing is asked of a strip that it can't give.

use super::{Cell, Column, Part, Table};
use crate::allocate::allocated::{Loop, LoopGroup};
use crate::model::strip::{Channels, Strip};
use crate::present::job::Job;
use crate::present::measured;
use crate::quantity::Temperature;
use crate::quantity::figure::Unit;
use crate::solve::dimming;

/// The list; none when no group is tunable white.
pub(super) fn part(job: &Job) -> Option<Part> {
    let mut table = Table::new(vec![
        Column::text("controller", "Controller"),
        Column::text("loop", "Loop"),
        Column::number("number", "Group"),
        Column::text("group", "Name"),
        Column::figure("warm_k", "Warmest", Unit::Kelvin),
        Column::figure("warm_mirek", "Warmest", Unit::Mirek),
        Column::figure("cool_k", "Coolest", Unit::Kelvin),
        Column::figure("cool_mirek", "Coolest", Unit::Mirek),
        Column::long_text("setting", "What to set"),
        Column::text("done", "Done").paper_only(),
    ]);
    for on in &job.allocation.loops {
        for group in &on.groups {
            let range = range(job, group);
            if let Some(range) = range {
                table.row(row(on, group, &range));
            }
        }
    }
    if table.rows.is_empty() {
        return None;
    }
    let mut part = Part::table(
        "white-ranges",
        "Range of whites to set in the controller",
        table,
    );
    part.notes.push(
        "Gear clips a white outside its strip's range without a word. Where strips of a group \
         differ, the range is what all of them give."
            .to_owned(),
    );
    Some(part)
}

/// What all tunable white strips of a group give.
struct Range {
    /// Warmest and coolest; `None` when a strip's whites are not known.
    whites: Option<(Temperature, Temperature)>,
    /// A strip without them.
    silent: Option<String>,
}

fn range(job: &Job, group: &LoopGroup) -> Option<Range> {
    let runs = job.project.runs.iter();
    let strips: Vec<&Strip> = runs
        .filter(|run| run.group.name == group.group)
        .map(|run| run.strip.as_ref())
        .filter(|strip| matches!(strip.channels, Channels::TunableWhite { .. }))
        .collect();
    let first = strips.first()?;
    let of = |strip: &Strip| match &strip.channels {
        Channels::TunableWhite { warm, cool } => Some((warm.white?, cool.white?)),
        Channels::SingleColour(_) => None,
    };
    let silent = strips.iter().find(|strip| of(strip).is_none());
    let whites = strips
        .iter()
        .map(|strip| of(strip))
        .try_fold(of(first)?, |(warm, cool), next| {
            let (its_warm, its_cool) = next?;
            let warmer = if its_warm.value > warm.value {
                its_warm
            } else {
                warm
            };
            let cooler = if its_cool.value < cool.value {
                its_cool
            } else {
                cool
            };
            Some((warmer, cooler))
        });
    Some(Range {
        whites,
        silent: silent.map(|strip| strip.offer.id.clone()),
    })
}

fn row(on: &Loop, group: &LoopGroup, range: &Range) -> Vec<Cell> {
    let silent = range.silent.clone().unwrap_or_default();
    let why = format!("the catalogue has no `white` for strip {silent}");
    let (warm, cool) = (range.whites.map(|w| w.0), range.whites.map(|w| w.1));
    let mirek = |white: Option<Temperature>| {
        let mirek = white.and_then(dimming::mirek);
        Cell::known(
            mirek,
            |mirek| Cell::figure(f64::from(mirek), Unit::Mirek),
            &why,
        )
    };
    let controller = match on.controller.is_empty() {
        true => Cell::unknown("no controller serves this loop"),
        false => Cell::text(&on.controller),
    };
    vec![
        controller,
        Cell::text(&on.name),
        Cell::count(group.number),
        Cell::text(&group.title),
        Cell::known(warm, Cell::kelvin, &why),
        mirek(warm),
        Cell::known(cool, Cell::kelvin, &why),
        mirek(cool),
        Cell::text(setting(on, range.whites)),
        Cell::Blank,
    ]
}

/// What the controller must be told.
fn setting(on: &Loop, range: Option<(Temperature, Temperature)>) -> String {
    let Some(item) = &on.controller_item else {
        return String::new();
    };
    let Some((warmest, coolest)) = item.whites else {
        return format!(
            "{}: its sheet names no range of whites that it sends",
            item.offer.id
        );
    };
    let Some((warm, cool)) = range else {
        return "the strip's own range, once it is known".to_owned();
    };
    let kelvin = measured::kelvin;
    if warmest >= warm && coolest <= cool {
        return format!(
            "nothing: it sends {:.0} to {:.0} K, which the strip gives",
            kelvin(warmest),
            kelvin(coolest)
        );
    }
    let narrower = warmest > warm || coolest < cool;
    let low = if warmest > warm { warmest } else { warm };
    let high = if coolest < cool { coolest } else { cool };
    let reach = match narrower {
        true => format!(
            "; the strip's {:.0} to {:.0} K is not reached whole",
            kelvin(warm),
            kelvin(cool)
        ),
        false => String::new(),
    };
    format!(
        "{:.0} to {:.0} K; it can be told {:.0} to {:.0} K{reach}",
        kelvin(low),
        kelvin(high),
        kelvin(warmest),
        kelvin(coolest)
    )
}

//! How dark the darkest place may be within tolerances.

use super::{Cell, Column, Part, Table};
use crate::quantity::Ratio;
use crate::quantity::figure::{Figure as Shown, Unit};
use crate::solve::tolerance::{Effect, End, Figure, STRIP_POWER, SUPPLY, Tolerances, Within};
use uom::si::ratio::ratio;

/// The part that says so.
#[must_use]
pub fn part(tolerances: &Tolerances, within: &Within) -> Part {
    let mut table = Table::new(vec![
        Column::text("figure", "What differs"),
        Column::text("low", "Low"),
        Column::figure("light_low_percent", "Light then", Unit::Percent),
        Column::text("high", "High"),
        Column::figure("light_high_percent", "Light then", Unit::Percent),
    ]);
    for effect in &within.effects {
        table.row(vec![
            Cell::text(effect.figure.name()),
            Cell::text(value(effect, &effect.low)),
            light(effect.low.light),
            Cell::text(value(effect, &effect.high)),
            light(effect.high.light),
        ]);
    }
    let mut part = Part::table("tolerance", "Darkest place within tolerances", table);
    part.text.push(summary(within));
    part.notes.push(basis(tolerances));
    part
}

fn light(share: f64) -> Cell {
    Cell::percent(Ratio::new::<ratio>(share))
}

fn percent(share: f64) -> Shown {
    Shown::new(100.0 * share, Unit::Percent)
}

fn value(effect: &Effect, end: &End) -> String {
    match effect.figure {
        Figure::StartsAt => Shown::new(end.value, Unit::Volt).to_string(),
        Figure::Power | Figure::Supply => {
            let change = 100.0 * (end.value - 1.0);
            format!("{change:+.1} %")
        }
    }
}

fn summary(within: &Within) -> String {
    let most = within.most().map_or_else(
        || "none of them takes light by itself".to_owned(),
        |effect| format!("{} matters most", effect.figure.name()),
    );
    format!(
        "{} as sized, {} when all are at their worst together; {most}.",
        percent(within.nominal),
        percent(within.together)
    )
}

/// Where the ranges come from, and what light is measured against.
fn basis(tolerances: &Tolerances) -> String {
    let usual = |share: f64, usual: f64| {
        if (share - usual).abs() < f64::EPSILON {
            "common practice, no source"
        } else {
            "as asked"
        }
    };
    let starts = if tolerances.starts_at.is_some() {
        "; where light starts as asked, the rails' resistance unchanged"
    } else {
        ""
    };
    format!(
        "Strip power ± {} ({}), driver voltage ± {} ({}){starts}. Light is a share of what the \
         same strip gives at nominal voltage.",
        percent(tolerances.power),
        usual(tolerances.power, STRIP_POWER),
        percent(tolerances.supply),
        usual(tolerances.supply, SUPPLY)
    )
}

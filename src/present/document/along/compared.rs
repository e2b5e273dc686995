//! Another arrangement beside the present one, and what several limits cost.

use super::{NO_PRICE, NO_WORKING_POINT};
use crate::choose::sized::SizedRun;
use crate::present::along::Along;
use crate::present::document::{Cell, Column, Part, Table};
use crate::quantity::figure::Unit;

/// The arrangement tried beside the present one.
pub(super) fn compared(along: &Along) -> Option<Part> {
    let tried = along.tried.as_ref()?;
    let mut table = Table::new(vec![
        Column::text("which", ""),
        Column::long_text("arrangement", "Fed"),
        Column::text("cable", "Cable"),
        Column::figure("light_least_percent", "Least light", Unit::Percent),
        Column::figure("volts_least_v", "Least volts", Unit::Volt),
        Column::figure("light_evenness_percent", "Even", Unit::Percent),
        Column::figure("colour_shift_steps", "Colour shift", Unit::Steps),
        Column::number("cost", "Cost"),
    ]);
    table.row(compared_row("present", along.present));
    table.row(compared_row("tried", &tried.sized));
    let (old, new) = (&along.present.figures, &tried.sized.figures);
    let works = old.works && new.works;
    let known = |cell: Cell| {
        if works {
            cell
        } else {
            Cell::unknown(NO_WORKING_POINT)
        }
    };
    let shift = new.colour_shift.zip(old.colour_shift);
    table.row(vec![
        Cell::text("difference"),
        Cell::Empty,
        Cell::Empty,
        known(Cell::percent(new.light_least - old.light_least)),
        known(Cell::volts(new.volts_least - old.volts_least)),
        known(Cell::percent(new.evenness - old.evenness)),
        shift.map_or(Cell::Empty, |(new, old)| {
            Cell::figure(new - old, Unit::Steps)
        }),
        Cell::money(along.cost_difference(), NO_PRICE),
    ]);
    let mut part = Part::table("compared", "Beside the present arrangement", table);
    let currency = &along.job.quote.currency;
    part.notes.push(format!(
        "Cost in {currency}: cable, labour, connectors and driver share, before overhead and margin."
    ));
    Some(part)
}

fn compared_row(which: &str, sized: &SizedRun) -> Vec<Cell> {
    let figures = &sized.figures;
    let known = |cell: Cell| {
        if figures.works {
            cell
        } else {
            Cell::unknown(NO_WORKING_POINT)
        }
    };
    let shift = figures.colour_shift;
    let cable = sized.sections.first();
    vec![
        Cell::text(which),
        Cell::text(&sized.reasons.arrangement),
        cable.map_or(Cell::Empty, |section| Cell::text(&section.cable.offer.id)),
        known(Cell::percent(figures.light_least)),
        known(Cell::volts(figures.volts_least)),
        known(Cell::percent(figures.evenness)),
        shift.map_or(Cell::Empty, |steps| Cell::figure(steps, Unit::Steps)),
        Cell::money(sized.reasons.cost, NO_PRICE),
    ]
}

/// What several limits on light drop cost.
pub(super) fn limits_table(along: &Along) -> Option<Part> {
    let first = along.limits.first()?;
    let mut table = Table::new(vec![
        Column::figure("limit_percent", "Light limit", Unit::Percent),
        Column::long_text("arrangement", "Fed"),
        Column::text("cable", "Cable"),
        Column::figure("light_drop_percent", "Light drop", Unit::Percent),
        Column::number("cost", "Cost"),
        Column::number("cost_difference", "To the first"),
        Column::long_text("unmet", "Not kept"),
    ]);
    for row in &along.limits {
        let difference = row.cost.zip(first.cost).map(|(cost, first)| cost - first);
        table.row(vec![
            Cell::percent(row.limit),
            Cell::text(&row.arrangement),
            Cell::text(&row.cable),
            Cell::percent(row.light_drop),
            Cell::money(row.cost, NO_PRICE),
            Cell::money(difference, NO_PRICE),
            row.unmet.as_ref().map_or(Cell::Empty, |it| {
                Cell::text(format!("{} {}", it.limit, it.by))
            }),
        ]);
    }
    let mut part = Part::table("limits", "What a limit on light drop costs", table);
    part.notes.push(format!(
        "The cheapest way that keeps each, all other limits as they are. Cost in {}: cable, \
         labour, connectors and driver share.",
        along.job.quote.currency
    ));
    Some(part)
}

//! One run in full: its figures, another arrangement beside it, what limits cost, a scene, its
//! places, its states, and how dark it may be within tolerances.

mod compared;
mod figures;
mod scene;

use super::{Cell, Column, Document, Part, Table, list, tolerance};
use crate::present::along::Along;
use crate::present::cautions;
use crate::present::drawing::profile::Place;
use crate::quantity::figure::Unit;
use crate::quantity::number::real;
use compared::{compared, limits_table};
use figures::figures;
use scene::{scene, scene_places};

const NO_PRICE: &str = "an item of this arrangement has no price";
const NO_WORKING_POINT: &str =
    "the strip has no working point here: it can't draw its power over these cables";

/// The document of a run. Its first part is its figures.
#[must_use]
pub fn document(along: &Along) -> Document {
    let job = along.job;
    let parts = [
        Some(figures(along)),
        compared(along),
        limits_table(along),
        scene(along),
        scene_places(along),
        places(along),
        states(along),
        along
            .within
            .as_ref()
            .map(|within| tolerance::part(&along.tolerances, within)),
        rests_on(along),
    ];
    let tried = along.tried.as_ref();
    let tried = tried.map_or("", |_| ", another arrangement tried");
    Document {
        name: "along",
        title: format!("Along run {}{tried}", along.present.run.name),
        block: list::title_block(&job.project),
        currency: job.quote.currency.clone(),
        decimals: job.quote.decimals,
        inside: true,
        parts: parts.into_iter().flatten().collect(),
        cautions: cautions::on_sheets(job),
    }
}

fn places(along: &Along) -> Option<Part> {
    let profile = along.profile.as_ref()?;
    let white = !profile.white.is_empty();
    let mut columns = vec![
        Column::figure("at_m", "At", Unit::Metre),
        Column::text("what", "What"),
        Column::number("section", "Section"),
        Column::figure("light_percent", "Light", Unit::Percent),
        Column::figure("volts_v", "Volts", Unit::Volt),
    ];
    if white {
        columns.push(Column::figure("white_k", "White", Unit::Kelvin));
        columns.push(Column::figure("duv", "Duv", Unit::Chromaticity));
    }
    let mut table = Table::new(columns);
    for place in &profile.places {
        table.row(place_row(place, white));
    }
    let mut part = Part::table("places", "Places", table);
    part.notes.push(
        "At full level. Volts at a feed are those where its cable joins the strip, elsewhere \
         those across the segment; of two channels, the darker one's."
            .to_owned(),
    );
    if white {
        part.notes.push(
            "White is both channels mixed at full; Duv is its distance from the Planckian locus \
             in CIE 1960 uv, below 0 on the pink side. Each channel's own white is taken to lie \
             on the locus."
                .to_owned(),
        );
    }
    Some(part)
}

fn place_row(place: &Place, white: bool) -> Vec<Cell> {
    let mut cells = vec![
        Cell::figure(place.at_m, Unit::Metre),
        Cell::text(place.kind.name()),
        Cell::figure(real(place.section), Unit::Count),
        Cell::figure(place.light, Unit::Percent),
        Cell::figure(place.volts, Unit::Volt),
    ];
    if white {
        let kelvin = place.white;
        cells.push(kelvin.map_or(Cell::Empty, |white| Cell::figure(white, Unit::Kelvin)));
        let duv = place.duv;
        cells.push(duv.map_or(Cell::Empty, |duv| Cell::figure(duv, Unit::Chromaticity)));
    }
    cells
}

fn states(along: &Along) -> Option<Part> {
    let states = &along.shown().states;
    let mut table = Table::new(vec![
        Column::text("lit", "Lit"),
        Column::figure("volts_least_v", "Least volts", Unit::Volt),
        Column::figure("light_least_percent", "Least light", Unit::Percent),
        Column::figure("light_most_percent", "Most light", Unit::Percent),
        Column::figure("darkest_at_m", "Darkest at", Unit::Metre),
        Column::number("dark_segments", "Dark segments"),
        Column::figure("current_a", "Current", Unit::Ampere),
    ]);
    for state in states {
        table.row(vec![
            Cell::text(state.lit.name()),
            Cell::volts(state.volts_least),
            Cell::percent(state.light_least),
            Cell::percent(state.light_most),
            Cell::metres(state.darkest_at),
            Cell::count(state.dark_segments),
            Cell::amperes(state.current),
        ]);
    }
    (!states.is_empty()).then(|| Part::table("states", "By what is lit", table))
}

/// What the light rests on, where a figure was missing.
fn rests_on(along: &Along) -> Option<Part> {
    let assumed = along.shown().light_assumed.as_ref()?;
    let text = format!(
        "{}: {} ({} not given; it would come from {}).",
        assumed.subject, assumed.statement, assumed.missing, assumed.supplied_by
    );
    Some(Part::prose("Its light rests on an assumption", vec![text]))
}

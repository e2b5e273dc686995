//! A run in a scene.

use crate::present::along::{Along, SceneSet};
use crate::present::document::{Cell, Column, Part, Table};
use crate::quantity::Ratio;
use crate::quantity::figure::Unit;
use crate::solve::colour::White;
use uom::si::ratio::ratio;

/// Light and white in the scene at each place of interest.
pub(super) fn scene_places(along: &Along) -> Option<Part> {
    let scene = along.scene.as_ref()?;
    let (set, profile) = (scene.set.as_ref()?, along.profile.as_ref()?);
    let white = !set.white_along.is_empty();
    let mut columns = vec![
        Column::figure("at_m", "At", Unit::Metre),
        Column::text("what", "What"),
        Column::figure("light_percent", "Light", Unit::Percent),
    ];
    if white {
        columns.push(Column::figure("white_k", "White", Unit::Kelvin));
    }
    let mut table = Table::new(columns);
    for place in &profile.places {
        let nearer = |a: &f64, b: &f64| {
            let far = |at: &f64| (at - place.at_m).abs();
            far(a).total_cmp(&far(b))
        };
        let segments = profile.at_m.iter().enumerate();
        let (segment, _) = segments.min_by(|(_, a), (_, b)| nearer(a, b))?;
        let mut cells = vec![
            Cell::figure(place.at_m, Unit::Metre),
            Cell::text(place.kind.name()),
            Cell::figure(100.0 * set.light_along.get(segment)?, Unit::Percent),
        ];
        if white {
            let own = set.white_along.get(segment).copied().flatten();
            cells.push(own.map_or(Cell::Empty, |own| Cell::figure(own, Unit::Kelvin)));
        }
        table.row(cells);
    }
    let heading = format!("Along it in scene {}", scene.scene);
    let mut part = Part::table("scene_places", heading, table);
    part.notes.push(
        "Light of the strip's full light; where the scene sets no white, of two channels the \
         darker one's."
            .to_owned(),
    );
    Some(part)
}

/// Its light, and the white along it.
pub(super) fn scene(along: &Along) -> Option<Part> {
    let scene = along.scene.as_ref()?;
    let heading = format!("In scene {}", scene.scene);
    let Some(set) = &scene.set else {
        let group = &along.present.run.group.name;
        let text = format!("The scene says nothing of group {group}: the run stays as it was.");
        return Some(Part::prose(heading, vec![text]));
    };
    let mut table = Table::new(vec![
        Column::figure("light_percent", "Light", Unit::Percent),
        Column::number("level", "Level"),
        Column::figure("white_asked_k", "White asked", Unit::Kelvin),
        Column::figure("warm_share_percent", "Warm share", Unit::Percent),
        Column::figure("white_least_k", "White least", Unit::Kelvin),
        Column::figure("white_most_k", "White most", Unit::Kelvin),
        Column::figure("colour_shift_steps", "Shift", Unit::Steps),
    ]);
    table.row(scene_row(set));
    let mut part = Part::table("scene", heading, table);
    part.notes.push(
        "The warm share is of the light, where nothing is lost. Drop along the strip is that of \
         full level: dimming by pulse width keeps it."
            .to_owned(),
    );
    part.notes.extend(set.why_not.clone());
    Some(part)
}

fn scene_row(set: &SceneSet) -> Vec<Cell> {
    let mixed = set.mixed.as_ref();
    let whites = mixed.and_then(|mixed| mixed.whites);
    let kelvin =
        |white: Option<White>| white.map_or(Cell::Empty, |white| Cell::kelvin(white.temperature));
    vec![
        Cell::percent(set.light),
        set.level
            .map_or(Cell::Empty, |level| Cell::count(usize::from(level))),
        set.white.map_or(Cell::Empty, Cell::kelvin),
        mixed.map_or(Cell::Empty, |mixed| {
            Cell::percent(Ratio::new::<ratio>(mixed.warm_nominal))
        }),
        kelvin(whites.and_then(|whites| whites.warmest)),
        kelvin(whites.and_then(|whites| whites.coolest)),
        whites.map_or(Cell::Empty, |whites| {
            Cell::figure(whites.most_steps, Unit::Steps)
        }),
    ]
}

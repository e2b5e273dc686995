//! Where a run's drivers stand.

use super::error::ChooseError;
use crate::model::project::Project;
use crate::model::run::Run;
use crate::model::site::{Point, PointKind};
use crate::solve::route::Routes;
use std::sync::Arc;

/// The cupboard that was asked for, or the one nearest to the run's room by route; of equally near
/// ones the first of the project file. One that was issued stays while a route leads from it.
///
/// # Errors
/// When no route leads from any cupboard to the room.
pub fn of(project: &Project, routes: &Routes, run: &Run) -> Result<Arc<Point>, ChooseError> {
    if let Some(given) = run.cupboard.given() {
        return Ok(Arc::clone(given));
    }
    let reached = |point: &&Arc<Point>| {
        point.kind == PointKind::Cupboard && routes.shortest(point, &run.room).is_some()
    };
    let issued = project.issued.held();
    let issued = issued.and_then(|record| record.run(&run.name));
    let points = project.site.points.iter();
    let mut cupboards = points.clone().filter(reached);
    if let Some(stays) =
        issued.and_then(|issued| cupboards.find(|point| point.name == issued.cupboard))
    {
        return Ok(Arc::clone(stays));
    }
    points
        .filter(|point| point.kind == PointKind::Cupboard)
        .filter_map(|point| Some((routes.shortest(point, &run.room)?, point)))
        .min_by(|a, b| {
            a.0.value
                .total_cmp(&b.0.value)
                .then(a.1.index.cmp(&b.1.index))
        })
        .map(|(_, point)| Arc::clone(point))
        .ok_or_else(|| ChooseError::NoCupboard {
            run: run.name.clone(),
            room: run.room.name.clone(),
            place: run.place.clone(),
        })
}

//! What several cupboard rules share: the drivers that stand in each cupboard.

use super::rule::Evidence;
use crate::choose::sized::SizedDriver;
use crate::model::site::Point;

/// Cupboards with drivers in them, in site order, each with its drivers.
pub fn with_drivers<'a>(evidence: &Evidence<'a>) -> Vec<(&'a Point, Vec<&'a SizedDriver>)> {
    let points = evidence.project.site.points.iter().map(AsRef::as_ref);
    points
        .map(|point: &Point| {
            let drivers = evidence.sizing.drivers.iter();
            let here = drivers.filter(|driver| driver.cupboard.index == point.index);
            (point, here.collect::<Vec<_>>())
        })
        .filter(|(_, drivers)| !drivers.is_empty())
        .collect()
}

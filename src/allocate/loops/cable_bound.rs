//! A length that the cable of all loops together can't go below, whatever is put on which.

use super::capacity::Capacity;
use super::unit::Unit;
use crate::model::site::{Point, Site};
use crate::quantity::Length;
use crate::quantity::number::real;
use num_traits::ToPrimitive;
use std::sync::Arc;
use uom::ConstZero;

/// The least cable that any layout takes. A route without which some units are cut off from every
/// place where a loop may begin is crossed by as many loops as those units need between them;
/// routes that there is a way round count for nothing.
///
/// Exact where routes form a tree and every route needs no more loops than pass it; else a bound.
pub(super) fn least(
    site: &Site,
    units: &[Unit],
    roots: &[Arc<Point>],
    capacity: &Capacity,
) -> Length {
    let whole = reached(site, roots, None);
    let mut least = Length::ZERO;
    for (index, route) in site.routes.iter().enumerate() {
        let without = reached(site, roots, Some(index));
        let beyond = units.iter().filter(|unit| {
            let at = |seen: &[bool]| seen.get(unit.at.index).copied().unwrap_or(false);
            at(&whole) && !at(&without)
        });
        let sizes = capacity.sizes(beyond);
        let loops = sizes
            .iter()
            .zip(&capacity.0)
            .filter(|(size, _)| **size > 0)
            .map(|(size, most)| size.div_ceil((*most).max(1)))
            .max();
        let loops = loops.and_then(|loops| loops.to_usize()).unwrap_or(0);
        least += route.length * real(loops);
    }
    least
}

/// Which points are reached from some root, without one of the routes.
fn reached(site: &Site, roots: &[Arc<Point>], without: Option<usize>) -> Vec<bool> {
    let mut beside: Vec<Vec<usize>> = vec![Vec::new(); site.points.len()];
    for (index, route) in site.routes.iter().enumerate() {
        if Some(index) == without {
            continue;
        }
        for (from, to) in [(&route.from, &route.to), (&route.to, &route.from)] {
            if let Some(list) = beside.get_mut(from.index) {
                list.push(to.index);
            }
        }
    }
    let mut seen = vec![false; site.points.len()];
    let mut waiting: Vec<usize> = roots.iter().map(|root| root.index).collect();
    while let Some(point) = waiting.pop() {
        if let Some(entry) = seen.get_mut(point).filter(|entry| !**entry) {
            *entry = true;
            waiting.extend(beside.get(point).into_iter().flatten());
        }
    }
    seen
}

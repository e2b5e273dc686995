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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::allocate::allocated::MemberKind;
    use crate::allocate::loops::unit::made::{point, unit};
    use crate::model::site::Route;
    use crate::quantity::{Current, Ratio};
    use uom::si::electric_current::milliampere;
    use uom::si::length::meter;
    use uom::si::ratio::percent;

    /// From the controller 10 m to one place and 20 m on to the next.
    fn found(near: usize, far: usize) -> f64 {
        let points = [0, 1, 2].map(point);
        let route = |from: usize, to: usize, metres: f64| Route {
            from: Arc::clone(&points[from]),
            to: Arc::clone(&points[to]),
            length: Length::new::<meter>(metres),
            separated: None,
        };
        let site = Site {
            points: points.to_vec(),
            routes: vec![route(0, 1, 10.0), route(1, 2, 20.0)],
        };
        let here = |at: usize, count: usize| vec![unit(&points[at], MemberKind::Gear, 1); count];
        let units = [here(1, near), here(2, far)].concat();
        let guaranteed = Current::new::<milliampere>(240.0);
        let capacity = Capacity::new(guaranteed, Ratio::new::<percent>(15.0));
        least(&site, &units, &points[..1], &capacity).get::<meter>()
    }

    // A loop takes 54 gear (64 less 15 %): 60 want two loops, 120 want three.
    #[test]
    fn a_route_is_passed_by_as_many_loops_as_what_lies_beyond_it_wants() {
        for (near, far, expected) in [
            (3, 0, 10.0),
            (3, 3, 30.0),
            (0, 3, 30.0),
            (30, 30, 40.0),
            (0, 60, 60.0),
            (60, 60, 70.0),
            (0, 0, 0.0),
        ] {
            let least = found(near, far);
            assert!((least - expected).abs() < 1e-9, "{near} and {far}: {least}");
        }
    }
}

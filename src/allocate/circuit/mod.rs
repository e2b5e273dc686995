//! Mains circuits: which drivers, controllers and bus supplies share a breaker.

pub mod fill;
mod held;
pub mod inrush;
mod phase;
mod room;
mod share;
mod supply_cable;
mod unit;

use crate::allocate::allocated::{Circuit, Loop};
use crate::choose::sized::Sizing;
use crate::model::issued::{IssuedCircuit, Released, number_in};
use crate::model::project::Project;
use crate::model::site::{Point, PointKind};
use crate::quantity::{Current, Length, Ratio, Temperature};
use crate::solve::route::Routes;
use held::Hold;
use num_traits::ToPrimitive;
use room::Rooms;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use supply_cable::{Demand, Fed, drop_allowed, usual_ambient};
use unit::Unit;
use uom::ConstZero;
use uom::si::electric_current::ampere;
use uom::si::ratio::{percent, ratio};

/// The circuits of a project.
#[derive(Debug, Clone, Default)]
pub(super) struct Layout {
    /// Circuits, by name.
    pub circuits: Vec<Circuit>,
    /// What the reader must be told.
    pub notes: Vec<String>,
    /// Whether fewer circuits are proved impossible.
    pub proved: bool,
    /// What could not stay as it was issued.
    pub released: Vec<Released>,
}

/// Lays out the circuits of a project.
pub(super) fn lay_out(
    project: &Project,
    sizing: &Sizing,
    loops: &[Loop],
    routes: &Routes,
) -> Layout {
    let units = unit::units(project, sizing, loops);
    let panels = panels(project, &units, routes);
    let maker = Maker { project, routes };
    let rooms = Rooms::new(&maker, &units, &panels);
    let afresh = afresh(project, &units, &rooms, &panels);
    let held = project
        .issued
        .held()
        .filter(|record| !record.circuits.is_empty());
    let (mut lists, released) = match held {
        None => (afresh.lists, Vec::new()),
        Some(record) => Hold {
            record,
            units: &units,
            panels: &panels,
            rooms: &rooms,
            share_places: project.circuits.share_cupboards,
        }
        .lists(),
    };
    let proved = afresh.proved && lists.len() <= afresh.count;
    lists.sort_by_key(|list| {
        let number = list.issued.and_then(|on| number_in(&on.name));
        (list.issued.is_none(), number)
    });
    let mut last = held.map_or(0, |record| record.highest.circuits);
    let mut kept: Vec<Option<usize>> = Vec::new();
    let mut circuits: Vec<Circuit> = Vec::new();
    for list in lists {
        let name = list.issued.map(|on| on.name.clone()).unwrap_or_else(|| {
            last += 1;
            format!("C{last}")
        });
        kept.push(list.issued.map(|on| on.phase));
        let units: Vec<&Unit> = list.units.iter().filter_map(|i| units.get(*i)).collect();
        circuits.push(maker.circuit(name, list.panel, &units));
    }
    set_phases(project, &units, &mut circuits, &kept);
    Layout {
        notes: notes(project, &circuits, proved),
        circuits,
        proved,
        released,
    }
}

/// A circuit's units, before it is made.
#[derive(Debug, Clone)]
struct Listed<'a> {
    /// The circuit that was issued, if it is that one.
    issued: Option<&'a IssuedCircuit>,
    /// The panel it comes from.
    panel: Option<Arc<Point>>,
    /// Its units, rising.
    units: Vec<usize>,
}

/// The circuits had nothing been issued.
struct Afresh<'a> {
    lists: Vec<Listed<'a>>,
    count: usize,
    proved: bool,
}

fn afresh<'a>(
    project: &Project,
    units: &[Unit],
    rooms: &Rooms,
    panels: &[Option<Arc<Point>>],
) -> Afresh<'a> {
    let mut proved = true;
    let mut lists: Vec<Listed> = Vec::new();
    for (panel, places) in by_panel(units, panels) {
        let apart: Vec<share::Shared> = places
            .values()
            .map(|units_here| share::share(units, units_here, &rooms.of(units_here)))
            .collect();
        let mut best: Vec<Vec<usize>> = apart.iter().flat_map(|s| s.circuits.clone()).collect();
        let mut best_proved = apart.iter().all(|shared| shared.proved);
        if project.circuits.share_cupboards {
            let all: Vec<usize> = places.into_values().flatten().collect();
            let whole = share::share(units, &all, &rooms.of(&all));
            if whole.circuits.len() < best.len() {
                best = whole.circuits;
            }
            best_proved = whole.proved;
        }
        proved &= best_proved;
        lists.extend(best.into_iter().map(|units| Listed {
            issued: None,
            panel: panel.clone(),
            units,
        }));
    }
    Afresh {
        count: lists.len(),
        lists,
        proved,
    }
}

fn rated(project: &Project) -> Current {
    let amperes = project.circuits.breaker.amperes;
    Current::new::<ampere>(f64::from(amperes))
}

type Places = BTreeMap<usize, Vec<usize>>;

/// Units by the panel nearest to where they stand, and by place: panels and places in site order;
/// places that no panel reaches come last.
fn by_panel(units: &[Unit], panels: &[Option<Arc<Point>>]) -> Vec<(Option<Arc<Point>>, Places)> {
    let mut by_panel: BTreeMap<usize, (Option<Arc<Point>>, Places)> = BTreeMap::new();
    for (index, (unit, panel)) in units.iter().zip(panels).enumerate() {
        let key = panel.as_ref().map_or(usize::MAX, |panel| panel.index);
        let none = (panel.clone(), Places::new());
        let (_, places) = by_panel.entry(key).or_insert(none);
        places.entry(unit.at.index).or_default().push(index);
    }
    by_panel.into_values().collect()
}

/// The panel nearest to where each unit stands; `None` for one that no panel reaches.
fn panels(project: &Project, units: &[Unit], routes: &Routes) -> Vec<Option<Arc<Point>>> {
    let points = project.site.points.iter();
    let panels: Vec<&Arc<Point>> = points
        .filter(|point| point.kind == PointKind::Panel)
        .collect();
    let nearest = |unit: &Unit| {
        let reached = panels
            .iter()
            .filter_map(|panel| Some((routes.shortest(panel, &unit.at)?, *panel)));
        let nearest = reached.min_by(|a, b| a.0.value.total_cmp(&b.0.value));
        nearest.map(|(_, panel)| Arc::clone(panel))
    };
    units.iter().map(nearest).collect()
}

/// Makes circuits of units.
struct Maker<'a> {
    project: &'a Project,
    routes: &'a Routes,
}

impl Maker<'_> {
    fn circuit(&self, name: String, panel: Option<Arc<Point>>, units: &[&Unit]) -> Circuit {
        let mut places: Vec<Arc<Point>> = units.iter().map(|unit| Arc::clone(&unit.at)).collect();
        places.sort_by_key(|point| point.index);
        places.dedup_by_key(|point| point.index);
        let length = panel.as_ref().and_then(|panel| self.length(panel, &places));
        let current = sum(units.iter().filter_map(|unit| unit.current));
        let fed = self.fed(units, &places, current, length);
        let (drivers, supplies): (Vec<&Unit>, Vec<&Unit>) = units.iter().partition(|u| u.driver);
        let shares = drivers.iter().filter_map(|unit| unit.most_alone?.to_f64());
        Circuit {
            name,
            panel,
            places,
            breaker: self.project.circuits.breaker,
            phase: 1,
            drivers: names(&drivers, |_| true),
            supplies: names(&supplies, |_| true),
            current,
            unknown_current: names(units, |unit| unit.current.is_none()),
            inrush_share: Ratio::new::<ratio>(shares.fold(0.0, |sum, most| sum + 1.0 / most)),
            unknown_inrush: names(&drivers, |unit| unit.most_alone.is_none()),
            leakage: sum(drivers.iter().filter_map(|unit| unit.leakage)),
            unknown_leakage: names(&drivers, |unit| unit.leakage.is_none()),
            cable: fed.cable,
            length,
            ampacity: fed.ampacity,
            drop: fed.drop,
        }
    }

    /// Cable to the furthest place; `None` when a place can't be reached.
    fn length(&self, panel: &Point, places: &[Arc<Point>]) -> Option<Length> {
        places
            .iter()
            .map(|place| self.routes.shortest(panel, place))
            .try_fold(Length::ZERO, |furthest, length| Some(furthest.max(length?)))
    }

    fn fed(
        &self,
        units: &[&Unit],
        places: &[Arc<Point>],
        current: Current,
        length: Option<Length>,
    ) -> Fed {
        let demand = Demand {
            current,
            power_factor: power_factor(units, current),
            ..self.demand(places, length)
        };
        supply_cable::choose(self.project, &demand)
    }

    /// What a circuit to some places asks of its cable, before anything is on it.
    fn demand(&self, places: &[Arc<Point>], length: Option<Length>) -> Demand {
        let usual = usual_ambient(self.project);
        let warmer = |a: Temperature, b: Temperature| if b.value > a.value { b } else { a };
        Demand {
            current: Current::ZERO,
            power_factor: Ratio::new::<ratio>(1.0),
            breaker: rated(self.project),
            length,
            ambient: places
                .iter()
                .filter_map(|place| place.ambient)
                .fold(usual, warmer),
        }
    }
}

/// Power factor of units together, by current; one that is not known counts as 1, which loses
/// most volts in a resistive cable.
fn power_factor(units: &[&Unit], current: Current) -> Ratio {
    let one = Ratio::new::<ratio>(1.0);
    if current <= Current::ZERO {
        return one;
    }
    let weighted = units.iter().filter_map(|unit| {
        let factor = unit.power_factor.unwrap_or(one);
        unit.current.map(|current| current * factor)
    });
    weighted.sum::<Current>() / current
}

/// A sum that is plain zero when there is nothing to add (that of the library is minus zero).
fn sum(currents: impl Iterator<Item = Current>) -> Current {
    currents.fold(Current::ZERO, |sum, current| sum + current)
}

fn names(units: &[&Unit], which: impl Fn(&Unit) -> bool) -> Vec<String> {
    let chosen = units.iter().filter(|unit| which(unit));
    chosen.map(|unit| unit.name.clone()).collect()
}

/// Sets the phases: circuits that were issued keep theirs.
fn set_phases(project: &Project, units: &[Unit], circuits: &mut [Circuit], kept: &[Option<usize>]) {
    let rooms = |circuit: &Circuit| -> BTreeSet<usize> {
        units
            .iter()
            .filter(|unit| circuit.drivers.contains(&unit.name))
            .flat_map(|unit| unit.rooms.iter().copied())
            .collect()
    };
    let loads: Vec<(Current, BTreeSet<usize>)> = circuits
        .iter()
        .map(|circuit| (circuit.current, rooms(circuit)))
        .collect();
    let (count, spread) = (project.supply.phases, project.circuits.spread_rooms);
    let phases = if kept.iter().all(Option::is_none) {
        phase::phases(&loads, count, spread)
    } else {
        phase::beside(&loads, kept, count, spread)
    };
    for (circuit, phase) in circuits.iter_mut().zip(phases) {
        circuit.phase = phase;
    }
}

fn notes(project: &Project, circuits: &[Circuit], proved: bool) -> Vec<String> {
    let mut notes = Vec::new();
    let chosen = project.circuits.cable.given().is_none();
    for circuit in circuits {
        let over = |drop: &Ratio| chosen && !drop_allowed(project, *drop);
        if let Some(drop) = circuit.drop.filter(over) {
            notes.push(format!(
                "circuit {}: no mains cable of the catalogue keeps the drop: {:.1} % with what is \
                 lost upstream (limit {:.1} %)",
                circuit.name,
                (drop + project.supply.upstream_drop).get::<percent>(),
                project.limits.circuit_drop.value.get::<percent>()
            ));
        }
        let drivers = circuit.unknown_current.iter();
        let unknown: Vec<&str> = drivers
            .filter(|name| circuit.drivers.contains(name))
            .map(String::as_str)
            .collect();
        if !unknown.is_empty() {
            notes.push(format!(
                "circuit {}: the sheet gives no input current for {}: laid out with rated power over {} × the mains voltage",
                circuit.name,
                unknown.join(", "),
                unit::POOR
            ));
        }
    }
    if !proved {
        notes.push("fewer circuits are not proved impossible".to_owned());
    }
    notes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::sample::point;
    use crate::model::site::PointKind;
    use uom::si::electric_current::ampere;

    fn unit(amperes: f64, factor: Option<f64>) -> Unit {
        Unit {
            name: String::new(),
            at: point(0, "cupboard", PointKind::Cupboard),
            driver: true,
            current: Some(Current::new::<ampere>(amperes)),
            counted: Current::new::<ampere>(amperes),
            power_factor: factor.map(Ratio::new::<ratio>),
            most_alone: None,
            leakage: None,
            rooms: Vec::new(),
        }
    }

    // By hand: 3 A at 0.9 and 1 A at 0.5 are 2.7 A and 0.5 A of 4 A, 3.2 / 4.
    #[test]
    fn power_factors_count_by_current_and_unknown_ones_as_one() {
        let factor = |units: &[Unit]| {
            let all: Vec<&Unit> = units.iter().collect();
            let current = all.iter().filter_map(|unit| unit.current).sum();
            power_factor(&all, current).get::<ratio>()
        };
        let known = [unit(3.0, Some(0.9)), unit(1.0, Some(0.5))];
        assert!((factor(&known) - 0.8).abs() < 1e-12);
        let one_unknown = [unit(3.0, Some(0.9)), unit(1.0, None)];
        assert!((factor(&one_unknown) - 3.7 / 4.0).abs() < 1e-12);
        assert!((factor(&[]) - 1.0).abs() < 1e-12);
    }
}

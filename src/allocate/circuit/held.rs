//! Units on the circuits that they were issued on. What a circuit can no longer take, and what is
//! new, is placed: on a circuit of its place that has room, or else on new ones.

use super::Listed;
use super::fill::{Load, fullness};
use super::room::Rooms;
use super::share::share;
use super::unit::Unit;
use crate::model::issued::{IssuedCircuit, Record, Released};
use crate::model::site::Point;
use crate::quantity::Current;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use uom::si::electric_current::ampere;

/// What holding needs to know.
pub(super) struct Hold<'a> {
    /// The record.
    pub record: &'a Record,
    /// All units.
    pub units: &'a [Unit],
    /// The panel of each unit.
    pub panels: &'a [Option<Arc<Point>>],
    /// What a circuit takes.
    pub rooms: &'a Rooms,
    /// Whether a circuit may serve two places.
    pub share_places: bool,
}

impl<'a> Hold<'a> {
    /// Every unit on a circuit: those that were issued, then new ones.
    pub(super) fn lists(&self) -> (Vec<Listed<'a>>, Vec<Released>) {
        let mut released = Vec::new();
        let mut lists: Vec<Listed> = Vec::new();
        let mut placed: BTreeSet<usize> = BTreeSet::new();
        for on in &self.record.circuits {
            let mut list: Vec<usize> = Vec::new();
            for (index, unit) in self.units.iter().enumerate() {
                if !is_on(unit, on) || placed.contains(&index) {
                    continue;
                }
                match self.why_not(on, &list, index) {
                    None => {
                        list.push(index);
                        placed.insert(index);
                    }
                    Some(why) => {
                        let name = format!("place on a circuit {}", unit.name);
                        released.push(Released::new(name, why));
                    }
                }
            }
            if let Some(first) = list.first() {
                lists.push(Listed {
                    issued: Some(on),
                    panel: self.panel(*first),
                    units: list,
                });
            }
        }
        let mut waiting: Vec<usize> = (0..self.units.len())
            .filter(|index| !placed.contains(index))
            .collect();
        let counted = |index: &usize| self.units.get(*index).map_or(0.0, |u| u.counted.value);
        waiting.sort_by(|a, b| counted(b).total_cmp(&counted(a)).then(a.cmp(b)));
        let mut left: BTreeMap<(usize, usize), Vec<usize>> = BTreeMap::new();
        for index in waiting {
            if let Some(place) = self.home(&lists, index) {
                if let Some(on) = lists.get_mut(place) {
                    on.units.push(index);
                    on.units.sort_unstable();
                }
            } else if let Some(unit) = self.units.get(index) {
                let panel = self.panel(index).map_or(usize::MAX, |panel| panel.index);
                left.entry((panel, unit.at.index)).or_default().push(index);
            }
        }
        for mut units in left.into_values() {
            units.sort_unstable();
            for list in share(self.units, &units, &self.rooms.of(&units)).circuits {
                lists.push(Listed {
                    issued: None,
                    panel: list.first().and_then(|first| self.panel(*first)),
                    units: list,
                });
            }
        }
        (lists, released)
    }

    fn panel(&self, index: usize) -> Option<Arc<Point>> {
        self.panels.get(index).cloned().flatten()
    }

    /// Why a unit can't stay on a circuit with those that stay; `None` when it can. One that no
    /// circuit would take alone stays where it is.
    fn why_not(&self, on: &IssuedCircuit, list: &[usize], index: usize) -> Option<String> {
        let unit = self.units.get(index)?;
        let panel = self.panel(index).map(|panel| panel.name.clone());
        if panel != on.panel {
            return Some("another panel is nearest".to_owned());
        }
        let elsewhere = |other: &usize| {
            let other = self.units.get(*other);
            other.is_some_and(|other| other.at.index != unit.at.index)
        };
        if !self.share_places && list.iter().any(elsewhere) {
            return Some("the others on its circuit stand elsewhere".to_owned());
        }
        let with: Vec<usize> = list.iter().copied().chain([index]).collect();
        if list.is_empty() || self.full(&with).is_some() {
            return None;
        }
        let current: Current = with
            .iter()
            .filter_map(|index| self.units.get(*index))
            .map(|unit| unit.counted)
            .sum();
        Some(format!(
            "{} would be over in load ({:.2} A), inrush or leakage",
            on.name,
            current.get::<ampere>()
        ))
    }

    /// How full some units make a circuit; `None` when it is over.
    fn full(&self, list: &[usize]) -> Option<u128> {
        let units = list.iter().filter_map(|index| self.units.get(*index));
        let loads: Vec<Load> = units.map(Unit::load).collect();
        fullness(&loads, &self.rooms.of(list))
    }

    /// The circuit that a unit goes on: one of its panel and place, of these one that serves a
    /// room of its own, of these the least full.
    fn home(&self, lists: &[Listed], index: usize) -> Option<usize> {
        let unit = self.units.get(index)?;
        let panel = self.panel(index).map(|panel| panel.index);
        let mut best: Option<((bool, u128), usize)> = None;
        for (place, on) in lists.iter().enumerate() {
            let members = || on.units.iter().filter_map(|index| self.units.get(*index));
            let here = members().all(|other| other.at.index == unit.at.index);
            let same = on.panel.as_ref().map(|panel| panel.index) == panel;
            if !here || !same {
                continue;
            }
            let with: Vec<usize> = on.units.iter().copied().chain([index]).collect();
            let Some(full) = self.full(&with) else {
                continue;
            };
            let own = members().any(|other| other.rooms.iter().any(|r| unit.rooms.contains(r)));
            let key = (!own, full);
            if best.as_ref().is_none_or(|(known, _)| key < *known) {
                best = Some((key, place));
            }
        }
        best.map(|(_, place)| place)
    }
}

fn is_on(unit: &Unit, on: &IssuedCircuit) -> bool {
    let list = if unit.driver {
        &on.drivers
    } else {
        &on.supplies
    };
    list.contains(&unit.name)
}

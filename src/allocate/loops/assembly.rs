//! Loops made of blocks: cable, controller ports, names, addresses and the figures that follow.

use super::address;
use super::bus_cable;
use super::controllers::{self, Port, Wanted};
use super::equipment::Equipment;
use super::held::{self, Slot};
use super::placing::Ground;
use super::unit::Unit;
use super::wiring::{self, Standing, Wiring};
use crate::allocate::allocated::{Loop, MemberKind};
use crate::model::cable::Cable;
use crate::model::issued::number_in;
use crate::model::project::{Project, Topology};
use crate::quantity::{Current, Length, Voltage};
use crate::solve::bus::BusFigures;
use std::sync::Arc;
use uom::ConstZero;

/// Makes loops of placed blocks.
pub(super) struct Assembly<'a> {
    pub project: &'a Project,
    pub ground: &'a Ground<'a>,
    /// What new units are chosen from.
    pub options: &'a [&'a Equipment],
    /// What there is.
    pub all: &'a [&'a Equipment],
    pub cables: &'a [Arc<Cable>],
}

impl Assembly<'_> {
    /// Loops of slots: those that were issued in their order, then new ones in the order of the
    /// documents, by their first units; loops without units come last.
    pub(super) fn loops(&self, mut slots: Vec<Slot>) -> Vec<Loop> {
        let first = |blocks: &Vec<usize>| {
            let units = blocks
                .iter()
                .filter_map(|b| self.ground.blocks.get(*b)?.units.first());
            units.min().copied().unwrap_or(usize::MAX)
        };
        slots.sort_by_key(|slot| match slot.issued {
            Some(on) => (false, number_in(&on.name).unwrap_or(0)),
            None => (true, first(&slot.blocks)),
        });
        let wired: Vec<(Slot, Wiring)> = slots
            .into_iter()
            .filter_map(|slot| {
                let wiring = self.wiring(&slot)?;
                Some((slot, wiring))
            })
            .collect();
        let wanted: Vec<Wanted> = wired
            .iter()
            .map(|(slot, wiring)| Wanted {
                at: wiring.root.index,
                current: controllers::current(self.ground, &slot.blocks),
                issued: slot.issued,
            })
            .collect();
        let ports = controllers::ports((self.options, self.all), &wanted, self.project);
        let parts: Vec<(&Slot, &Wiring, &Port)> = wired
            .iter()
            .zip(&ports)
            .map(|((slot, wiring), port)| (slot, wiring, port))
            .collect();
        let issued = parts.iter().find_map(|(slot, ..)| slot.issued);
        let issued = issued.and_then(|on| on.cable.as_deref());
        let cable = bus_cable::choose(self.cables, issued, |cable| {
            let each = parts.iter().map(|part| self.standing(part, cable));
            each.max().unwrap_or(Standing::KeepsAll)
        });
        let mut last = self
            .project
            .issued
            .held()
            .map_or(0, |record| record.highest.loops);
        parts
            .iter()
            .map(|part| {
                let name = part.0.issued.map(|on| on.name.clone());
                let name = name.unwrap_or_else(|| {
                    last += 1;
                    format!("L{last}")
                });
                self.made(part, name, cable.as_ref())
            })
            .collect()
    }

    /// The cable of a loop as it is laid: with least cable, unless only the shortest way to each
    /// unit keeps the limits.
    fn wiring(&self, slot: &Slot) -> Option<Wiring> {
        let ground = self.ground;
        let roots = match slot.issued {
            Some(on) => held::roots(on, ground.roots),
            None => ground.roots.to_vec(),
        };
        let units: Vec<&Unit> = ground.units_of(&slot.blocks).collect();
        let points = wiring::points(units.iter().copied());
        let short = wiring::nearest(&roots, &points, |root, points| {
            wiring::lay(ground.routes, ground.settings, root, points)
        })?;
        let stands = |wiring: &Wiring| {
            let cable = ground.cable?;
            let figures = wiring.figures(&units, ground.maximum, cable, ground.settings);
            Some(wiring::standing(figures.as_ref(), cable))
        };
        if stands(&short) != Some(Standing::Breaks) {
            return Some(short);
        }
        let near = wiring::nearest(&roots, &points, |root, points| {
            ground.routes.nearest_tree(root, points)
        })?;
        let line = ground.settings.topology == Topology::Line;
        let better = !line && stands(&near) < Some(Standing::Breaks);
        Some(if better { near } else { short })
    }

    fn standing(&self, (slot, wiring, port): &(&Slot, &Wiring, &Port), cable: &Cable) -> Standing {
        let units: Vec<&Unit> = self.ground.units_of(&slot.blocks).collect();
        let found = wiring.figures(&units, most_of(port), cable, self.ground.settings);
        wiring::standing(found.as_ref(), cable)
    }

    fn made(
        &self,
        (slot, wiring, port): &(&Slot, &Wiring, &Port),
        name: String,
        cable: Option<&Arc<Cable>>,
    ) -> Loop {
        let units: Vec<&Unit> = self.ground.units_of(&slot.blocks).collect();
        let (reached, unreached): (Vec<&Unit>, Vec<&Unit>) =
            units.iter().partition(|unit| wiring.reaches(unit));
        let figures = cable
            .and_then(|c| wiring.figures(&reached, most_of(port), c, self.ground.settings))
            .or_else(|| wiring.distances(&reached, most_of(port)))
            .unwrap_or_else(no_figures);
        let drop_of = |unit: &&Unit| {
            let place = reached.iter().position(|r| r.name == unit.name);
            let drop = place.and_then(|place| figures.drops.get(place));
            drop.copied().unwrap_or(Voltage::ZERO)
        };
        let drops: Vec<Voltage> = units.iter().map(drop_of).collect();
        let groups = address::groups(&units, self.project, slot.issued);
        let addresses = |kind: MemberKind| {
            let of_kind = units.iter().filter(|unit| unit.kind == kind);
            of_kind.map(|unit| unit.addresses).sum()
        };
        Loop {
            name,
            controller: port.controller.clone(),
            controller_item: port.item.clone(),
            port: port.port,
            supply_item: port.supply.clone(),
            at: Arc::clone(&wiring.root),
            supply_guaranteed: port.current.guaranteed,
            supply_maximum: port.current.maximum,
            gear: addresses(MemberKind::Gear),
            control_devices: addresses(MemberKind::ControlDevice),
            current: units
                .iter()
                .fold(Current::ZERO, |sum, unit| sum + unit.current),
            drop: figures.drop,
            drop_full: figures.drop_full,
            longest: figures.longest,
            cable_length: figures.cable,
            cable: cable.cloned(),
            members: address::members(&units, &drops, &groups, self.project, slot.issued),
            tree: wiring.stretches(&figures),
            unreached: unreached.iter().map(|unit| unit.name.clone()).collect(),
            scenes: address::scenes(&groups, self.project, slot.issued),
            groups,
        }
    }
}

/// The most that a loop's supply may deliver; without a supply, the most that any may.
fn most_of(port: &Port) -> Current {
    if port.current.maximum > Current::ZERO {
        port.current.maximum
    } else {
        crate::norms::iec_62386::most_supply()
    }
}

fn no_figures() -> BusFigures {
    BusFigures {
        drops: Vec::new(),
        drop: Voltage::ZERO,
        drop_full: Voltage::ZERO,
        currents: Vec::new(),
        longest_between_units: Length::ZERO,
        longest: Length::ZERO,
        cable: Length::ZERO,
        current: Current::ZERO,
    }
}

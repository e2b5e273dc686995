//! Which loop and which circuit a unit is on, laid out once: documents ask it of every row.

use super::allocated::{Allocation, Circuit, Loop, Member};
use super::places::Places;
use crate::model::by_name::{add, at};
use std::collections::BTreeSet;

fn laid_out(allocation: &Allocation) -> Places {
    let mut places = Places::default();
    for (place, on) in allocation.loops.iter().enumerate() {
        for (within, member) in on.members.iter().enumerate() {
            let name = member.device.clone();
            places.members.entry(name).or_insert((place, within));
        }
        for group in &on.groups {
            add(&mut places.loops_of_group, &group.group, place);
        }
    }
    for (place, circuit) in allocation.circuits.iter().enumerate() {
        for number in &circuit.drivers {
            places.circuits.entry(number.clone()).or_insert(place);
        }
        for unit in &circuit.supplies {
            let unit = unit.clone();
            places.circuits_of_supplies.entry(unit).or_insert(place);
        }
    }
    places
}

impl Allocation {
    fn places(&self) -> &Places {
        self.by_name.places(|| laid_out(self))
    }

    /// The member of a name, driver or control device, with its loop.
    #[must_use]
    pub fn member(&self, device: &str) -> Option<(&Loop, &Member)> {
        let (place, within) = self.places().members.get(device)?;
        let on = self.loops.get(*place)?;
        Some((on, on.members.get(*within)?))
    }

    /// The circuit that a driver stands on, by its number.
    #[must_use]
    pub fn circuit_of(&self, driver: &str) -> Option<&Circuit> {
        self.circuits.get(*self.places().circuits.get(driver)?)
    }

    /// Whether a driver stands on this circuit; on none, where none is given.
    #[must_use]
    pub fn is_on(&self, driver: &str, circuit: Option<&Circuit>) -> bool {
        let own = self.circuit_of(driver);
        own.map(|it| &it.name) == circuit.map(|it| &it.name)
    }

    /// The circuit that feeds a loop's supply or controller, by the unit's name.
    #[must_use]
    pub fn circuit_of_supply(&self, unit: &str) -> Option<&Circuit> {
        let places = &self.places().circuits_of_supplies;
        self.circuits.get(*places.get(unit)?)
    }

    /// The loops that have units fed from a circuit, by name.
    pub fn loops_on(&self, circuit: &Circuit) -> impl Iterator<Item = &Loop> + use<'_> {
        let members = &self.places().members;
        let units = circuit.drivers.iter().filter_map(|it| members.get(it));
        let loops: BTreeSet<usize> = units.map(|(place, _)| *place).collect();
        loops.into_iter().filter_map(|place| self.loops.get(place))
    }

    /// The loops on which a group has units, by name.
    pub fn loops_of(&self, group: &str) -> impl Iterator<Item = &Loop> + use<'_> {
        at(&self.loops, &self.places().loops_of_group, group)
    }
}

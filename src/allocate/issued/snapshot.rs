//! The answer as a record: what would be issued now.

use crate::allocate::allocated::{Circuit, Loop, Member, MemberKind};
use crate::choose::sized::{Section, SizedDriver, SizedRun, Sizing};
use crate::model::issued::{
    Highest, IssuedCable, IssuedCircuit, IssuedDriver, IssuedLoop, IssuedMember, IssuedNumber,
    IssuedRun, IssuedSection, Prices, Record, number_in,
};
use crate::model::offer::Offer;
use crate::model::project::Project;

/// The record of an answer, without its prices and faults.
#[must_use]
pub fn snapshot(
    project: &Project,
    sizing: &Sizing,
    loops: &[Loop],
    circuits: &[Circuit],
) -> Record {
    let heading = &project.heading;
    let before = project.issued.record.as_deref();
    let mut record = Record {
        number: before.map_or(0, |record| record.number) + 1,
        title: heading.title.clone(),
        reference: heading.reference.clone(),
        revision: heading.revision.clone().unwrap_or_default(),
        date: heading.date,
        inputs: project.issued.inputs.clone(),
        faults: 0,
        highest: before.map_or_else(Highest::default, |record| record.highest),
        runs: sizing.runs.iter().map(run).collect(),
        drivers: sizing.drivers.iter().map(driver).collect(),
        cables: cables(sizing),
        loops: loops.iter().map(one_loop).collect(),
        circuits: circuits.iter().map(circuit).collect(),
        prices: Prices::default(),
    };
    raise(&mut record);
    record
}

fn run(sized: &SizedRun) -> IssuedRun {
    IssuedRun {
        run: sized.run.name.clone(),
        room: sized.run.room.name.clone(),
        strip: sized.run.strip.offer.id.clone(),
        group: sized.run.group.name.clone(),
        length: sized.length,
        cupboard: sized.cupboard.name.clone(),
        arrangement: sized.reasons.arrangement.clone(),
        sections: sized.sections.iter().map(section).collect(),
    }
}

fn section(section: &Section) -> IssuedSection {
    IssuedSection {
        start: section.start,
        length: section.length,
        cable: section.cable.offer.id.clone(),
        driver: section.driver.clone(),
        beside: section.beside.clone(),
        output: section.output,
        feeds: section.feeds.iter().map(|feed| feed.at).collect(),
    }
}

fn driver(driver: &SizedDriver) -> IssuedDriver {
    IssuedDriver {
        driver: driver.number.clone(),
        item: driver.item.offer.id.clone(),
        cupboard: driver.cupboard.name.clone(),
        group: driver.group.name.clone(),
    }
}

/// Cables with the place of each among the feeds of its section.
fn cables(sizing: &Sizing) -> Vec<IssuedCable> {
    let each = sizing.cables.iter();
    each.map(|cable| {
        let before = sizing
            .cables_beside(cable)
            .filter(|other| other.section == cable.section && other.at < cable.at);
        IssuedCable {
            cable: cable.number.clone(),
            driver: cable.driver.clone(),
            run: cable.run.clone(),
            section: cable.section,
            feed: before.count() + 1,
            item: cable.item.offer.id.clone(),
            length: cable.length,
        }
    })
    .collect()
}

fn one_loop(on: &Loop) -> IssuedLoop {
    let id = |offer: &Offer| offer.id.clone();
    let numbered = |(number, name): (usize, &String)| IssuedNumber {
        number,
        name: name.clone(),
    };
    let scenes = on.scenes.iter().enumerate();
    IssuedLoop {
        name: on.name.clone(),
        controller: (!on.controller.is_empty()).then(|| on.controller.clone()),
        controller_item: on.controller_item.as_ref().map(|it| id(&it.offer)),
        port: on.port,
        supply: on.supply_item.as_ref().map(|it| id(&it.offer)),
        at: on.at.name.clone(),
        cable: on.cable.as_ref().map(|it| id(&it.offer)),
        members: on.members.iter().map(member).collect(),
        groups: on
            .groups
            .iter()
            .map(|group| numbered((group.number, &group.group)))
            .collect(),
        scenes: scenes
            .filter(|(_, name)| !name.is_empty())
            .map(numbered)
            .collect(),
    }
}

fn member(member: &Member) -> IssuedMember {
    IssuedMember {
        device: member.device.clone(),
        control_device: member.kind == MemberKind::ControlDevice,
        addresses: member.addresses.clone(),
    }
}

fn circuit(circuit: &Circuit) -> IssuedCircuit {
    IssuedCircuit {
        name: circuit.name.clone(),
        panel: circuit.panel.as_ref().map(|panel| panel.name.clone()),
        breaker: circuit.breaker.to_string(),
        phase: circuit.phase,
        cable: circuit.cable.as_ref().map(|cable| cable.offer.id.clone()),
        drivers: circuit.drivers.clone(),
        supplies: circuit.supplies.clone(),
    }
}

/// Raises the highest numbers to those in use.
fn raise(record: &mut Record) {
    fn most<'a>(known: usize, names: impl Iterator<Item = &'a String>) -> usize {
        names
            .filter_map(|name| number_in(name))
            .fold(known, usize::max)
    }
    let known = record.highest;
    let controllers = record.loops.iter().filter_map(|on| on.controller.as_ref());
    record.highest = Highest {
        drivers: most(known.drivers, record.drivers.iter().map(|it| &it.driver)),
        cables: most(known.cables, record.cables.iter().map(|it| &it.cable)),
        loops: most(known.loops, record.loops.iter().map(|it| &it.name)),
        controllers: most(known.controllers, controllers),
        circuits: most(known.circuits, record.circuits.iter().map(|it| &it.name)),
    };
}

//! A record's blocks into what was issued.

use super::blocks::{
    CableBlock, CircuitBlock, DriverBlock, LineBlock, LoopBlock, MemberBlock, NumberBlock,
    RecordFile, RunBlock, SectionBlock,
};
use crate::load::desk::Desk;
use crate::load::written::{Reads, Written};
use crate::model::issued::{
    Highest, IssuedCable, IssuedCircuit, IssuedDriver, IssuedLoop, IssuedMember, IssuedNumber,
    IssuedRun, IssuedSection, PriceLine, Prices, Record,
};

/// Reads a record. What can't be read is complained of, and left out.
pub(super) fn read(file: &RecordFile, desk: &mut Desk) -> Option<Record> {
    let head = &file.issued;
    let highest = &head.highest;
    Some(Record {
        number: desk.one(&head.number)?,
        title: desk.one(&head.project)?,
        reference: desk.read(&head.reference),
        revision: desk.one(&head.revision)?,
        date: desk.read(&head.date),
        inputs: desk.one(&head.inputs)?,
        faults: desk.one(&head.faults)?,
        highest: Highest {
            drivers: desk.one(&highest.drivers)?,
            cables: desk.one(&highest.cables)?,
            loops: desk.one(&highest.loops)?,
            controllers: desk.one(&highest.controllers)?,
            circuits: desk.one(&highest.circuits)?,
        },
        runs: each(&file.runs, desk, run),
        drivers: each(&file.drivers, desk, driver),
        cables: each(&file.cables, desk, cable),
        loops: each(&file.loops, desk, one_loop),
        circuits: each(&file.circuits, desk, circuit),
        prices: Prices {
            currency: desk.one(&file.prices.currency)?,
            net: desk.one(&file.prices.net)?,
            lines: each(&file.prices.lines, desk, line),
        },
    })
}

fn each<B, T>(blocks: &[B], desk: &mut Desk, of: fn(&B, &mut Desk) -> Option<T>) -> Vec<T> {
    blocks.iter().filter_map(|block| of(block, desk)).collect()
}

fn values<K: Reads>(written: &[Written<K>], desk: &mut Desk) -> Vec<K::Value> {
    let read = written.iter().filter_map(|one| desk.one(one));
    read.collect()
}

fn run(block: &RunBlock, desk: &mut Desk) -> Option<IssuedRun> {
    Some(IssuedRun {
        run: desk.one(&block.run)?,
        room: desk.one(&block.room)?,
        strip: desk.one(&block.strip)?,
        group: desk.one(&block.group)?,
        length: desk.one(&block.length)?,
        cupboard: desk.one(&block.cupboard)?,
        arrangement: desk.one(&block.feed)?,
        sections: each(&block.sections, desk, section),
    })
}

fn section(block: &SectionBlock, desk: &mut Desk) -> Option<IssuedSection> {
    Some(IssuedSection {
        start: desk.one(&block.start)?,
        length: desk.one(&block.length)?,
        cable: desk.one(&block.cable)?,
        driver: desk.read(&block.driver).unwrap_or_default(),
        beside: desk.read(&block.beside),
        output: desk.one(&block.output)?,
        feeds: values(&block.feeds, desk),
    })
}

fn driver(block: &DriverBlock, desk: &mut Desk) -> Option<IssuedDriver> {
    Some(IssuedDriver {
        driver: desk.one(&block.driver)?,
        item: desk.one(&block.item)?,
        cupboard: desk.one(&block.cupboard)?,
        group: desk.one(&block.group)?,
    })
}

fn cable(block: &CableBlock, desk: &mut Desk) -> Option<IssuedCable> {
    Some(IssuedCable {
        cable: desk.one(&block.cable)?,
        driver: desk.read(&block.driver).unwrap_or_default(),
        run: desk.one(&block.run)?,
        section: desk.one(&block.section)?,
        feed: desk.one(&block.feed)?,
        item: desk.one(&block.item)?,
        length: desk.one(&block.length)?,
    })
}

fn one_loop(block: &LoopBlock, desk: &mut Desk) -> Option<IssuedLoop> {
    Some(IssuedLoop {
        name: desk.one(&block.name)?,
        controller: desk.read(&block.controller),
        controller_item: desk.read(&block.controller_item),
        port: desk.one(&block.port)?,
        supply: desk.read(&block.supply),
        at: desk.one(&block.at)?,
        cable: desk.read(&block.cable),
        members: each(&block.members, desk, member),
        groups: each(&block.groups, desk, number),
        scenes: each(&block.scenes, desk, number),
    })
}

fn member(block: &MemberBlock, desk: &mut Desk) -> Option<IssuedMember> {
    Some(IssuedMember {
        device: desk.one(&block.device)?,
        control_device: desk.read(&block.control_device).unwrap_or(false),
        addresses: values(&block.addresses, desk),
    })
}

fn number(block: &NumberBlock, desk: &mut Desk) -> Option<IssuedNumber> {
    Some(IssuedNumber {
        number: desk.one(&block.number)?,
        name: desk.one(&block.name)?,
    })
}

fn circuit(block: &CircuitBlock, desk: &mut Desk) -> Option<IssuedCircuit> {
    Some(IssuedCircuit {
        name: desk.one(&block.circuit)?,
        panel: desk.read(&block.panel),
        breaker: desk.one(&block.breaker)?,
        phase: desk.one(&block.phase)?,
        cable: desk.read(&block.cable),
        drivers: values(&block.drivers, desk),
        supplies: values(&block.supplies, desk),
    })
}

fn line(block: &LineBlock, desk: &mut Desk) -> Option<PriceLine> {
    Some(PriceLine {
        item: desk.one(&block.item)?,
        description: desk.one(&block.description)?,
        quantity: desk.one(&block.quantity)?,
        price: desk.read(&block.price),
    })
}

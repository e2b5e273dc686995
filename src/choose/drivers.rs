//! Every section on a driver output: drivers by cupboard, group and kind of strip.

use super::demand::{Demand, Loaded};
use super::driver::{Packed, pack};
use super::feeding::feed_ampacity;
use super::held::Wanted;
use super::limits;
use super::sharing::Sharing;
use super::sized::{Half, OutputUse, PackingProof, Section, SizedDriver, SizedRun, Sizing};
use super::unit::{Unit, units};
use crate::model::issued::number_in;
use crate::model::project::Project;
use crate::model::site::Point;
use crate::quantity::{Current, Power};
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Sections that can share a driver: cupboard, group, volts in millivolts, channels, what may be on
/// at once, and the driver if one was asked for.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Kind {
    cupboard: usize,
    group: usize,
    millivolts: i64,
    channels: usize,
    sharing: Sharing,
    asked: Option<String>,
}

/// A section: index of its run and its own.
type Member = (usize, usize);

/// Sections on a driver, or on two units that stand in for one.
struct Placed {
    cupboard: usize,
    group: usize,
    first: Member,
    outputs: Vec<Vec<Member>>,
    /// One, or one for each white.
    drivers: Vec<SizedDriver>,
}

/// Puts every section of `sizing` on a driver output, numbers the drivers and proves the packing.
/// What was issued keeps its driver where that still takes it, and each driver its number.
pub(super) fn place(project: &Project, sizing: &mut Sizing, pairs: bool) {
    let mut kinds: BTreeMap<Kind, Vec<Member>> = BTreeMap::new();
    for (index, (run, fed)) in sizing.runs.iter().zip(&sizing.fed).enumerate() {
        let members = kinds.entry(kind(run, fed.sharing)).or_default();
        members.extend((0..run.sections.len()).map(|section| (index, section)));
    }
    let record = project.issued.held();
    let mut taken: BTreeSet<String> = BTreeSet::new();
    let mut placed: Vec<Placed> = Vec::new();
    let mut proofs: BTreeMap<(usize, usize), PackingProof> = BTreeMap::new();
    for (kind, members) in &kinds {
        let Some(run) = members.first().and_then(|first| sizing.runs.get(first.0)) else {
            continue;
        };
        let suited = suited(project, run, kind.sharing, pairs);
        let demands: Vec<Demand> = members
            .iter()
            .filter_map(|member| demand(project, &sizing.runs, *member))
            .collect();
        let mut packed = pack(&suited, &demands);
        let drivers = match record {
            None => packed
                .drivers
                .iter()
                .map(|on| (Vec::new(), on.clone()))
                .collect(),
            Some(record) => Wanted {
                record,
                cupboard: &run.cupboard.name,
                units: &suited,
                demands: &demands,
                sections: &named(&sizing.runs, members),
            }
            .drivers(&mut packed, &mut taken, &mut sizing.released),
        };
        for (numbers, loaded) in &drivers {
            placed.extend(put(&sizing.runs, &suited, members, loaded, numbers));
        }
        prove(&mut proofs, (kind.cupboard, kind.group), run, &packed);
    }
    placed.sort_by_key(|placed| (placed.cupboard, placed.group, placed.first));
    let mut last = record.map_or(0, |record| record.highest.drivers);
    for placed in placed {
        number(sizing, placed, &mut last);
    }
    sizing
        .drivers
        .sort_by_key(|driver| (driver.cupboard.index, number_in(&driver.number)));
    sizing.proofs = proofs.into_values().collect();
}

/// Gives drivers that have no number the next ones, and their sections those of their drivers.
fn number(sizing: &mut Sizing, mut placed: Placed, last: &mut usize) {
    let mut next = || {
        *last += 1;
        format!("D-{last:02}")
    };
    let numbers: Vec<String> = placed
        .drivers
        .iter()
        .map(|driver| match driver.number.as_str() {
            "" => next(),
            known => known.to_owned(),
        })
        .collect();
    for (driver, own) in placed.drivers.iter_mut().zip(&numbers) {
        driver.number.clone_from(own);
        let other = numbers.iter().find(|number| *number != own);
        if let Some((half, other)) = driver.half.as_mut().zip(other) {
            half.other.clone_from(other);
        }
    }
    for (output, members) in (1..).zip(&placed.outputs) {
        for member in members {
            if let Some(section) = section_mut(&mut sizing.runs, *member) {
                section.driver = numbers.first().cloned().unwrap_or_default();
                section.beside = numbers.get(1).cloned();
                if let Some(both) = section.both_on().filter(|_| section.beside.is_some()) {
                    section.power = both;
                }
                section.output = output;
            }
        }
    }
    sizing.drivers.extend(placed.drivers);
}

fn kind(run: &SizedRun, sharing: Sharing) -> Kind {
    use num_traits::ToPrimitive;
    use uom::si::electric_potential::millivolt;
    let volts = run.run.strip.voltage.get::<millivolt>().round();
    Kind {
        cupboard: run.cupboard.index,
        group: run.run.group.index,
        millivolts: volts.to_i64().unwrap_or(i64::MAX),
        channels: run.run.strip.channels.count(),
        sharing,
        asked: run.run.driver.given().map(|driver| driver.offer.id.clone()),
    }
}

/// The run's name and the section's number of each member.
fn named(runs: &[SizedRun], members: &[Member]) -> Vec<(String, usize)> {
    let name = |run: usize| runs.get(run).map(|run| run.run.name.clone());
    let named = members.iter();
    named
        .map(|(run, section)| (name(*run).unwrap_or_default(), section + 1))
        .collect()
}

fn suited(project: &Project, run: &SizedRun, sharing: Sharing, pairs: bool) -> Vec<Unit> {
    let limits = limits::of_run(project, &run.run);
    let mut suited = units(project, &limits, &run.run, &run.cupboard, pairs);
    suited.retain(|unit| unit.sharing == sharing);
    suited
}

fn demand(project: &Project, runs: &[SizedRun], member: Member) -> Option<Demand> {
    let (run, section) = (runs.get(member.0)?, section(runs, member)?);
    let feeds = run.sections.iter().map(|section| section.feeds.len()).sum();
    let ampacity = feed_ampacity(project, &run.run, &run.cupboard, &section.cable, feeds);
    Some(Demand::of(section, ampacity.map(|(current, _)| current)))
}

fn section(runs: &[SizedRun], member: Member) -> Option<&Section> {
    runs.get(member.0)?.sections.get(member.1)
}

fn section_mut(runs: &mut [SizedRun], member: Member) -> Option<&mut Section> {
    runs.get_mut(member.0)?.sections.get_mut(member.1)
}

/// The driver, or the two units, and the sections on each output; without a number where none is
/// given.
fn put(
    runs: &[SizedRun],
    units: &[Unit],
    members: &[Member],
    loaded: &Loaded,
    numbers: &[String],
) -> Option<Placed> {
    let unit = units.get(loaded.unit)?;
    let outputs: Vec<Vec<Member>> = loaded
        .outputs
        .iter()
        .map(|on| {
            on.iter()
                .filter_map(|demand| members.get(*demand))
                .copied()
                .collect()
        })
        .collect();
    let first = outputs.iter().flatten().min().copied()?;
    let run = runs.get(first.0)?;
    let mut drivers = if unit.pieces == 1 {
        vec![driver(runs, unit, run, &outputs, None)]
    } else {
        (0..unit.pieces)
            .map(|channel| driver(runs, unit, run, &outputs, Some(channel)))
            .collect()
    };
    for (driver, number) in drivers.iter_mut().zip(numbers) {
        driver.number.clone_from(number);
    }
    Some(Placed {
        cupboard: run.cupboard.index,
        group: run.run.group.index,
        first,
        outputs,
        drivers,
    })
}

/// A driver with all that is on it, or with one channel of it.
fn driver(
    runs: &[SizedRun],
    unit: &Unit,
    run: &SizedRun,
    outputs: &[Vec<Member>],
    channel: Option<usize>,
) -> SizedDriver {
    let load: Power = outputs
        .iter()
        .flatten()
        .filter_map(|member| section(runs, *member))
        .map(|section| channel.map_or(section.power, |channel| section.channel_power(channel)))
        .sum();
    let usable = super::derating::usable(&unit.item, run.cupboard.ambient);
    let mut served: Vec<usize> = outputs.iter().flatten().map(|member| member.0).collect();
    served.sort_unstable();
    served.dedup();
    let served: Vec<&SizedRun> = served.iter().filter_map(|index| runs.get(*index)).collect();
    let mut used: Vec<OutputUse> = (1..)
        .zip(outputs)
        .filter(|(_, on)| !on.is_empty())
        .map(|(output, on)| output_use(runs, output, on))
        .collect();
    if let Some(channel) = channel {
        for used in &mut used {
            let own = used.channel_currents.get(channel).copied();
            used.channel_currents = own.into_iter().collect();
        }
    }
    SizedDriver {
        number: String::new(),
        item: Arc::clone(&unit.item),
        cupboard: Arc::clone(&run.cupboard),
        group: Arc::clone(&run.run.group),
        outputs: used,
        load,
        usable,
        load_share: load / usable,
        runs: served.iter().map(|run| run.run.name.clone()).collect(),
        rooms: rooms(&served),
        half: channel.map(|channel| Half {
            channel,
            other: String::new(),
        }),
    }
}

fn rooms(served: &[&SizedRun]) -> Vec<Arc<Point>> {
    let mut rooms: Vec<Arc<Point>> = Vec::new();
    for run in served {
        if !rooms.iter().any(|room| room.index == run.run.room.index) {
            rooms.push(Arc::clone(&run.run.room));
        }
    }
    rooms
}

fn output_use(runs: &[SizedRun], output: usize, on: &[Member]) -> OutputUse {
    let mut channel_currents: Vec<Current> = Vec::new();
    for section in on.iter().filter_map(|member| section(runs, *member)) {
        channel_currents.resize(
            channel_currents.len().max(section.channel_currents.len()),
            Current::default(),
        );
        for (sum, current) in channel_currents.iter_mut().zip(&section.channel_currents) {
            *sum += *current;
        }
    }
    OutputUse {
        output,
        channel_currents,
        sections: on
            .iter()
            .filter_map(|member| Some((runs.get(member.0)?.run.name.clone(), member.1 + 1)))
            .collect(),
    }
}

/// One proof for each cupboard and group, whatever kinds of strip it has.
fn prove(
    proofs: &mut BTreeMap<(usize, usize), PackingProof>,
    key: (usize, usize),
    run: &SizedRun,
    packed: &Packed,
) {
    let proof = proofs.entry(key).or_insert_with(|| PackingProof {
        subject: format!("{}, {}", run.cupboard.name, run.run.group.name),
        cost: Some(Decimal::ZERO),
        optimal: true,
        bound: Some(Decimal::ZERO),
    });
    proof.cost = proof.cost.zip(packed.cost).map(|(sum, more)| sum + more);
    proof.optimal &= packed.optimal;
    proof.bound = proof.bound.zip(packed.bound).map(|(sum, more)| sum + more);
}

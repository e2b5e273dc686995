//! Every section on a driver output: drivers by cupboard, group and kind of strip.

use super::driver::{Demand, Loaded, Packed, pack};
use super::feeding::feed_ampacity;
use super::held::Wanted;
use super::limits;
use super::sized::{OutputUse, PackingProof, Section, SizedDriver, SizedRun, Sizing};
use super::unit::{Sharing, Unit, units};
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

/// Puts every section of `sizing` on a driver output, numbers the drivers and proves the packing.
/// What was issued keeps its driver where that still takes it, and each driver its number.
pub(super) fn place(project: &Project, sizing: &mut Sizing, sharings: &[Sharing]) {
    let mut kinds: BTreeMap<Kind, Vec<Member>> = BTreeMap::new();
    for (index, (run, sharing)) in sizing.runs.iter().zip(sharings).enumerate() {
        let members = kinds.entry(kind(run, *sharing)).or_default();
        members.extend((0..run.sections.len()).map(|section| (index, section)));
    }
    let record = project.issued.held();
    let mut taken: BTreeSet<String> = BTreeSet::new();
    let mut placed: Vec<(Member, SizedDriver, Vec<Vec<Member>>)> = Vec::new();
    let mut proofs: BTreeMap<(usize, usize), PackingProof> = BTreeMap::new();
    for (kind, members) in &kinds {
        let Some(run) = members.first().and_then(|first| sizing.runs.get(first.0)) else {
            continue;
        };
        let suited = suited(project, run, kind.sharing);
        let demands: Vec<Demand> = members
            .iter()
            .filter_map(|member| demand(project, &sizing.runs, *member))
            .collect();
        let mut packed = pack(&suited, &demands);
        let drivers = match record {
            None => packed
                .drivers
                .iter()
                .map(|on| (String::new(), on.clone()))
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
        for (number, loaded) in &drivers {
            let made = driver(&sizing.runs, &suited, members, loaded);
            placed.extend(made.map(|(first, mut driver, outputs)| {
                driver.number.clone_from(number);
                (first, driver, outputs)
            }));
        }
        prove(&mut proofs, (kind.cupboard, kind.group), run, &packed);
    }
    placed.sort_by_key(|(first, driver, _)| (driver.cupboard.index, driver.group.index, *first));
    let mut last = record.map_or(0, |record| record.highest.drivers);
    for (_, driver, _) in placed
        .iter_mut()
        .filter(|(_, driver, _)| driver.number.is_empty())
    {
        last += 1;
        driver.number = format!("D-{last:02}");
    }
    placed.sort_by_key(|(_, driver, _)| (driver.cupboard.index, number_in(&driver.number)));
    for (_, driver, outputs) in placed {
        for (output, members) in (1..).zip(outputs) {
            for member in members {
                if let Some(section) = section_mut(&mut sizing.runs, member) {
                    section.driver.clone_from(&driver.number);
                    section.output = output;
                }
            }
        }
        sizing.drivers.push(driver);
    }
    sizing.proofs = proofs.into_values().collect();
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

fn suited(project: &Project, run: &SizedRun, sharing: Sharing) -> Vec<Unit> {
    let limits = limits::of_run(project, &run.run);
    let mut suited = units(project, &limits, &run.run, &run.cupboard);
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

/// The driver without a number, its first section, and the sections on each of its outputs.
fn driver(
    runs: &[SizedRun],
    units: &[Unit],
    members: &[Member],
    loaded: &Loaded,
) -> Option<(Member, SizedDriver, Vec<Vec<Member>>)> {
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
    let load: Power = outputs
        .iter()
        .flatten()
        .filter_map(|member| section(runs, *member))
        .map(|section| section.power)
        .sum();
    let usable = super::derating::usable(&unit.item, run.cupboard.ambient);
    let mut served: Vec<usize> = outputs.iter().flatten().map(|member| member.0).collect();
    served.sort_unstable();
    served.dedup();
    let served: Vec<&SizedRun> = served.iter().filter_map(|index| runs.get(*index)).collect();
    let driver = SizedDriver {
        number: String::new(),
        item: Arc::clone(&unit.item),
        cupboard: Arc::clone(&run.cupboard),
        group: Arc::clone(&run.run.group),
        outputs: (1..)
            .zip(&outputs)
            .filter(|(_, on)| !on.is_empty())
            .map(|(output, on)| output_use(runs, output, on))
            .collect(),
        load,
        usable,
        load_share: load / usable,
        runs: served.iter().map(|run| run.run.name.clone()).collect(),
        rooms: rooms(&served),
    };
    Some((first, driver, outputs))
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
        optimal: true,
        bound: Some(Decimal::ZERO),
    });
    proof.optimal &= packed.optimal;
    proof.bound = proof.bound.zip(packed.bound).map(|(sum, more)| sum + more);
}

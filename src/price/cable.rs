//! Cable: strip feeds, buses and mains circuits, by the metre or from drums.

use super::counts::{Counts, exact_metres};
use super::priced::Measured;
use super::profile::millimetres;
use super::stock::{Cutting, Unit, Wanted, cut_all, longest, parts};
use crate::allocate::allocated::Allocation;
use crate::choose::sized::Sizing;
use crate::model::cable::Cable;
use crate::quantity::Length;
use std::collections::BTreeMap;
use uom::si::length::millimeter;

/// A piece of cable from one place to another.
struct Stretch<'a> {
    cable: &'a Cable,
    length: Length,
    used_for: String,
}

/// Cable from drums, and how many stretches are longer than any drum.
pub(super) struct Drums<'a> {
    /// The cuttings.
    pub cuttings: Vec<Cutting<'a>>,
    /// Cables of which a stretch must be joined: id, and how often.
    pub joined: BTreeMap<String, usize>,
}

/// Counts cable sold by the metre, and cuts the rest from drums.
pub(super) fn count_cable<'a>(
    counts: &mut Counts<'a>,
    sizing: &'a Sizing,
    allocation: &'a Allocation,
) -> Drums<'a> {
    let mut wanted: BTreeMap<&str, (&Cable, Vec<Wanted>)> = BTreeMap::new();
    let mut joined: BTreeMap<String, usize> = BTreeMap::new();
    for stretch in stretches(sizing, allocation) {
        let cable = stretch.cable;
        if cable.drums.is_empty() {
            let metres = exact_metres(stretch.length);
            counts.add(&cable.offer, Measured::Metre, metres, &[stretch.used_for]);
            continue;
        }
        let pieces = parts(millimetres(stretch.length), longest(&cable.drums, UNIT));
        if pieces.len() > 1 {
            *joined.entry(cable.offer.id.clone()).or_insert(0) += pieces.len() - 1;
        }
        let (_, list) = wanted
            .entry(cable.offer.id.as_str())
            .or_insert((cable, Vec::new()));
        let parts = pieces.len();
        list.extend((1..).zip(pieces).map(|(section, units)| Wanted {
            run: stretch.used_for.clone(),
            section,
            part: section,
            parts,
            units,
        }));
    }
    let cuttings = wanted
        .into_values()
        .filter_map(|(cable, list)| cut_all(&cable.offer, &cable.drums, UNIT, &list))
        .collect();
    Drums { cuttings, joined }
}

/// Cable is cut to the millimetre, without loss.
const UNIT: Unit = Unit {
    length: Length {
        dimension: std::marker::PhantomData,
        units: std::marker::PhantomData,
        value: 0.001,
    },
    kerf: 0,
};

fn stretches<'a>(
    sizing: &'a Sizing,
    allocation: &'a Allocation,
) -> impl Iterator<Item = Stretch<'a>> {
    let feeds = sizing.cables.iter().map(|feed| Stretch {
        cable: &feed.item,
        length: feed.length,
        used_for: feed.run.clone(),
    });
    let buses = allocation.loops.iter().flat_map(|one| {
        let cable = one.cable.as_deref();
        one.tree.iter().filter_map(move |stretch| {
            Some(Stretch {
                cable: cable?,
                length: stretch.length,
                used_for: one.name.clone(),
            })
        })
    });
    let mains = allocation.circuits.iter().filter_map(|circuit| {
        Some(Stretch {
            cable: circuit.cable.as_deref()?,
            length: circuit.length?,
            used_for: circuit.name.clone(),
        })
    });
    let all = feeds.chain(buses).chain(mains);
    all.filter(|stretch| stretch.length.get::<millimeter>() > 0.0)
}

//! Cable: strip feeds, buses and mains circuits, by the metre or from drums.

use super::counts::{Counts, exact_metres};
use super::priced::Measured;
use super::profile::millimetres;
use super::stock::{Cutting, Unit, Wanted, cut_all, longest, parts};
use crate::allocate::allocated::Allocation;
use crate::choose::sized::Sizing;
use crate::model::cable::Cable;
use crate::model::pricing::Pricing;
use crate::quantity::Length;
use num_traits::ToPrimitive;
use rust_decimal::Decimal;
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

/// Counts cable sold by the metre, and cuts the rest from drums, each with what is lost of it in
/// cutting and at its ends.
pub(super) fn count_cable<'a>(
    counts: &mut Counts<'a>,
    pricing: &Pricing,
    sizing: &'a Sizing,
    allocation: &'a Allocation,
) -> Drums<'a> {
    let mut wanted: BTreeMap<&str, (&'a Cable, Vec<Wanted>, u64)> = BTreeMap::new();
    let mut joined: BTreeMap<String, usize> = BTreeMap::new();
    for stretch in stretches(sizing, allocation) {
        let cable = stretch.cable;
        if cable.drums.is_empty() {
            let metres = exact_metres(stretch.length);
            counts.add(&cable.offer, Measured::Metre, metres, &[stretch.used_for]);
            counts.lose(
                &cable.offer,
                metres * pricing.waste(cable) / Decimal::ONE_HUNDRED,
            );
            continue;
        }
        let most = longest(&cable.drums, UNIT);
        let pieces = parts(millimetres(stretch.length), most);
        if pieces.len() > 1 {
            *joined.entry(cable.offer.id.clone()).or_insert(0) += pieces.len() - 1;
        }
        let (_, list, lost) =
            wanted
                .entry(cable.offer.id.as_str())
                .or_insert((cable, Vec::new(), 0));
        let parts = pieces.len();
        let mut at = 0;
        for (section, units) in (1..).zip(pieces) {
            let wasted = with_waste(units, pricing.waste(cable)).min(most.max(units));
            *lost += wasted - units;
            list.push(Wanted {
                run: stretch.used_for.clone(),
                section,
                part: section,
                parts,
                units: wasted,
                at,
            });
            at += units;
        }
    }
    let cut = |(cable, list, lost): (&'a Cable, Vec<Wanted>, u64)| {
        let waste = Decimal::from(lost) / Decimal::from(1000);
        let cutting = cut_all(&cable.offer, &cable.drums, UNIT, &list)?;
        Some(Cutting { waste, ..cutting })
    };
    let cuttings = wanted.into_values().filter_map(cut).collect();
    Drums { cuttings, joined }
}

/// A length with what is lost of it, in whole units.
fn with_waste(units: u64, percent: Decimal) -> u64 {
    let with = Decimal::from(units) * (Decimal::ONE_HUNDRED + percent) / Decimal::ONE_HUNDRED;
    with.ceil().to_u64().unwrap_or(units)
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

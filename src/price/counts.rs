//! What the job needs of the items that are bought by the piece or by the metre.

use super::priced::Measured;
use crate::allocate::allocated::{Allocation, MemberKind};
use crate::choose::sized::Sizing;
use crate::model::offer::{ItemKind, Offer};
use crate::model::project::Project;
use crate::quantity::Length;
use num_traits::ToPrimitive;
use rust_decimal::Decimal;
use std::collections::{BTreeMap, BTreeSet, HashSet};
use uom::si::length::millimeter;

/// What is needed of one item.
#[derive(Debug, Clone)]
pub(super) struct Counted<'a> {
    /// The item.
    pub offer: &'a Offer,
    /// What the quantity counts.
    pub measured: Measured,
    /// How much the job needs.
    pub needed: Decimal,
    /// What is lost of it beyond that.
    pub waste: Decimal,
    /// Runs, loops or circuits it is for, without repetition, in the order they came.
    pub used_for: Vec<String>,
    /// The same, to be looked up.
    known: HashSet<String>,
}

/// What is needed of each item, by kind and id.
#[derive(Debug, Clone, Default)]
pub(super) struct Counts<'a> {
    by_item: BTreeMap<(ItemKind, &'a str), Counted<'a>>,
}

impl<'a> Counts<'a> {
    /// Adds to what is needed of an item.
    pub(super) fn add(
        &mut self,
        offer: &'a Offer,
        measured: Measured,
        quantity: Decimal,
        used_for: &[String],
    ) {
        let key = (offer.kind, offer.id.as_str());
        let counted = self.by_item.entry(key).or_insert_with(|| Counted {
            offer,
            measured,
            needed: Decimal::ZERO,
            waste: Decimal::ZERO,
            used_for: Vec::new(),
            known: HashSet::new(),
        });
        counted.needed = (counted.needed + quantity).normalize();
        for name in used_for {
            if counted.known.insert(name.clone()) {
                counted.used_for.push(name.clone());
            }
        }
    }

    /// Adds to what is lost of an item that is needed.
    pub(super) fn lose(&mut self, offer: &'a Offer, quantity: Decimal) {
        if let Some(counted) = self.by_item.get_mut(&(offer.kind, offer.id.as_str())) {
            counted.waste = (counted.waste + quantity).normalize();
        }
    }

    /// The items of which something is needed, by kind and id.
    pub(super) fn iter(&self) -> impl Iterator<Item = &Counted<'a>> {
        let all = self.by_item.values();
        all.filter(|counted| counted.needed > Decimal::ZERO)
    }
}

/// Drivers, controllers, bus supplies and control devices.
pub(super) fn equipment<'a>(
    counts: &mut Counts<'a>,
    project: &'a Project,
    sizing: &'a Sizing,
    allocation: &'a Allocation,
) {
    for driver in &sizing.drivers {
        counts.add(
            &driver.item.offer,
            Measured::Piece,
            Decimal::ONE,
            &driver.runs,
        );
    }
    let mut units: BTreeSet<&str> = BTreeSet::new();
    for one in &allocation.loops {
        let name = [one.name.clone()];
        if let Some(controller) = &one.controller_item {
            let new = units.insert(&one.controller);
            let count = if new { Decimal::ONE } else { Decimal::ZERO };
            counts.add(&controller.offer, Measured::Piece, count, &name);
        }
        if let Some(supply) = &one.supply_item {
            counts.add(&supply.offer, Measured::Piece, Decimal::ONE, &name);
        }
    }
    for set in &project.devices {
        let on = |member: &&crate::allocate::allocated::Member| {
            member.kind == MemberKind::ControlDevice && member.item == set.item.offer.id
        };
        let loops: Vec<String> = allocation
            .loops
            .iter()
            .filter(|one| one.members.iter().any(|member| on(&member)))
            .map(|one| one.name.clone())
            .collect();
        counts.add(
            &set.item.offer,
            Measured::Piece,
            Decimal::from(set.count),
            &loops,
        );
    }
}

/// A length in metres, to the millimetre, as an exact number.
pub(super) fn exact_metres(length: Length) -> Decimal {
    let millimetres = length
        .get::<millimeter>()
        .round()
        .to_i64()
        .unwrap_or(i64::MAX);
    Decimal::new(millimetres, 3).normalize()
}

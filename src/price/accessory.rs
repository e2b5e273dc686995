//! Accessories, counted by their rules.

use super::counts::{Counts, exact_metres};
use super::priced::Measured;
use super::strip::{joints, sections};
use crate::allocate::allocated::{Allocation, MemberKind};
use crate::choose::sized::{SizedDriver, SizedRun, Sizing};
use crate::model::extra::{Accessory, Per};
use crate::model::project::Project;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// Counts every accessory of the catalogue.
pub(super) fn accessories<'a>(
    counts: &mut Counts<'a>,
    project: &'a Project,
    sizing: &'a Sizing,
    allocation: &'a Allocation,
) {
    for accessory in &project.catalogue.accessories {
        let job = Job {
            accessory,
            sizing,
            allocation,
        };
        let each = Decimal::from(accessory.quantity);
        for (used_for, count) in job.count() {
            counts.add(&accessory.offer, Measured::Piece, count * each, &used_for);
        }
    }
}

/// A job as one accessory's rule sees it.
struct Job<'a> {
    accessory: &'a Accessory,
    sizing: &'a Sizing,
    allocation: &'a Allocation,
}

/// What is counted for, and how many.
type Count = (Vec<String>, Decimal);

impl Job<'_> {
    fn count(&self) -> Vec<Count> {
        match self.accessory.per {
            Per::Run => self.runs(|_| 1),
            Per::Section => self.runs(|sized| sized.sections.len()),
            Per::Feed => self.runs(|sized| sized.sections.iter().map(|s| s.feeds.len()).sum()),
            Per::Joint => self.runs(|sized| {
                let strip = &sized.run.strip;
                sized.sections.iter().map(|s| joints(strip, s)).sum()
            }),
            Per::Bend => self.runs(|sized| sized.run.detail.bends.len()),
            Per::Metre => self.metres(),
            Per::Driver => self.drivers(),
            Per::Cupboard => self.cupboards(),
            Per::Loop => self.loops(|_| 1),
            Per::Circuit => self.circuits(),
            Per::Device => self.loops(|devices| devices),
        }
    }

    /// Whether the rule has a filter, which only runs can pass.
    fn filtered(&self) -> bool {
        self.accessory.wet.is_some() || self.accessory.channels.is_some()
    }

    fn takes(&self, sized: &SizedRun) -> bool {
        let wet = self.accessory.wet.is_none_or(|wet| wet == sized.run.wet);
        let channels = sized.run.strip.channels.count();
        wet && self
            .accessory
            .channels
            .is_none_or(|count| count == channels)
    }

    fn runs(&self, of: impl Fn(&SizedRun) -> usize) -> Vec<Count> {
        let taken = self.sizing.runs.iter().filter(|sized| self.takes(sized));
        taken
            .map(|sized| (vec![sized.run.name.clone()], of(sized)))
            .filter(|(_, count)| *count > 0)
            .map(|(name, count)| (name, Decimal::from(count)))
            .collect()
    }

    /// Metres of strip, rounded up for the job as a whole.
    fn metres(&self) -> Vec<Count> {
        let taken = sections(self.sizing).filter(|(sized, ..)| self.takes(sized));
        let metres: Decimal = taken
            .map(|(.., section)| exact_metres(section.length))
            .sum();
        let names = self.runs(|_| 1).into_iter().flat_map(|(names, _)| names);
        vec![(names.collect(), metres.ceil())]
    }

    fn serves(&self, driver: &SizedDriver) -> bool {
        let fed = |sized: &&SizedRun| driver.runs.contains(&sized.run.name);
        !self.filtered() || self.sizing.runs.iter().filter(fed).any(|s| self.takes(s))
    }

    fn drivers(&self) -> Vec<Count> {
        let taken = self
            .sizing
            .drivers
            .iter()
            .filter(|driver| self.serves(driver));
        taken
            .map(|driver| (driver.runs.clone(), Decimal::ONE))
            .collect()
    }

    fn cupboards(&self) -> Vec<Count> {
        let mut cupboards: BTreeMap<usize, Vec<String>> = BTreeMap::new();
        for driver in self
            .sizing
            .drivers
            .iter()
            .filter(|driver| self.serves(driver))
        {
            let names = cupboards.entry(driver.cupboard.index).or_default();
            names.extend(driver.runs.iter().cloned());
        }
        cupboards
            .into_values()
            .map(|names| (names, Decimal::ONE))
            .collect()
    }

    fn named_driver(&self, number: &str) -> bool {
        let named = |driver: &&SizedDriver| driver.number == number;
        self.sizing
            .drivers
            .iter()
            .find(named)
            .is_some_and(|driver| self.serves(driver))
    }

    /// Loops with devices that count, by how many those are.
    fn loops(&self, of: impl Fn(usize) -> usize) -> Vec<Count> {
        let counted = |one: &crate::allocate::allocated::Loop| {
            let members = one.members.iter();
            members
                .filter(|member| match member.kind {
                    MemberKind::Gear => self.named_driver(&member.device),
                    MemberKind::ControlDevice => !self.filtered(),
                })
                .count()
        };
        self.allocation
            .loops
            .iter()
            .map(|one| (one, counted(one)))
            .filter(|(_, devices)| *devices > 0 || !self.filtered())
            .map(|(one, devices)| (vec![one.name.clone()], Decimal::from(of(devices))))
            .collect()
    }

    fn circuits(&self) -> Vec<Count> {
        let counts = |circuit: &&crate::allocate::allocated::Circuit| {
            !self.filtered()
                || circuit
                    .drivers
                    .iter()
                    .any(|number| self.named_driver(number))
        };
        let taken = self.allocation.circuits.iter().filter(counts);
        taken
            .map(|circuit| (vec![circuit.name.clone()], Decimal::ONE))
            .collect()
    }
}

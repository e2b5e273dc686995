//! Accessories, counted by their rules.

use super::counts::{Counts, exact_metres};
use super::priced::Measured;
use super::profile;
use super::strip::{joints, sections};
use crate::allocate::allocated::{Allocation, Circuit, Loop, Member, MemberKind};
use crate::choose::sized::{Section, SizedDriver, SizedRun, Sizing};
use crate::model::extra::{Accessory, Per};
use crate::model::project::Project;
use crate::quantity::Length;
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use uom::si::length::millimeter;

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
            Per::End => self.runs(|sized| sized.sections.iter().map(free_ends).sum()),
            Per::Feed => self.runs(|sized| sized.sections.iter().map(|s| s.feeds.len()).sum()),
            Per::Joint => self.runs(|sized| {
                let strip = &sized.run.strip;
                sized.sections.iter().map(|s| joints(strip, s)).sum()
            }),
            Per::Bend => self.runs(|sized| sized.run.detail.bends.len()),
            Per::Metre => self.metres(),
            Per::ProfileEnd => self.runs(|sized| 2 * usize::from(sized.run.profile.is_some())),
            Per::ProfileJoint => self.runs(profile::joints),
            Per::Driver => self.drivers(),
            Per::Cupboard => self.cupboards(),
            Per::Loop => self.loops(),
            Per::Circuit => self.circuits(),
            Per::Device => self.devices(),
        }
    }

    /// Whether the rule has a filter, which only runs can pass.
    fn filtered(&self) -> bool {
        let Accessory {
            wet,
            channels,
            goes_with,
            ..
        } = self.accessory;
        wet.is_some() || channels.is_some() || !goes_with.runs.is_empty()
    }

    fn takes(&self, sized: &SizedRun) -> bool {
        self.accessory.suits(&sized.run)
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

    /// Whether a driver feeds a run that it is for.
    fn feeds(&self, driver: &SizedDriver) -> bool {
        let mut fed = self.sizing.runs_on(driver);
        !self.filtered() || fed.any(|sized| self.takes(sized))
    }

    fn serves(&self, driver: &SizedDriver) -> bool {
        self.accessory.suits_unit(&driver.item.offer.id) && self.feeds(driver)
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
        self.sizing
            .driver(number)
            .is_some_and(|driver| self.serves(driver))
    }

    fn serves_runs(&self, number: &str) -> bool {
        self.sizing
            .driver(number)
            .is_some_and(|driver| self.feeds(driver))
    }

    /// Whether a device on a loop is counted.
    fn counts(&self, member: &Member) -> bool {
        match member.kind {
            MemberKind::Gear => self.named_driver(&member.device),
            MemberKind::ControlDevice => {
                !self.filtered() && self.accessory.suits_unit(&member.item)
            }
        }
    }

    fn devices(&self) -> Vec<Count> {
        let loops = self.allocation.loops.iter().map(|one| {
            let counted = one.members.iter().filter(|member| self.counts(member));
            (vec![one.name.clone()], Decimal::from(counted.count()))
        });
        loops.collect()
    }

    /// Loops on the controllers and supplies that it goes with; where it is for some runs only, those
    /// that have a driver of one.
    fn loops(&self) -> Vec<Count> {
        let on_unit = |one: &Loop| {
            let controller = one.controller_item.iter().map(|item| &item.offer.id);
            let supply = one.supply_item.iter().map(|item| &item.offer.id);
            self.accessory.goes_with.units.is_empty()
                || controller
                    .chain(supply)
                    .any(|id| self.accessory.suits_unit(id))
        };
        let of_runs = |one: &Loop| {
            let gear = one.members.iter().filter(|it| it.kind == MemberKind::Gear);
            !self.filtered() || gear.into_iter().any(|it| self.serves_runs(&it.device))
        };
        let taken = self.allocation.loops.iter();
        let taken = taken.filter(|one| on_unit(one) && of_runs(one));
        taken
            .map(|one| (vec![one.name.clone()], Decimal::ONE))
            .collect()
    }

    fn circuits(&self) -> Vec<Count> {
        let all = !self.filtered() && self.accessory.goes_with.units.is_empty();
        let counts = |circuit: &&Circuit| {
            all || circuit
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

/// Ends of a section that no feed is at.
fn free_ends(section: &Section) -> usize {
    let near = |a: Length, b: Length| (a - b).abs() < Length::new::<millimeter>(0.5);
    let ends = [section.start, section.start + section.length];
    let free = |end: &&Length| !section.feeds.iter().any(|feed| near(feed.at, **end));
    ends.iter().filter(free).count()
}

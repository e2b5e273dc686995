//! The same project otherwise: an option that is priced beside it, or an assumption that turns out
//! the other way.

use super::driver::Mixing;
use super::limits::Limits;
use super::offer::ItemKind;
use super::project::Project;
use super::strip::{Channels, RailsKnown, Strip};
use crate::quantity::{Length, Ratio};
use rust_decimal::Decimal;
use std::sync::Arc;

/// An option that the customer may take instead.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternate {
    /// Its name.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// How it differs.
    pub alterations: Vec<Alteration>,
}

/// One way in which a project can differ.
#[derive(Debug, Clone, PartialEq)]
pub enum Alteration {
    /// Judged by these limits.
    Limits(Box<Limits>),
    /// Without the runs and control devices of a room, by name.
    WithoutRoom(String),
    /// Chosen without an item of the catalogue, by id; where a run asks for it by name it stays.
    WithoutItem(String),
    /// Items of a kind cost this many percent more.
    Dearer(ItemKind, Decimal),
    /// A strip's rails, by its id.
    Rails(String, RailsKnown),
    /// The voltage at which a strip's light starts, as a share of nominal, where the catalogue is
    /// silent.
    LightStarts(String, Ratio),
    /// How the outputs of a driver mix, by its id, where the catalogue is silent.
    Mixes(String, Mixing),
    /// The cable to a run's start.
    ToStart(String, Length),
}

impl Project {
    /// The project with everything altered that is asked for.
    #[must_use]
    pub fn altered(&self, alterations: &[Alteration]) -> Project {
        let mut project = self.clone();
        for alteration in alterations {
            project.alter(alteration);
        }
        project
    }

    fn alter(&mut self, alteration: &Alteration) {
        match alteration {
            Alteration::Limits(limits) => self.limits = (**limits).clone(),
            Alteration::WithoutRoom(room) => self.without_room(room),
            Alteration::WithoutItem(id) => self.without_item(id),
            Alteration::Dearer(kind, percent) => self.dearer(*kind, *percent),
            Alteration::Rails(id, rails) => {
                self.alter_strip(id, |strip| strip.rails = rails.clone());
            }
            Alteration::LightStarts(id, share) => self.alter_strip(id, |strip| {
                let volts = strip.voltage * *share;
                let channels = match &mut strip.channels {
                    Channels::SingleColour(channel) => vec![channel],
                    Channels::TunableWhite { warm, cool } => vec![warm, cool],
                };
                for channel in channels {
                    channel.light_starts_at.get_or_insert(volts);
                }
            }),
            Alteration::Mixes(id, mixing) => {
                let named = self.catalogue.drivers.iter_mut();
                for driver in named.filter(|driver| driver.offer.id == *id) {
                    Arc::make_mut(driver).output.mixing = Some(*mixing);
                }
            }
            Alteration::ToStart(name, length) => {
                let named = self.runs.iter_mut().filter(|run| run.name == *name);
                for run in named {
                    Arc::make_mut(run).to_start = Some(*length);
                }
            }
        }
    }

    fn without_room(&mut self, room: &str) {
        self.runs.retain(|run| run.room.name != room);
        self.devices.retain(|set| set.room.name != room);
    }

    fn without_item(&mut self, id: &str) {
        let catalogue = &mut self.catalogue;
        catalogue.drivers.retain(|item| item.offer.id != id);
        catalogue.cables.retain(|item| item.offer.id != id);
        catalogue.controllers.retain(|item| item.offer.id != id);
        catalogue.bus_supplies.retain(|item| item.offer.id != id);
    }

    /// A discount below zero is a rise: choosing and pricing both reckon with it.
    fn dearer(&mut self, kind: ItemKind, percent: Decimal) {
        let discount = self.pricing.discount.entry(kind).or_default();
        let kept = Decimal::ONE_HUNDRED - *discount;
        let raised = kept * (Decimal::ONE_HUNDRED + percent) / Decimal::ONE_HUNDRED;
        *discount = Decimal::ONE_HUNDRED - raised;
    }

    /// Changes a strip in the catalogue and in every run that is made of it.
    fn alter_strip(&mut self, id: &str, change: impl FnOnce(&mut Strip)) {
        let known = self.catalogue.strips.iter();
        let mut known = known.chain(self.runs.iter().map(|run| &run.strip));
        let Some(present) = known.find(|strip| strip.offer.id == id) else {
            return;
        };
        let mut strip = Strip::clone(present);
        change(&mut strip);
        let strip = Arc::new(strip);
        for own in self
            .catalogue
            .strips
            .iter_mut()
            .filter(|own| own.offer.id == id)
        {
            *own = Arc::clone(&strip);
        }
        for run in self.runs.iter_mut().filter(|run| run.strip.offer.id == id) {
            Arc::make_mut(run).strip = Arc::clone(&strip);
        }
    }
}

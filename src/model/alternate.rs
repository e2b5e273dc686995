//! The same project otherwise: an option that is priced beside it, or an assumption that turns out
//! the other way.

use super::Choice;
use super::driver::Mixing;
use super::limits::Limits;
use super::offer::ItemKind;
use super::project::Project;
use super::site::Point;
use super::strip::{Channels, RailsKnown, Strip};
use super::wiring::Slack;
use crate::quantity::{Length, Ratio, Temperature};
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
    /// This share of cable is lost, in percent, where neither it nor the project says.
    CableWaste(Decimal),
    /// Every length of cable is longer by this share.
    Longer(Ratio),
    /// The ambient of a point, by its name.
    Ambient(String, Temperature),
    /// The voltage lost before the panel.
    UpstreamDrop(Ratio),
    /// The width of a saw cut through a profile, by its id.
    SawCut(String, Length),
    /// The price of an hour of a trade, by its name.
    TradeRate(String, Decimal),
    /// The price of an hour of commissioning.
    CommissioningRate(Decimal),
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
            Alteration::CableWaste(percent) => {
                self.pricing.cable_waste.get_or_insert(*percent);
            }
            Alteration::Longer(share) => self.lengthen(Slack::Share(*share)),
            Alteration::Ambient(name, ambient) => {
                self.alter_point(name, |point| point.ambient = Some(*ambient));
            }
            Alteration::UpstreamDrop(drop) => self.supply.upstream_drop = *drop,
            Alteration::SawCut(id, width) => self.alter_kerf(id, *width),
            Alteration::TradeRate(name, rate) => {
                let trades = self.pricing.trades.iter_mut();
                for trade in trades.filter(|trade| trade.name == *name) {
                    trade.rate = Some(*rate);
                }
            }
            Alteration::CommissioningRate(rate) => {
                if let Some(commissioning) = &mut self.pricing.commissioning {
                    commissioning.rate = Some(*rate);
                }
            }
        }
    }

    fn lengthen(&mut self, slack: Slack) {
        for route in &mut self.site.routes {
            route.length = slack.added_to(route.length);
        }
        for run in &mut self.runs {
            let run = Arc::make_mut(run);
            run.to_start = run.to_start.map(|length| slack.added_to(length));
            run.to_end = run.to_end.map(|length| slack.added_to(length));
        }
    }

    /// Changes a point of the site and wherever a run or device stands at it.
    fn alter_point(&mut self, name: &str, change: impl FnOnce(&mut Point)) {
        let mut points = self.site.points.iter();
        let Some(present) = points.find(|point| point.name == name) else {
            return;
        };
        let mut point = Point::clone(present);
        change(&mut point);
        let point = Arc::new(point);
        let places = self.site.points.iter_mut();
        let places = places.chain(self.devices.iter_mut().map(|set| &mut set.room));
        for own in places.filter(|own| own.name == name) {
            *own = Arc::clone(&point);
        }
        for run in &mut self.runs {
            let run = Arc::make_mut(run);
            if run.room.name == name {
                run.room = Arc::clone(&point);
            }
            if run.cupboard.given().is_some_and(|own| own.name == name) {
                run.cupboard = Choice::Given(Arc::clone(&point));
            }
        }
    }

    /// Changes the saw cut of a profile in every run that has it.
    fn alter_kerf(&mut self, id: &str, width: Length) {
        for profile in &mut self.catalogue.profiles {
            if profile.offer.id == id {
                Arc::make_mut(profile).kerf = width;
            }
        }
        for run in &mut self.runs {
            let run = Arc::make_mut(run);
            if let Some(profile) = run.profile.as_mut().filter(|it| it.offer.id == id) {
                Arc::make_mut(profile).kerf = width;
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

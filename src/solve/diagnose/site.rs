//! A section as it may be on site: its ladder with what a fault does to it, and what meters show
//! there.

use super::case::{Case, Quantity, Reading};
use super::fault::Spot;
use crate::quantity::Resistance;
use crate::solve::strip::{Ladder, LadderFeed, Lit, Short, State, solve_with};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;

/// What an open core comes to: a gigohm, through which a strip draws some nanoamperes.
const OPEN_OHM: f64 = 1e9;

/// How one feed's cores meet the strip.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Joined {
    /// Plus carries nothing.
    pub plus_open: bool,
    /// Return cores that carry nothing, by the driver's channel.
    pub returns_open: Vec<bool>,
    /// The two returns have changed places on the strip.
    pub swapped: bool,
}

/// A section on site.
#[derive(Debug, Clone)]
pub struct Site {
    /// Its network; cores are the cable's, in the driver's order of channels.
    pub ladder: Ladder,
    /// How each feed of the ladder meets the strip.
    pub joined: Vec<Joined>,
    /// Where the section's own feeds begin among the ladder's.
    pub first_feed: usize,
    /// Where its own segments begin.
    pub first_segment: usize,
    /// How many feeds are its own.
    pub own_feeds: usize,
    /// A short.
    pub short: Option<Short>,
    /// Two cores of each own feed's cable in series, dead and cold, in Ω.
    pub cold_loops: Vec<Option<f64>>,
}

/// What may differ without a fault, as shares of the figures (0: as sized).
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Difference {
    /// Strip power.
    pub power: f64,
    /// Driver voltage.
    pub supply: f64,
    /// Resistance of copper while it is cold.
    pub cold: f64,
    /// Length of each own feed's cable; missing ones are as sized.
    pub lengths: Vec<f64>,
}

/// What one state comes to.
enum Solved {
    /// No core leads to the strip and back.
    Dead,
    /// It is on: the rails of the strip that are, and its currents and voltages.
    On(Lit, Box<State>, Ladder),
}

impl Site {
    /// The section without a fault, its cables midway between cold and warm.
    #[must_use]
    pub fn of(case: &Case) -> Site {
        let mut site = Site {
            ladder: case.ladder.clone(),
            joined: healthy(&case.ladder),
            first_feed: 0,
            first_segment: 0,
            own_feeds: case.ladder.feeds.len(),
            short: None,
            cold_loops: case.cold_loops.clone(),
        };
        let midway = 0.5 * (1.0 + case.spread.coldest);
        for feed in &mut site.ladder.feeds {
            scale(feed, midway);
        }
        site
    }

    /// How its own feeds of a spot meet the strip: one, or all.
    pub(super) fn feeds_at(&mut self, spot: &Spot) -> impl Iterator<Item = &mut Joined> {
        let one = spot.feed;
        let own = self.joined.iter_mut().skip(self.first_feed);
        own.take(self.own_feeds)
            .enumerate()
            .filter(move |(feed, _)| one.is_none_or(|one| one == *feed))
            .map(|(_, joined)| joined)
    }

    /// The network's feeds at a spot: one of its own, or all of them.
    pub(super) fn ladder_feeds_at(&mut self, spot: &Spot) -> impl Iterator<Item = &mut LadderFeed> {
        let one = spot.feed;
        let own = self.ladder.feeds.iter_mut().skip(self.first_feed);
        own.take(self.own_feeds)
            .enumerate()
            .filter(move |(feed, _)| one.is_none_or(|one| one == *feed))
            .map(|(_, feed)| feed)
    }

    /// Multiplies the resistance of the cable at a spot.
    pub(super) fn stretch_cable(&mut self, spot: &Spot, times: f64) {
        for feed in self.ladder_feeds_at(spot) {
            scale(feed, times);
        }
        for (feed, cold) in self.cold_loops.iter_mut().enumerate() {
            if spot.feed.is_none_or(|one| one == feed) {
                *cold = cold.map(|ohms| ohms * times);
            }
        }
    }

    /// Joins a neighbour to its beginning.
    pub(super) fn join_before(&mut self, before: &Ladder) {
        let own = std::mem::replace(&mut self.ladder, before.clone());
        self.joined.splice(0..0, healthy(before));
        self.first_feed = before.feeds.len();
        self.first_segment = before.segments;
        self.append(own);
    }

    /// Joins a neighbour to its end.
    pub(super) fn join_after(&mut self, after: &Ladder) {
        self.joined.extend(healthy(after));
        self.append(after.clone());
    }

    fn append(&mut self, other: Ladder) {
        let shift = self.ladder.segments;
        self.ladder.segments += other.segments;
        self.ladder
            .feeds
            .extend(other.feeds.into_iter().map(|feed| LadderFeed {
                cut: feed.cut + shift,
                ..feed
            }));
    }

    /// The same with what may differ without a fault.
    #[must_use]
    pub fn differing(&self, by: &Difference) -> Site {
        let mut site = self.clone();
        site.ladder.supply *= 1.0 + by.supply;
        for channel in &mut site.ladder.channels {
            channel.power *= 1.0 + by.power;
        }
        let own = site.ladder.feeds.iter_mut().skip(site.first_feed);
        for (at, feed) in own.take(site.own_feeds).enumerate() {
            let length = by.lengths.get(at).copied().unwrap_or(0.0);
            scale(feed, (1.0 + length) * (1.0 + by.cold));
            if let Some(Some(cold)) = site.cold_loops.get_mut(at) {
                *cold *= 1.0 + length;
            }
        }
        site
    }

    /// What meters show on it, in V, A and Ω. `None` when it has no working point.
    #[must_use]
    pub fn read_all(&self, readings: &[Reading]) -> Option<Vec<f64>> {
        let mut states: Vec<(Lit, Solved)> = Vec::new();
        let mut values = Vec::with_capacity(readings.len());
        for reading in readings {
            let lit = reading.quantity.lit();
            if let Some(lit) = lit
                && !states.iter().any(|(known, _)| *known == lit)
            {
                states.push((lit, self.solved(lit)?));
            }
            let state = states.iter().find(|(known, _)| Some(*known) == lit);
            values.push(self.value(reading, state.map(|(_, it)| it))?);
        }
        Some(values)
    }

    fn value(&self, reading: &Reading, state: Option<&Solved>) -> Option<f64> {
        match reading.quantity {
            Quantity::Output => Some(self.ladder.supply.get::<volt>()),
            // A loop that nothing is known of shows what it shows: it is no evidence.
            Quantity::ColdLoop { feed } => {
                let known = self.cold_loops.get(feed).copied().flatten();
                Some(known.unwrap_or(reading.value))
            }
            Quantity::FeedVolts { feed, lit } => self.feed_volts(feed, lit, state?),
            Quantity::FeedCurrent { feed, .. } => match state? {
                Solved::Dead => Some(0.0),
                Solved::On(_, state, _) => {
                    let feed = state.feeds.get(self.first_feed + feed)?;
                    Some(feed.plus.get::<ampere>())
                }
            },
            Quantity::SegmentVolts { segment, lit } => match state? {
                Solved::Dead => Some(0.0),
                Solved::On(on, state, _) => match lane(*on, lit) {
                    None => Some(0.0),
                    Some(lane) => {
                        let volts = &state.channels.get(lane)?.volts;
                        volts.get(self.first_segment + segment).copied()
                    }
                },
            },
        }
    }

    fn feed_volts(&self, feed: usize, lit: Lit, state: &Solved) -> Option<f64> {
        let Solved::On(on, state, ladder) = state else {
            return Some(0.0);
        };
        let Some(lane) = lane(*on, lit) else {
            return Some(0.0);
        };
        let channel = *lit.channels().first()?;
        let currents = state.feeds.get(self.first_feed + feed)?;
        let cores = ladder.feeds.get(self.first_feed + feed)?;
        let lost = currents.plus * cores.plus
            + *currents.returns.get(lane)? * *cores.returns.get(channel)?;
        Some((ladder.supply - lost).get::<volt>())
    }

    /// One state: which rails of the strip are on when a channel of the driver is, and what they
    /// carry. `None` without a working point.
    fn solved(&self, lit: Lit) -> Option<Solved> {
        let &[on] = lit.channels() else { return None };
        let mut ladder = self.ladder.clone();
        let mut rails = [false; 2];
        let mut any_plus = false;
        for (feed, joined) in ladder.feeds.iter_mut().zip(&self.joined) {
            if joined.plus_open {
                feed.plus = open();
            } else {
                any_plus = true;
            }
            if joined.swapped {
                feed.returns.reverse();
            }
            for (rail, core) in feed.returns.iter_mut().enumerate() {
                let own = if joined.swapped {
                    1 - rail.min(1)
                } else {
                    rail
                };
                let cut = joined.returns_open.get(own).copied().unwrap_or(false);
                if own == on && !cut {
                    if let Some(lit) = rails.get_mut(rail) {
                        *lit = true;
                    }
                } else {
                    *core = open();
                }
            }
        }
        let on = match (any_plus, rails, self.ladder.channels.len()) {
            (false, ..) | (_, [false, false], _) => return Some(Solved::Dead),
            (_, _, 1) => Lit::On,
            (_, [true, false], _) => Lit::Warm,
            (_, [false, true], _) => Lit::Cool,
            (_, [true, true], _) => Lit::Both,
        };
        let state = solve_with(&ladder, on, self.short.as_ref())?;
        Some(Solved::On(on, Box::new(state), ladder))
    }
}

/// Which of the solved channels is the one that a meter reads.
fn lane(on: Lit, read: Lit) -> Option<usize> {
    let channel = read.channels().first()?;
    on.channels().iter().position(|it| it == channel)
}

fn open() -> Resistance {
    Resistance::new::<ohm>(OPEN_OHM)
}

fn healthy(ladder: &Ladder) -> Vec<Joined> {
    let one = Joined {
        returns_open: vec![false; ladder.channels.len()],
        ..Joined::default()
    };
    vec![one; ladder.feeds.len()]
}

fn scale(feed: &mut LadderFeed, times: f64) {
    feed.plus *= times;
    for core in &mut feed.returns {
        *core *= times;
    }
}

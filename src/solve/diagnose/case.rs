//! A section as it should be, and what was read on it.

use crate::solve::strip::{Ladder, Lit};

/// A section as it should be, with what may differ on it without a fault.
#[derive(Debug, Clone)]
pub struct Case {
    /// The section as sized.
    pub ladder: Ladder,
    /// The section before it on the same run, with the same strip.
    pub before: Option<Ladder>,
    /// The section after it.
    pub after: Option<Ladder>,
    /// Two cores of each feed's cable in series, dead and cold, in Ω; where it is known.
    pub cold_loops: Vec<Option<f64>>,
    /// Resistance of the next thinner conductor as a multiple of the present one's; `None` where
    /// there is no thinner one.
    pub thinner: Option<f64>,
    /// What may differ.
    pub spread: Differs,
    /// What meters add.
    pub meters: Meters,
}

/// What may differ from the figures that a section was sized with, without a fault.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Differs {
    /// Strip power, as a share either way.
    pub power: f64,
    /// Driver voltage, as a share either way.
    pub supply: f64,
    /// Length of each feed's cable, as a share either way.
    pub length: f64,
    /// Resistance of copper that has just been switched on, as a share of that at the temperature
    /// it was sized at; 1 or less.
    pub coldest: f64,
}

/// Errors of instruments: a share of the reading, and as much again in volts, amperes or ohms
/// whatever the reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meters {
    /// Of a voltmeter.
    pub volts: [f64; 2],
    /// Of a clamp.
    pub amperes: [f64; 2],
    /// Of a low-ohm meter with its leads.
    pub ohms: [f64; 2],
}

/// What can be read on a section.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// Volts at the driver's terminals, on the output that is on.
    Output,
    /// Volts on the strip where a feed joins it, plus to the lit channel's return.
    FeedVolts {
        /// Which, from 0.
        feed: usize,
        /// What is on: one channel.
        lit: Lit,
    },
    /// Current in a feed's plus core.
    FeedCurrent {
        /// Which, from 0.
        feed: usize,
        /// What is on: one channel.
        lit: Lit,
    },
    /// Volts across a segment, plus to the lit channel's return.
    SegmentVolts {
        /// Which, from 0.
        segment: usize,
        /// What is on: one channel.
        lit: Lit,
    },
    /// Ohms of a feed's plus core and one return in series, dead, neither driver nor strip
    /// connected.
    ColdLoop {
        /// Which, from 0.
        feed: usize,
    },
}

impl Quantity {
    /// The state in which it is read; `None` where that does not matter.
    #[must_use]
    pub fn lit(self) -> Option<Lit> {
        match self {
            Quantity::FeedVolts { lit, .. }
            | Quantity::FeedCurrent { lit, .. }
            | Quantity::SegmentVolts { lit, .. } => Some(lit),
            Quantity::Output | Quantity::ColdLoop { .. } => None,
        }
    }
}

/// A reading: a value in V, A or Ω.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// What was read.
    pub quantity: Quantity,
    /// What the meter showed.
    pub value: f64,
}

/// The standard deviation of what lies anywhere within ± `half` alike: half/√3. JCGM 100:2008
/// 4.3.7.
#[must_use]
pub fn deviation(half: f64) -> f64 {
    half / 3.0_f64.sqrt()
}

impl Meters {
    /// The standard deviation of a meter's error at a value.
    #[must_use]
    pub fn deviation(&self, quantity: Quantity, value: f64) -> f64 {
        let [share, always] = match quantity {
            Quantity::Output | Quantity::FeedVolts { .. } | Quantity::SegmentVolts { .. } => {
                self.volts
            }
            Quantity::FeedCurrent { .. } => self.amperes,
            Quantity::ColdLoop { .. } => self.ohms,
        };
        deviation(share * value.abs() + always)
    }
}

impl Case {
    /// Which channel states a meter can read: one channel on at a time.
    #[must_use]
    pub fn states(&self) -> &'static [Lit] {
        match self.ladder.channels.len() {
            1 => &[Lit::On],
            _ => &[Lit::Warm, Lit::Cool],
        }
    }

    /// Each of its feeds, from 0.
    pub(super) fn feeds(&self) -> std::ops::Range<usize> {
        0..self.ladder.feeds.len()
    }
}

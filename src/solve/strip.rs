//! The steady state of one strip: voltages, currents and light along it, by state lit.

use super::balance;
use super::block_three::Three;
use super::block_two::Two;
use super::extremes::{self, Extremes};
use super::network::{Network, Rung};
use super::newton::{Solved, Work, working_point};
use crate::quantity::{
    Current, FluxPerLength, Length, Power, PowerPerLength, Resistance, ResistancePerLength, Voltage,
};
use std::cell::RefCell;

/// How the current of one segment's string follows the voltage across it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StringLaw {
    /// i = max(0, (v − v₀)/Rs), Rs = (Vₙ − v₀)/iₙ.
    Resistor {
        /// v₀, where light starts.
        starts_at: Voltage,
    },
    /// iₙ from v_d up, falling straight to 0 at v₀.
    Regulated {
        /// v₀, where light starts.
        starts_at: Voltage,
        /// v_d, from which the current is held.
        regulated_from: Voltage,
    },
    /// i = p/v.
    Converter,
}

/// One channel of a strip as a network.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LadderChannel {
    /// Resistance of its return rail.
    pub return_rail: ResistancePerLength,
    /// Power per length at nominal voltage.
    pub power: PowerPerLength,
    /// Light per length at nominal current, if known.
    pub flux: Option<FluxPerLength>,
    /// Its string's law.
    pub law: StringLaw,
}

/// A feed: joins the source to the rails at a cut point.
#[derive(Debug, Clone, PartialEq)]
pub struct LadderFeed {
    /// Cut point, 0 to `segments`.
    pub cut: usize,
    /// Resistance of the plus core; may be zero.
    pub plus: Resistance,
    /// Resistance of each channel's return core, in channel order; may be zero.
    pub returns: Vec<Resistance>,
}

/// A strip with its feeds.
#[derive(Debug, Clone, PartialEq)]
pub struct Ladder {
    /// The driver's output voltage.
    pub supply: Voltage,
    /// The strip's nominal voltage.
    pub nominal: Voltage,
    /// Length of a segment.
    pub segment: Length,
    /// Number of segments, at least 1.
    pub segments: usize,
    /// Resistance of the common plus rail.
    pub plus_rail: ResistancePerLength,
    /// One channel, or warm and cool.
    pub channels: Vec<LadderChannel>,
    /// Feeds, at least one, rising `cut`.
    pub feeds: Vec<LadderFeed>,
}

/// A resistance across the rails where none belongs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Short {
    /// The segment in whose middle it is.
    pub segment: usize,
    /// The channel whose return it joins to plus.
    pub channel: usize,
    /// Its resistance, above zero.
    pub resistance: Resistance,
}

/// Which channels are on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lit {
    /// The only channel of a single-colour strip.
    On,
    /// Warm alone.
    Warm,
    /// Cool alone.
    Cool,
    /// Warm and cool, each at its own full current.
    Both,
}

impl Lit {
    /// The word used in JSON and tables.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Lit::On => "on",
            Lit::Warm => "warm",
            Lit::Cool => "cool",
            Lit::Both => "both",
        }
    }

    /// The states of a strip of `channels` channels.
    #[must_use]
    pub fn states(channels: usize) -> &'static [Lit] {
        if channels == 1 {
            &[Lit::On]
        } else {
            &[Lit::Warm, Lit::Cool, Lit::Both]
        }
    }

    /// Indices of the channels that are on.
    #[must_use]
    pub fn channels(self) -> &'static [usize] {
        match self {
            Lit::On | Lit::Warm => &[0],
            Lit::Cool => &[1],
            Lit::Both => &[0, 1],
        }
    }
}

/// Currents at one feed.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedCurrents {
    /// Current in the plus core.
    pub plus: Current,
    /// Current in each lit channel's return core, in the order of [`Lit::channels`].
    pub returns: Vec<Current>,
}

/// One lit channel, segment by segment and in short.
#[derive(Debug, Clone, PartialEq)]
pub struct ChannelState {
    /// Index of the channel in the strip.
    pub channel: usize,
    /// Voltage across each segment's string, in volts.
    pub volts: Vec<f64>,
    /// Current of each segment's string, in amperes.
    pub amperes: Vec<f64>,
    /// Light of each segment as a share of nominal (1 = nominal).
    pub light: Vec<f64>,
    /// Current of the whole channel.
    pub current: Current,
}

/// The steady state of a strip with some channels lit.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// Which channels are on.
    pub lit: Lit,
    /// Sum of the plus-core currents.
    pub source_current: Current,
    /// What the source gives.
    pub source_power: Power,
    /// What the strings take.
    pub strip_power: Power,
    /// What is lost in the feed cables.
    pub cable_loss: Power,
    /// What is lost in the rails.
    pub rail_loss: Power,
    /// Currents at each feed, in the ladder's order.
    pub feeds: Vec<FeedCurrents>,
    /// The lit channels, in the order of [`Lit::channels`].
    pub channels: Vec<ChannelState>,
}

/// Solves one state. `None`: a converter strip without a working point.
///
/// The strip is a ladder: one rung for each segment's strings, in the middle of the segment, and
/// one for each feed, at its cut point, joined by stretches of rail. Time grows with the number of
/// segments. Rails and cores may be without resistance. Expects at least one segment and one
/// feed, feeds in rising order and within the strip, v₀ below the nominal voltage and below v_d.
#[must_use]
pub fn solve(ladder: &Ladder, lit: Lit) -> Option<State> {
    solve_with(ladder, lit, None)
}

/// Solves one state of a strip that may have a short; what that takes counts as the strip's power.
/// As [`solve`] otherwise. A short on a channel that is not on carries nothing.
#[must_use]
pub fn solve_with(ladder: &Ladder, lit: Lit, short: Option<&Short>) -> Option<State> {
    solved(ladder, lit, short, |network, solved| {
        balance::state(ladder, lit, network, solved)
    })
}

/// The darkest segment and the least volts of the state that [`solve`] gives, in less time.
#[must_use]
pub fn extremes(ladder: &Ladder, lit: Lit) -> Option<Extremes> {
    solved(ladder, lit, None, |network, solved| {
        extremes::of(network, solved.loads)
    })
}

/// The state that [`solve`] gives if its extremes are `wanted`; those alone where they are not.
///
/// # Errors
/// The extremes that are not wanted; none where there is no working point.
pub fn solve_if(
    ladder: &Ladder,
    lit: Lit,
    wanted: impl FnOnce(Extremes) -> bool,
) -> Result<State, Option<Extremes>> {
    let found = solved(ladder, lit, None, |network, solved| {
        let extremes = extremes::of(network, solved.loads);
        if wanted(extremes) {
            Ok(balance::state(ladder, lit, network, solved))
        } else {
            Err(Some(extremes))
        }
    });
    found.unwrap_or(Err(None))
}

/// What `made` makes of a state's working point.
fn solved<T>(
    ladder: &Ladder,
    lit: Lit,
    short: Option<&Short>,
    made: impl FnOnce(&Network, &Solved) -> T,
) -> Option<T> {
    BUFFERS.with_borrow_mut(|(rungs, two, three)| {
        let network = Network::of(ladder, lit, short, std::mem::take(rungs));
        let solved = if lit.channels().len() == 1 {
            working_point(&network, two)
        } else {
            working_point(&network, three)
        };
        let made = solved.map(|solved| made(&network, &solved));
        *rungs = network.rungs;
        made
    })
}

thread_local! {
    static BUFFERS: RefCell<(Vec<Rung>, Work<Two>, Work<Three>)> = RefCell::default();
}

//! One state of a strip as rungs along its rails: strings in the middle of their segments, feeds
//! at cut points.

use super::block::{Held, Rails};
use super::law::{Law, rated_amperes};
use super::strip::{Ladder, LadderFeed, Lit, Short};
use crate::quantity::Resistance;
use crate::quantity::number::real;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;

/// A place on the strip where something joins the rails.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rung {
    /// Rail resistance to the next rung on the left; zero for the first.
    pub(super) ohms: Rails,
    /// What joins here.
    pub(super) joins: Joins,
}

/// What joins the rails at one place.
#[derive(Debug, Clone, Copy)]
pub(super) enum Joins {
    /// Feeds at a cut point.
    Feed(Ground),
    /// The strings of the next segment.
    Load,
    /// A short, as conductances from plus to each lit channel's return.
    Short([f64; 2]),
}

impl Rung {
    pub(super) fn is_feed(&self) -> bool {
        matches!(self.joins, Joins::Feed(_))
    }
}

/// The feeds at one cut point, as conductances to the supply.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ground {
    pub(super) conductance: Rails,
    /// Rails joined without resistance.
    pub(super) held: Held,
}

/// One state as a network.
#[derive(Debug, Clone)]
pub(super) struct Network {
    pub(super) supply: f64,
    pub(super) laws: [Law; 2],
    /// Current of one segment at nominal voltage, per lit channel.
    pub(super) rated: [f64; 2],
    pub(super) segments: usize,
    pub(super) rungs: Vec<Rung>,
    /// Rails without resistance which a feed without resistance joins: zero all along.
    pub(super) held: Held,
}

impl Network {
    /// The network of `ladder` with `lit` on and perhaps a short, its rungs in a buffer that may
    /// hold others.
    pub(super) fn of(
        ladder: &Ladder,
        lit: Lit,
        short: Option<&Short>,
        mut rungs: Vec<Rung>,
    ) -> Network {
        let mut laws = [Law::Off; 2];
        let mut rated = [0.0; 2];
        let mut per_metre = [ladder.plus_rail.value, 0.0, 0.0];
        let lanes = laws
            .iter_mut()
            .zip(rated.iter_mut())
            .zip(per_metre.iter_mut().skip(1));
        for (&channel, ((law, amperes), rail)) in lit.channels().iter().zip(lanes) {
            if let Some(channel) = ladder.channels.get(channel) {
                *law = Law::of(channel, ladder.nominal, ladder.segment);
                *amperes = rated_amperes(channel, ladder.nominal, ladder.segment);
                *rail = channel.return_rail.value;
            }
        }
        let half = per_metre.map(|ohms| ohms * ladder.segment.value / 2.0);
        fill(&mut rungs, ladder, lit, short, half);
        Network {
            supply: ladder.supply.get::<volt>(),
            laws,
            rated,
            segments: ladder.segments,
            held: held_rails(&rungs, half),
            rungs,
        }
    }
}

/// Rungs from left to right, loads at odd and feeds at even half segments.
fn fill(rungs: &mut Vec<Rung>, ladder: &Ladder, lit: Lit, short: Option<&Short>, half: Rails) {
    rungs.clear();
    rungs.reserve(ladder.segments + ladder.feeds.len());
    let mut feeds = ladder.feeds.iter().peekable();
    let mut previous = None;
    for cut in 0..=ladder.segments {
        let mut here = None;
        while let Some(feed) = feeds.next_if(|feed| feed.cut <= cut) {
            here = Some(joined(here, ground(feed, lit)));
        }
        if let Some(ground) = here {
            push(rungs, &mut previous, 2 * cut, Joins::Feed(ground), half);
        }
        if cut < ladder.segments {
            push(rungs, &mut previous, 2 * cut + 1, Joins::Load, half);
            if let Some(short) = short.filter(|short| short.segment == cut) {
                let joins = Joins::Short(across(short, lit));
                push(rungs, &mut previous, 2 * cut + 1, joins, half);
            }
        }
    }
}

fn push(
    rungs: &mut Vec<Rung>,
    previous: &mut Option<usize>,
    place: usize,
    joins: Joins,
    half: Rails,
) {
    let steps = previous.map_or(0, |previous| place - previous);
    *previous = Some(place);
    rungs.push(Rung {
        ohms: half.map(|ohms| ohms * real(steps)),
        joins,
    });
}

/// A short as conductances in the order of the lit channels.
fn across(short: &Short, lit: Lit) -> [f64; 2] {
    let mut lanes = lit.channels().iter().map(|&channel| {
        if channel == short.channel {
            1.0 / in_ohms(&short.resistance)
        } else {
            0.0
        }
    });
    [lanes.next().unwrap_or(0.0), lanes.next().unwrap_or(0.0)]
}

fn joined(here: Option<Ground>, feed: Ground) -> Ground {
    let Some(here) = here else { return feed };
    let ([a, b, c], [d, e, f]) = (here.conductance, feed.conductance);
    let ([g, h, i], [j, k, l]) = (here.held, feed.held);
    Ground {
        conductance: [a + d, b + e, c + f],
        held: [g || j, h || k, i || l],
    }
}

fn ground(feed: &LadderFeed, lit: Lit) -> Ground {
    let ohms = cores(feed, lit);
    Ground {
        conductance: ohms.map(|ohms| if ohms > 0.0 { 1.0 / ohms } else { 0.0 }),
        held: ohms.map(|ohms| ohms <= 0.0),
    }
}

/// Core resistances of a feed in the order of the network's rails.
pub(super) fn cores(feed: &LadderFeed, lit: Lit) -> Rails {
    let mut lanes = lit
        .channels()
        .iter()
        .map(|&channel| feed.returns.get(channel).map_or(0.0, in_ohms));
    [
        in_ohms(&feed.plus),
        lanes.next().unwrap_or(0.0),
        lanes.next().unwrap_or(0.0),
    ]
}

fn in_ohms(resistance: &Resistance) -> f64 {
    resistance.get::<ohm>()
}

fn held_rails(rungs: &[Rung], half: Rails) -> Held {
    let mut held = [false; 3];
    let grounds = rungs.iter().filter_map(|rung| match &rung.joins {
        Joins::Feed(ground) => Some(ground),
        Joins::Load | Joins::Short(_) => None,
    });
    for ground in grounds {
        for ((held, here), ohms) in held.iter_mut().zip(ground.held).zip(half) {
            *held |= here && ohms <= 0.0;
        }
    }
    held
}

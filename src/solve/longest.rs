//! The longest strip that keeps a limit on light, by arrangement of its feeds.

use super::strip::{Ladder, LadderFeed, Lit, extremes};
use crate::norms::limit::Limit;
use crate::quantity::{Ratio, Resistance};
use uom::si::ratio::ratio;

/// Where a strip is fed, relative to its length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Arrangement {
    /// At its start.
    Start,
    /// At both ends.
    BothEnds,
    /// In its middle.
    Middle,
}

impl Arrangement {
    /// All, in the order in which they are listed to people.
    pub const ALL: [Arrangement; 3] = [
        Arrangement::Start,
        Arrangement::BothEnds,
        Arrangement::Middle,
    ];

    /// The words used in files and tables.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Arrangement::Start => "start",
            Arrangement::BothEnds => "both ends",
            Arrangement::Middle => "middle",
        }
    }

    /// Cut points of a strip of `segments` segments, rising. The middle of an odd number is the
    /// cut before it.
    #[must_use]
    pub fn cuts(self, segments: usize) -> Vec<usize> {
        match self {
            Arrangement::Start => vec![0],
            Arrangement::BothEnds => vec![0, segments],
            Arrangement::Middle => vec![segments / 2],
        }
    }

    /// Its feeds, each through a cable with these cores.
    #[must_use]
    pub fn feeds(self, segments: usize, cores: &Cores) -> Vec<LadderFeed> {
        self.cuts(segments)
            .into_iter()
            .map(|cut| cores.feed(cut))
            .collect()
    }
}

/// The cores of one feed's cable.
#[derive(Debug, Clone, PartialEq)]
pub struct Cores {
    /// The plus core.
    pub plus: Resistance,
    /// Each channel's return core, in channel order.
    pub returns: Vec<Resistance>,
}

impl Cores {
    /// This cable at a cut point.
    #[must_use]
    pub fn feed(&self, cut: usize) -> LadderFeed {
        LadderFeed {
            cut,
            plus: self.plus,
            returns: self.returns.clone(),
        }
    }
}

/// How long a strip may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Longest {
    /// Not even one segment keeps the limit.
    None,
    /// So many segments.
    Segments(usize),
    /// More than [`MOST_SEGMENTS`]: the limit does not bound it.
    Unbounded,
}

/// Segments beyond which no strip is asked about.
pub const MOST_SEGMENTS: usize = 20_000;

/// The most light that is lost at the darkest segment, over all states, as a share of nominal
/// light; all of it where a converter strip has no working point.
#[must_use]
pub fn light_drop(ladder: &Ladder) -> Ratio {
    let darkest = Lit::states(ladder.channels.len())
        .iter()
        .map(|lit| extremes(ladder, *lit).map_or(0.0, |state| state.darkest))
        .fold(f64::INFINITY, f64::min);
    Ratio::new::<ratio>(1.0 - darkest)
}

/// The longest strip whose light drop keeps `limit`, fed in an arrangement through `cores` at each
/// feed. `build` makes the ladder of so many segments with these feeds.
#[must_use]
pub fn longest_run(
    build: impl Fn(usize, Vec<LadderFeed>) -> Ladder,
    arrangement: Arrangement,
    cores: &Cores,
    limit: &Limit<Ratio>,
) -> Longest {
    longest(|segments| {
        let ladder = build(segments, arrangement.feeds(segments, cores));
        limit.allows(light_drop(&ladder))
    })
}

/// The greatest number of segments that `keeps` a limit which every longer strip breaks, by
/// doubling and then halving.
#[must_use]
pub fn longest(keeps: impl Fn(usize) -> bool) -> Longest {
    if !keeps(1) {
        return Longest::None;
    }
    let (mut kept, mut broken) = (1, 2);
    while keeps(broken) {
        if broken >= MOST_SEGMENTS {
            return Longest::Unbounded;
        }
        (kept, broken) = (broken, (broken * 2).min(MOST_SEGMENTS));
    }
    while broken - kept > 1 {
        let middle = kept + (broken - kept) / 2;
        if keeps(middle) {
            kept = middle;
        } else {
            broken = middle;
        }
    }
    Longest::Segments(kept)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bound_is_found_wherever_it_is() {
        for most in [1, 2, 3, 4, 5, 127, 128, 129, 9_999, MOST_SEGMENTS - 1] {
            assert_eq!(
                longest(|segments| segments <= most),
                Longest::Segments(most)
            );
        }
        assert_eq!(longest(|_| false), Longest::None);
        assert_eq!(longest(|_| true), Longest::Unbounded);
    }
}

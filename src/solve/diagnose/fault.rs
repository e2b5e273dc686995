//! What a fault is: where it can be, what it does to a section, what its free number is, and what
//! to check first.

use super::case::{Case, Reading};
use super::site::Site;
use crate::quantity::figure::Unit;

/// A core of a feed's cable.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Core {
    /// Plus.
    Plus,
    /// A channel's return.
    Return(usize),
}

/// Where a fault is.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spot {
    /// At a feed, from 0; `None` with none of the others: at all of them alike.
    pub feed: Option<usize>,
    /// In one core of its cable.
    pub core: Option<Core>,
    /// In a segment, from 0, on one channel.
    pub segment: Option<(usize, usize)>,
    /// At the end where the next section begins (true), or at its own beginning (false).
    pub at_end: Option<bool>,
}

impl Spot {
    /// At one feed.
    #[must_use]
    pub fn at(feed: usize) -> Spot {
        Spot {
            feed: Some(feed),
            ..Spot::default()
        }
    }

    /// In one core of a feed.
    #[must_use]
    pub fn in_core(feed: usize, core: Core) -> Spot {
        Spot {
            core: Some(core),
            ..Spot::at(feed)
        }
    }
}

/// A fault's free number.
#[derive(Debug, Clone, Copy)]
pub struct Number {
    /// Its unit.
    pub unit: Unit,
    /// Least and most that are tried, both above zero.
    pub range: fn(&Case) -> [f64; 2],
}

/// A fault that a section can have. Each is a file of its own, listed in [`super::FAULTS`].
#[derive(Debug)]
pub struct Fault {
    /// By which files call it.
    pub key: &'static str,
    /// In words.
    pub name: &'static str,
    /// What to look at first when it is suspected.
    pub check: &'static str,
    /// Its free number, if it has one.
    pub number: Option<Number>,
    /// Whether its place is fitted as well: only the likeliest is told.
    pub one_place: bool,
    /// Where in a section it can be and would bear on these readings.
    pub spots: fn(&Case, &[Reading]) -> Vec<Spot>,
    /// Puts it there, with that number; a fault without one takes no notice of it.
    pub inflict: fn(&mut Site, &Case, &Spot, f64),
}

impl Fault {
    /// The section with this fault.
    #[must_use]
    pub fn on(&self, case: &Case, spot: &Spot, number: f64) -> Site {
        let mut site = Site::of(case);
        (self.inflict)(&mut site, case, spot, number);
        site
    }
}

impl PartialEq for Fault {
    fn eq(&self, other: &Fault) -> bool {
        self.key == other.key
    }
}

/// At every feed alone, and at all of them alike where there are several.
pub(super) fn each_feed_and_all(case: &Case) -> Vec<Spot> {
    let mut spots: Vec<Spot> = case.feeds().map(Spot::at).collect();
    if spots.len() > 1 {
        spots.push(Spot::default());
    }
    spots
}

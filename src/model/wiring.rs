//! What the project says of the ways that cable takes: slack, insulation around it, what it lies
//! beside, what it is exposed to.

use crate::diagnostic::Place;
use crate::quantity::{Length, Ratio};

/// Slack in the lengths of cable that a project gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Slack {
    /// The lengths hold rises, drops and slack already.
    Included,
    /// The lengths are as measured; this share is added to each.
    Share(Ratio),
    /// The lengths are as measured; this is added to each.
    Each(Length),
}

impl Slack {
    /// A length with its slack.
    #[must_use]
    pub fn added_to(self, length: Length) -> Length {
        match self {
            Slack::Included => length,
            Slack::Share(share) => length + length * share,
            Slack::Each(each) => length + each,
        }
    }
}

/// What a sheath must stand besides dry indoor air.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exposure {
    /// Water.
    Wet,
    /// Sunlight.
    Sun,
    /// Burial in the ground.
    Burial,
}

impl Exposure {
    /// All, in listing order.
    pub const ALL: [Exposure; 3] = [Exposure::Wet, Exposure::Sun, Exposure::Burial];

    /// The word used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Exposure::Wet => "wet",
            Exposure::Sun => "sun",
            Exposure::Burial => "burial",
        }
    }
}

/// The ways of cable of a whole project; each `None` when it is not said.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Wiring {
    /// Slack in the lengths of cable.
    pub slack: Option<Slack>,
    /// Longest stretch of a feed cable that thermal insulation surrounds; nothing: none is.
    pub in_insulation: Option<Length>,
    /// Whether extra-low-voltage cable is kept apart from mains and bus cable on every route.
    pub separated: Option<bool>,
    /// Where the `wiring` block stands; `None` when there is none.
    pub place: Option<Place>,
}

/// The ways of a run's feed cables.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct RunWiring {
    /// In place of [`Wiring::in_insulation`].
    pub in_insulation: Option<Length>,
    /// What they are exposed to besides `wet`.
    pub exposed_to: Vec<Exposure>,
}

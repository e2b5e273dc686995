//! Profiles and accessories: what is counted rather than sized.

use super::offer::{Offer, StockLength};
use crate::quantity::conductor::ConductorSize;
use crate::quantity::{Current, Length, PowerPerLength};

/// A profile (extrusion with diffuser) that strip is mounted in.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    /// Id, price, delivery.
    pub offer: Offer,
    /// The bars it is sold in.
    pub bars: Vec<StockLength>,
    /// Width of a saw cut.
    pub kerf: Length,
    /// Power per length it can shed.
    pub most_power: Option<PowerPerLength>,
    /// What is added to the strip's length for end caps and leads.
    pub longer_by: Length,
    /// Distance from the strip's face to the diffuser.
    pub depth: Option<Length>,
    /// The lid over it.
    pub lid: Option<Lid>,
}

/// The lid of a profile.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lid {
    /// Scatters light.
    Opal,
    /// Lets every LED be seen.
    Clear,
}

impl Lid {
    /// The word used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Lid::Opal => "opal",
            Lid::Clear => "clear",
        }
    }
}

/// What an accessory is counted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Per {
    /// Each run.
    Run,
    /// Each section of a run (each cut piece has two ends).
    Section,
    /// Each feed.
    Feed,
    /// Each joint in a section.
    Joint,
    /// Each bend of a run.
    Bend,
    /// Each metre of strip, rounded up per job.
    Metre,
    /// Each driver.
    Driver,
    /// Each cupboard with drivers in it.
    Cupboard,
    /// Each loop.
    Loop,
    /// Each mains circuit.
    Circuit,
    /// Each device on the control bus, gear or control device.
    Device,
}

impl Per {
    /// All, in listing order.
    pub const ALL: [Per; 11] = [
        Per::Run,
        Per::Section,
        Per::Feed,
        Per::Joint,
        Per::Bend,
        Per::Metre,
        Per::Driver,
        Per::Cupboard,
        Per::Loop,
        Per::Circuit,
        Per::Device,
    ];

    /// The word used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Per::Run => "run",
            Per::Section => "section",
            Per::Feed => "feed",
            Per::Joint => "joint",
            Per::Bend => "bend",
            Per::Metre => "metre",
            Per::Driver => "driver",
            Per::Cupboard => "cupboard",
            Per::Loop => "loop",
            Per::Circuit => "circuit",
            Per::Device => "device",
        }
    }
}

/// The wire of a tail: what joins the strip to its feed cable.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tail {
    /// Size of each conductor.
    pub size: ConductorSize,
    /// Length; `None` when the catalogue does not say.
    pub length: Option<Length>,
}

/// A connector, end cap, tail, label, breaker, enclosure: counted by a rule.
#[derive(Debug, Clone, PartialEq)]
pub struct Accessory {
    /// Id, price, delivery.
    pub offer: Offer,
    /// What it is counted by.
    pub per: Per,
    /// How many for each.
    pub quantity: usize,
    /// Most current through it, for connectors at feeds.
    pub most_current: Option<Current>,
    /// Counted only on runs in wet places (`Some(true)`), only on dry ones, or on all.
    pub wet: Option<bool>,
    /// Counted only for strips of this many channels.
    pub channels: Option<usize>,
    /// Its wire, when it is a tail whose wire is known.
    pub tail: Option<Tail>,
}

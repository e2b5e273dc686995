//! Profiles and accessories: what is counted rather than sized.

use super::offer::{Offer, StockLength};
use super::run::Run;
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
    /// Whether the catalogue says how wide a saw cut is; the usual width when not.
    pub kerf_known: bool,
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
    /// Each end of a section that no feed is at.
    End,
    /// Each feed.
    Feed,
    /// Each joint in a section.
    Joint,
    /// Each bend of a run.
    Bend,
    /// Each metre of strip, rounded up per job.
    Metre,
    /// Each end of a run's profile.
    ProfileEnd,
    /// Each joint between bars of a run's profile.
    ProfileJoint,
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
    pub const ALL: [Per; 14] = [
        Per::Run,
        Per::Section,
        Per::End,
        Per::Feed,
        Per::Joint,
        Per::Bend,
        Per::Metre,
        Per::ProfileEnd,
        Per::ProfileJoint,
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
            Per::End => "end",
            Per::Feed => "feed",
            Per::Joint => "joint",
            Per::Bend => "bend",
            Per::Metre => "metre",
            Per::ProfileEnd => "profile end",
            Per::ProfileJoint => "profile joint",
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

/// The catalogue items that an accessory goes with, by id: it is counted for these alone. Nothing of a
/// kind: for all.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct GoesWith {
    /// Strips and profiles, of which a run must have one.
    pub runs: Vec<String>,
    /// Drivers, control devices, controllers and bus supplies, of which what is counted must be one.
    pub units: Vec<String>,
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
    /// The items that it goes with.
    pub goes_with: GoesWith,
    /// Its wire, when it is a tail whose wire is known.
    pub tail: Option<Tail>,
}

impl Accessory {
    /// Whether it is for a run such as this: in a wet place or a dry one, of so many channels, of a
    /// strip or in a profile that it goes with.
    #[must_use]
    pub fn suits(&self, run: &Run) -> bool {
        let channels = run.strip.channels.count();
        let with = &self.goes_with.runs;
        let profile = run.profile.as_ref().map(|profile| &profile.offer.id);
        let named = |id: &String| with.contains(id);
        self.wet.is_none_or(|wet| wet == run.wet)
            && self.channels.is_none_or(|count| count == channels)
            && (with.is_empty() || named(&run.strip.offer.id) || profile.is_some_and(named))
    }

    /// Whether it is for a driver, control device, controller or bus supply of that id.
    #[must_use]
    pub fn suits_unit(&self, id: &str) -> bool {
        let with = &self.goes_with.units;
        with.is_empty() || with.iter().any(|one| one == id)
    }
}

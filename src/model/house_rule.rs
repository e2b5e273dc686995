//! Rules of the house: what they can measure, on what, and what they loosen.

use super::Choice;
use super::project::Severity;
use super::run::Run;
use crate::diagnostic::Place;
use crate::norms::limit::Bound;
use crate::quantity::figure::Unit;

/// What a house rule can measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Voltage lost to the furthest segment of a run, in percent of nominal.
    FeedDrop,
    /// Light lost at the darkest segment of a run, in percent of nominal.
    LightDrop,
    /// Darkest over brightest segment of a run, in percent.
    LightEvenness,
    /// Colour shift of a run, in steps.
    ColourShift,
    /// Most current into a run at one feed, in A.
    FeedCurrent,
    /// Feeds of a run.
    Feeds,
    /// Load of a driver, in percent of its rating.
    DriverLoad,
    /// Gear on a loop.
    GearCount,
    /// Control devices on a loop.
    ControlDeviceCount,
    /// Current of a loop, in mA.
    LoopCurrent,
    /// Worst voltage drop on a loop with all members drawing, in V.
    BusDrop,
    /// Load of a circuit, in percent of its breaker's rating.
    CircuitLoad,
    /// Voltage lost to the furthest cupboard of a circuit, upstream drop included, in percent.
    CircuitDrop,
    /// Sum of the protective conductor currents of a circuit, in mA.
    Leakage,
    /// Drivers on a circuit.
    Drivers,
}

/// What a measure is taken of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeasuredOf {
    /// A run.
    Run,
    /// A driver.
    Driver,
    /// A control loop.
    Loop,
    /// A mains circuit.
    Circuit,
}

impl MeasuredOf {
    /// All, in listing order.
    pub const ALL: [MeasuredOf; 4] = [
        MeasuredOf::Run,
        MeasuredOf::Driver,
        MeasuredOf::Loop,
        MeasuredOf::Circuit,
    ];

    /// The word used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            MeasuredOf::Run => "run",
            MeasuredOf::Driver => "driver",
            MeasuredOf::Loop => "loop",
            MeasuredOf::Circuit => "circuit",
        }
    }

    /// The keys of `only` by which these can be picked.
    #[must_use]
    pub fn picked_by(self) -> &'static [&'static str] {
        match self {
            MeasuredOf::Run => &["room", "group", "cupboard", "strip"],
            MeasuredOf::Driver => &["room", "group", "cupboard"],
            MeasuredOf::Loop => &["room"],
            MeasuredOf::Circuit => &["cupboard"],
        }
    }
}

impl Measure {
    /// All measures, in listing order.
    pub const ALL: [Measure; 15] = [
        Measure::FeedDrop,
        Measure::LightDrop,
        Measure::LightEvenness,
        Measure::ColourShift,
        Measure::FeedCurrent,
        Measure::Feeds,
        Measure::DriverLoad,
        Measure::GearCount,
        Measure::ControlDeviceCount,
        Measure::LoopCurrent,
        Measure::BusDrop,
        Measure::CircuitLoad,
        Measure::CircuitDrop,
        Measure::Leakage,
        Measure::Drivers,
    ];

    /// The word used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Measure::FeedDrop => "feed_drop",
            Measure::LightDrop => "light_drop",
            Measure::LightEvenness => "light_evenness",
            Measure::ColourShift => "colour_shift",
            Measure::FeedCurrent => "feed_current",
            Measure::Feeds => "feeds",
            Measure::DriverLoad => "driver_load",
            Measure::GearCount => "gear",
            Measure::ControlDeviceCount => "control_devices",
            Measure::LoopCurrent => "current",
            Measure::BusDrop => "bus_drop",
            Measure::CircuitLoad => "load",
            Measure::CircuitDrop => "circuit_drop",
            Measure::Leakage => "leakage",
            Measure::Drivers => "drivers",
        }
    }

    /// What it is taken of.
    #[must_use]
    pub fn of(self) -> MeasuredOf {
        match self {
            Measure::FeedDrop
            | Measure::LightDrop
            | Measure::LightEvenness
            | Measure::ColourShift
            | Measure::FeedCurrent
            | Measure::Feeds => MeasuredOf::Run,
            Measure::DriverLoad => MeasuredOf::Driver,
            Measure::GearCount
            | Measure::ControlDeviceCount
            | Measure::LoopCurrent
            | Measure::BusDrop => MeasuredOf::Loop,
            Measure::CircuitLoad | Measure::CircuitDrop | Measure::Leakage | Measure::Drivers => {
                MeasuredOf::Circuit
            }
        }
    }

    /// The unit of its bound.
    #[must_use]
    pub fn unit(self) -> Unit {
        match self {
            Measure::FeedDrop
            | Measure::LightDrop
            | Measure::LightEvenness
            | Measure::DriverLoad
            | Measure::CircuitLoad
            | Measure::CircuitDrop => Unit::Percent,
            Measure::ColourShift => Unit::Steps,
            Measure::FeedCurrent => Unit::Ampere,
            Measure::BusDrop => Unit::Volt,
            Measure::LoopCurrent => Unit::Milliampere,
            Measure::Leakage => Unit::LeakageMilliampere,
            Measure::Feeds
            | Measure::GearCount
            | Measure::ControlDeviceCount
            | Measure::Drivers => Unit::Count,
        }
    }

    /// What it measures, in words.
    #[must_use]
    pub fn meaning(self) -> &'static str {
        match self {
            Measure::FeedDrop => "voltage lost from the driver to the furthest light, of nominal",
            Measure::LightDrop => "light lost at the darkest place, of nominal light",
            Measure::LightEvenness => "darkest over brightest place",
            Measure::ColourShift => "largest colour shift between two places",
            Measure::FeedCurrent => "most current into the strip at one feed",
            Measure::Feeds => "number of feeds",
            Measure::DriverLoad => "load, of the rating at the cupboard’s ambient",
            Measure::GearCount => "addresses of gear",
            Measure::ControlDeviceCount => "addresses of control devices",
            Measure::LoopCurrent => "current of all members",
            Measure::BusDrop => "worst voltage drop with all members drawing",
            Measure::CircuitLoad => "load, of the breaker’s rating",
            Measure::CircuitDrop => "voltage lost to the furthest cupboard, upstream drop included",
            Measure::Leakage => "sum of the protective conductor currents",
            Measure::Drivers => "number of drivers",
        }
    }

    /// The id of the rule whose published limit it can loosen.
    #[must_use]
    pub fn loosens(self) -> Option<&'static str> {
        match self {
            Measure::FeedDrop => Some("feed-voltage-drop"),
            Measure::CircuitDrop => Some("circuit-drop"),
            _ => None,
        }
    }
}

/// Which of the things that a measure is taken of a house rule is about: all that fit every name
/// given.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Only {
    /// In this room.
    pub room: Option<String>,
    /// Of this group.
    pub group: Option<String>,
    /// In this cupboard.
    pub cupboard: Option<String>,
    /// Of this strip.
    pub strip: Option<String>,
}

impl Only {
    /// Whether it is about everything.
    #[must_use]
    pub fn is_all(&self) -> bool {
        *self == Only::default()
    }

    /// Whether it is about a run; its cupboard counts when it is not yet chosen.
    #[must_use]
    pub fn takes(&self, run: &Run) -> bool {
        let cupboard = match &run.cupboard {
            Choice::Given(point) => fits(&self.cupboard, &point.name),
            Choice::Auto => true,
        };
        cupboard
            && fits(&self.room, &run.room.name)
            && fits(&self.group, &run.group.name)
            && fits(&self.strip, &run.strip.offer.id)
    }
}

/// Whether a name is the one asked for, or none is.
#[must_use]
pub fn fits(asked: &Option<String>, name: &str) -> bool {
    asked.as_deref().is_none_or(|asked| asked == name)
}

/// A rule of the house, from the project file.
#[derive(Debug, Clone, PartialEq)]
pub struct HouseRule {
    /// Its id.
    pub id: String,
    /// What it measures; this also says of what.
    pub measure: Measure,
    /// Which side of `value` is allowed.
    pub bound: Bound,
    /// The bound, in the measure's unit.
    pub value: f64,
    /// Which of them it is about.
    pub only: Only,
    /// How bad breaking it is.
    pub severity: Severity,
    /// Why it is there.
    pub because: Option<String>,
    /// The published rule whose limit it loosens.
    pub loosens: Option<&'static str>,
    /// Where it stands in the project file.
    pub place: Place,
}

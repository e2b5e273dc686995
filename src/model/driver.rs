//! Mains-fed drivers with a dimmable extra-low-voltage output.

use super::bus::BusMarking;
use super::offer::Offer;
use super::project::Breaker;
use super::protection::ResidualType;
use crate::quantity::conductor::ConductorSize;
use crate::quantity::{Current, Frequency, Length, Power, Ratio, Temperature, Voltage};

/// What a two-channel driver can have on at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mixing {
    /// Warm share + cool share = 1; pulses that overlap still draw both.
    Shared,
    /// Warm share + cool share = 1, and pulses never overlap.
    Interleaved,
    /// Both channels may be full on together.
    BothFull,
}

impl Mixing {
    /// The words used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Mixing::Shared => "shared",
            Mixing::Interleaved => "interleaved",
            Mixing::BothFull => "both full",
        }
    }
}

/// A driver's output side.
#[derive(Debug, Clone, PartialEq)]
pub struct DriverOutput {
    /// Output voltage.
    pub voltage: Voltage,
    /// Rated power of all channels together.
    pub power: Power,
    /// Channels.
    pub channels: usize,
    /// Most current of each channel.
    pub current_per_channel: Option<Current>,
    /// What may be on at once (two channels and more); `None` when the sheet does not say.
    pub mixing: Option<Mixing>,
    /// Whether its plus may be joined with that of another unit, so that two units feed one strip
    /// with a common plus; `None` when the sheet does not say.
    pub joins_plus: Option<bool>,
}

/// What a driver's bus side can control.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GearType {
    /// One level (IEC 62386-207).
    Single,
    /// Level and colour temperature under one address (IEC 62386-209).
    ColourTemperature,
}

/// How an emergency part of a driver is tested over the bus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct EmergencyPart {
    /// Short addresses it takes, of those that the driver takes in all.
    pub addresses: usize,
    /// Whether function and duration tests can be started and read over the bus.
    pub tested: Option<bool>,
}

/// A driver's control bus side.
#[derive(Debug, Clone, PartialEq)]
pub struct DriverBus {
    /// Short addresses it takes.
    pub addresses: usize,
    /// Current it draws from the bus; `None` when the sheet does not say (2 mA is then counted).
    pub current: Option<Current>,
    /// What it controls.
    pub gear: GearType,
    /// What its sheet says of its bus side.
    pub marking: BusMarking,
    /// Its emergency part (IEC 62386-202), if it has one.
    pub emergency: Option<EmergencyPart>,
}

/// What a driver asks of its supply; each empty when the sheet does not say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct MainsNeeds {
    /// The residual current device it asks for.
    pub residual_type: Option<ResidualType>,
    /// Most of this driver, by inrush, on breakers other than B16.
    pub most_on: Vec<(Breaker, usize)>,
}

/// A driver's mains side; each figure `None` when the sheet does not say.
#[derive(Debug, Clone, PartialEq)]
pub struct DriverMains {
    /// Least and most mains voltage it works at.
    pub voltage: Option<(Voltage, Voltage)>,
    /// Input current at full load and nominal voltage.
    pub current: Option<Current>,
    /// Most of this driver on a B16 breaker, by inrush.
    pub most_per_b16: Option<usize>,
    /// Protective conductor current.
    pub earth_leakage: Option<Current>,
    /// Power factor at full load.
    pub power_factor: Option<Ratio>,
    /// Output power over input power at full load.
    pub efficiency: Option<Ratio>,
    /// What it asks of the supply.
    pub needs: MainsNeeds,
}

/// A safety class which a driver is marked with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SafetyClass {
    /// Safety extra-low voltage output.
    Selv,
    /// Class 2 output (NEC Article 725), each output by itself.
    Class2,
    /// Protective class II (double insulated), no earth.
    ProtectiveClassTwo,
}

/// A driver as its catalogue describes it.
#[derive(Debug, Clone, PartialEq)]
pub struct Driver {
    /// Id, price, delivery.
    pub offer: Offer,
    /// Output side.
    pub output: DriverOutput,
    /// Bus side; `None` for a driver that is switched only.
    pub bus: Option<DriverBus>,
    /// Mains side.
    pub mains: DriverMains,
    /// Largest conductor its output terminals take.
    pub largest_terminal: Option<ConductorSize>,
    /// Highest ambient temperature at full output.
    pub most_ambient: Option<Temperature>,
    /// Share of rated power available at ambients above that, rising; empty: none above.
    pub derating: Vec<(Temperature, Ratio)>,
    /// Least load it needs, as a share of its rating.
    pub least_load: Option<Ratio>,
    /// Lowest light level it holds steadily.
    pub least_level: Option<Ratio>,
    /// The classes it is marked with; `None` when the sheet does not say.
    pub safety: Option<Vec<SafetyClass>>,
    /// Length, width, height.
    pub size: Option<[Length; 3]>,
    /// What only some datasheets say.
    pub detail: DriverDetail,
}

/// What only some drivers' datasheets say; `None` where one does not.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct DriverDetail {
    /// The conductor that its channels have in common; the other one is switched.
    pub common: Option<Polarity>,
    /// Most that its output is off its nominal voltage at any load, none included.
    pub tolerance: Option<Ratio>,
    /// Rated power of each channel.
    pub power_per_channel: Option<Power>,
    /// Longest cable to a feed.
    pub longest_feed: Option<Length>,
    /// How its light is modulated.
    pub flicker: Flicker,
}

/// A pole of a d.c. output.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Polarity {
    /// Plus.
    Plus,
    /// Minus.
    Minus,
}

impl Polarity {
    /// The word used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Polarity::Plus => "plus",
            Polarity::Minus => "minus",
        }
    }
}

/// How a driver's light is modulated; each `None` when its sheet does not say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Flicker {
    /// Short-term flicker of light, Pst LM, at full load.
    pub pst_lm: Option<f64>,
    /// Stroboscopic visibility, SVM, at full load.
    pub svm: Option<f64>,
    /// Frequency of the modulation when dimmed.
    pub frequency: Option<Frequency>,
    /// Depth of the modulation when dimmed: (most − least) / (most + least).
    pub depth: Option<Ratio>,
}

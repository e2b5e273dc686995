//! LED strip.

use super::offer::{Offer, StockLength};
use crate::quantity::{
    Current, FluxPerLength, Length, PowerPerLength, Ratio, ResistancePerLength, Temperature,
    Voltage,
};

/// How current follows voltage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LightSource {
    /// LEDs in series with a resistor: i = (v − v₀)/Rs.
    Resistor,
    /// A constant-current circuit in each segment: i = iₙ from `regulated_from` up.
    Regulated,
    /// A converter in each segment: i = p/v.
    Converter,
}

impl LightSource {
    /// The word used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            LightSource::Resistor => "resistor",
            LightSource::Regulated => "regulated",
            LightSource::Converter => "converter",
        }
    }
}

/// One channel of a strip, at nominal voltage.
#[derive(Debug, Clone, PartialEq)]
pub struct Channel {
    /// Power per length with this channel alone, full on.
    pub power: PowerPerLength,
    /// Light per length.
    pub flux: Option<FluxPerLength>,
    /// Correlated colour temperature.
    pub white: Option<Temperature>,
    /// Voltage at which this channel's light starts (the LED string's own voltage), v₀.
    pub light_starts_at: Option<Voltage>,
    /// Voltage from which a regulated channel holds its current, v_d.
    pub regulated_from: Option<Voltage>,
}

/// The channels of a strip.
#[derive(Debug, Clone, PartialEq)]
pub enum Channels {
    /// One white.
    SingleColour(Channel),
    /// A warm and a cool white on one common plus rail.
    TunableWhite {
        /// The warm channel.
        warm: Channel,
        /// The cool channel.
        cool: Channel,
    },
}

impl Channels {
    /// The channels in order: warm before cool.
    #[must_use]
    pub fn list(&self) -> Vec<&Channel> {
        match self {
            Channels::SingleColour(channel) => vec![channel],
            Channels::TunableWhite { warm, cool } => vec![warm, cool],
        }
    }

    /// The channels' names in order: `white`, or `warm` and `cool`.
    #[must_use]
    pub fn names(&self) -> &'static [&'static str] {
        match self {
            Channels::SingleColour(_) => &["white"],
            Channels::TunableWhite { .. } => &["warm", "cool"],
        }
    }

    /// How many channels.
    #[must_use]
    pub fn count(&self) -> usize {
        self.names().len()
    }
}

/// What the catalogue says of the rails' resistance. `solve::rails` turns it into Ω/m.
#[derive(Debug, Clone, PartialEq)]
pub enum RailsKnown {
    /// The resistances themselves, at working temperature.
    Resistance {
        /// The common plus rail.
        common: ResistancePerLength,
        /// Each channel's return rail, in channel order.
        returns: Vec<ResistancePerLength>,
    },
    /// Copper thickness and track widths.
    Copper {
        /// Copper thickness.
        thickness: Length,
        /// Width of the plus track.
        common_width: Length,
        /// Width of each return track.
        return_width: Length,
    },
    /// The maker's longest run at a stated drop.
    LongestRun {
        /// That length.
        length: Length,
        /// The arrangement it is stated for.
        feed: RatedFeed,
        /// The light drop at that length (1 − darkest/nominal).
        drop: Ratio,
    },
    /// A bench reading: one end fed, all channels on, voltage at both ends and the current.
    Bench {
        /// Length on the bench.
        length: Length,
        /// Voltage at the fed end.
        volts_in: Voltage,
        /// Voltage at the far end.
        volts_out: Voltage,
        /// Current into the strip.
        current: Current,
    },
    /// Nothing is known: sizing assumes the poorest common value and says so.
    Unknown,
}

/// How a maker's longest run is fed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RatedFeed {
    /// At one end.
    OneEnd,
    /// At both ends.
    BothEnds,
    /// In the middle.
    Middle,
}

/// An LED strip as its catalogue describes it.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// Id, price, delivery.
    pub offer: Offer,
    /// Nominal voltage.
    pub voltage: Voltage,
    /// Its whites.
    pub channels: Channels,
    /// Length of a cut segment.
    pub cut: Length,
    /// How current follows voltage.
    pub light_source: LightSource,
    /// What is known of the rails.
    pub rails: RailsKnown,
    /// The reels it is sold in.
    pub reels: Vec<StockLength>,
    /// Ingress protection, as (solids, water) numerals of IEC 60529.
    pub ingress: Option<(u8, u8)>,
    /// Most current that may enter at one feed (copper and pads).
    pub most_feed_current: Option<Current>,
    /// Least voltage at the furthest segment at which it works as specified.
    pub least_voltage: Option<Voltage>,
    /// Whether pieces may be joined to make a section.
    pub joints: bool,
    /// What only some datasheets say.
    pub detail: StripDetail,
}

/// What only some strips' datasheets say; `None` where one does not.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct StripDetail {
    /// Longest section fed at one end.
    pub longest_section: Option<Length>,
    /// Most voltage it stands, no load on its driver included.
    pub most_voltage: Option<Voltage>,
    /// Coolest ambient at the strip.
    pub least_ambient: Option<Temperature>,
    /// Hottest ambient at the strip.
    pub most_ambient: Option<Temperature>,
    /// How it may be bent.
    pub bend: Option<BendAllowed>,
    /// Distance from one LED to the next.
    pub led_pitch: Option<Length>,
    /// Most colour difference between two reels of one delivery, in steps.
    pub bin: Option<f64>,
}

/// Which way strip is bent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BendWay {
    /// Out of its plane, as tape goes round a drum.
    Face,
    /// In its plane, across its width.
    Side,
}

impl BendWay {
    /// The word used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            BendWay::Face => "face",
            BendWay::Side => "side",
        }
    }
}

/// How a strip may be bent: one way, no tighter than a radius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BendAllowed {
    /// The way.
    pub way: BendWay,
    /// The least radius.
    pub radius: Length,
}

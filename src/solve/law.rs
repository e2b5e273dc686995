//! How the current of one segment's string follows the voltage across it, in volts and amperes.

use super::strip::{LadderChannel, StringLaw};
use crate::quantity::{Length, Ratio, Voltage};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::ratio::ratio;

/// Light that a resistor segment loses with a share of its volts, where light starts at a share of
/// nominal: v / (1 − v₀/Vₙ), at most all. Follows from i = (v − v₀)/R.
#[must_use]
pub fn light_lost(volts: Ratio, starts: Ratio) -> Ratio {
    let whole = Ratio::new::<ratio>(1.0);
    (volts / (whole - starts)).min(whole)
}

/// One string's law with its constants worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Law {
    /// Not lit: draws nothing.
    Off,
    /// i = max(0, (v − v₀)·g).
    Resistor { starts: f64, slope: f64 },
    /// `held` from `from` up, falling straight to 0 at `starts`.
    Regulated {
        starts: f64,
        from: f64,
        held: f64,
        slope: f64,
    },
    /// i = p/v.
    Converter { watts: f64 },
}

impl Law {
    /// The law of one segment's string of `channel`.
    pub(super) fn of(channel: &LadderChannel, nominal: Voltage, segment: Length) -> Law {
        let rated = rated_amperes(channel, nominal, segment);
        match channel.law {
            StringLaw::Resistor { starts_at } => Law::Resistor {
                starts: starts_at.get::<volt>(),
                slope: rated / (nominal - starts_at).get::<volt>(),
            },
            StringLaw::Regulated {
                starts_at,
                regulated_from,
            } => Law::Regulated {
                starts: starts_at.get::<volt>(),
                from: regulated_from.get::<volt>(),
                held: rated,
                slope: rated / (regulated_from - starts_at).get::<volt>(),
            },
            StringLaw::Converter => Law::Converter {
                watts: rated * nominal.get::<volt>(),
            },
        }
    }

    /// Current in amperes and its slope in siemens at `volts` across the string.
    pub(super) fn at(self, volts: f64) -> (f64, f64) {
        match self {
            Law::Off => (0.0, 0.0),
            Law::Resistor { starts, slope } if volts > starts => ((volts - starts) * slope, slope),
            Law::Regulated { from, held, .. } if volts >= from => (held, 0.0),
            Law::Regulated { starts, slope, .. } if volts > starts => {
                ((volts - starts) * slope, slope)
            }
            Law::Resistor { .. } | Law::Regulated { .. } => (0.0, 0.0),
            Law::Converter { watts } => {
                let current = watts / volts;
                (current, -current / volts)
            }
        }
    }

    /// Whether current falls as voltage rises, so that there may be no working point.
    pub(super) fn is_converter(self) -> bool {
        matches!(self, Law::Converter { .. })
    }

    /// The error in current that rounding in a voltage of the size of `supply` leaves.
    pub(super) fn rounding(self, supply: f64) -> f64 {
        match self {
            Law::Off | Law::Converter { .. } => 0.0,
            Law::Resistor { slope, .. } => ROUNDING * slope * supply,
            Law::Regulated { held, slope, .. } => ROUNDING * (held + slope * supply),
        }
    }
}

/// Relative error that a solved voltage may carry from rounding alone.
const ROUNDING: f64 = 1e-13;

/// Current of one segment's string at nominal voltage, in amperes.
pub(super) fn rated_amperes(channel: &LadderChannel, nominal: Voltage, segment: Length) -> f64 {
    let current: crate::quantity::Current = channel.power * segment / nominal;
    current.get::<ampere>()
}

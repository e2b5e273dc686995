//! Copper: resistivity, and how resistance grows with temperature (IEC 60028, IEC 60228).

use crate::quantity::Temperature;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Resistivity of annealed copper at 20 °C, Ω·mm²/m. IEC 60028 (1/58).
pub const RESISTIVITY_20: f64 = 0.017_241;

/// Resistivity in normal service that IEC 60364-5-52 Annex G calculates voltage drop with,
/// Ω·mm²/m: 1.25 times that at 20 °C.
pub const RESISTIVITY_IN_SERVICE: f64 = 0.0225;

/// Share by which resistance grows per kelvin, of that at 20 °C. IEC 60028, IEC 60287-1-1 Table 1.
pub const PER_KELVIN_FROM_20: f64 = 0.003_93;

/// Share by which resistance grows per kelvin, of that at 75 °C. NEC Chapter 9 Table 8 note 2
/// (from memory).
pub const PER_KELVIN_FROM_75: f64 = 0.003_23;

/// Resistance at a temperature over that at 20 °C.
#[must_use]
pub fn over_20(temperature: Temperature) -> f64 {
    1.0 + PER_KELVIN_FROM_20 * (temperature.get::<degree_celsius>() - 20.0)
}

/// Resistance at a temperature over that at 75 °C.
#[must_use]
pub fn over_75(temperature: Temperature) -> f64 {
    1.0 + PER_KELVIN_FROM_75 * (temperature.get::<degree_celsius>() - 75.0)
}

/// What a resistance measured at a temperature is multiplied by to have it at 20 °C. IEC 60228
/// Annex: its table follows 250/(230 + t), which is not quite the coefficient used for
/// calculation.
#[must_use]
pub fn measured_to_20(temperature: Temperature) -> f64 {
    250.0 / (230.0 + temperature.get::<degree_celsius>())
}

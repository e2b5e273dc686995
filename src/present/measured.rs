//! Physical quantities as plain numbers in the unit in which results are written.

use crate::quantity::{
    Area, Current, Length, Power, PowerPerLength, Ratio, Resistance, Temperature, Time, Voltage,
};
use uom::si::{
    area, electric_current, electric_potential, electrical_resistance, length,
    linear_power_density, power, ratio, thermodynamic_temperature, time,
};

/// In m.
#[must_use]
pub fn metres(value: Length) -> f64 {
    value.get::<length::meter>()
}

/// In mm.
#[must_use]
pub fn millimetres(value: Length) -> f64 {
    value.get::<length::millimeter>()
}

/// In mm².
#[must_use]
pub fn square_millimetres(value: Area) -> f64 {
    value.get::<area::square_millimeter>()
}

/// In V.
#[must_use]
pub fn volts(value: Voltage) -> f64 {
    value.get::<electric_potential::volt>()
}

/// In A.
#[must_use]
pub fn amperes(value: Current) -> f64 {
    value.get::<electric_current::ampere>()
}

/// In Ω.
#[must_use]
pub fn ohms(value: Resistance) -> f64 {
    value.get::<electrical_resistance::ohm>()
}

/// In mA.
#[must_use]
pub fn milliamperes(value: Current) -> f64 {
    value.get::<electric_current::milliampere>()
}

/// In W.
#[must_use]
pub fn watts(value: Power) -> f64 {
    value.get::<power::watt>()
}

/// In W/m.
#[must_use]
pub fn watts_per_metre(value: PowerPerLength) -> f64 {
    value.get::<linear_power_density::watt_per_meter>()
}

/// In %.
#[must_use]
pub fn percent(value: Ratio) -> f64 {
    value.get::<ratio::percent>()
}

/// In K.
#[must_use]
pub fn kelvin(value: Temperature) -> f64 {
    value.get::<thermodynamic_temperature::kelvin>()
}

/// In °C.
#[must_use]
pub fn celsius(value: Temperature) -> f64 {
    value.get::<thermodynamic_temperature::degree_celsius>()
}

/// In minutes.
#[must_use]
pub fn minutes(value: Time) -> f64 {
    value.get::<time::minute>()
}

/// In seconds.
#[must_use]
pub fn seconds(value: Time) -> f64 {
    value.get::<time::second>()
}

/// The number that files for programs carry: ten significant digits, and nothing smaller than
/// 10⁻⁹ of its unit, so that the last bits, in which machines differ, are not printed; `None` when
/// it is not a finite number.
#[must_use]
pub fn written(value: f64) -> Option<f64> {
    if !value.is_finite() {
        return None;
    }
    let rounded: f64 = format!("{value:.9e}").parse().ok()?;
    // −0 is written as 0.
    Some(if rounded.abs() < 1e-9 { 0.0 } else { rounded })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_in_the_last_bits_is_not_written() {
        assert_eq!(written(0.1 + 0.2), Some(0.3));
        assert_eq!(written(22.700000000000003), Some(22.7));
        assert_eq!(written(5.046e-14), Some(0.0));
        assert_eq!(written(-0.0).map(f64::is_sign_negative), Some(false));
    }

    #[test]
    fn what_is_not_a_number_is_not_written_as_one() {
        assert_eq!(written(f64::NAN), None);
        assert_eq!(written(f64::INFINITY), None);
    }
}

//! Levels, light and colour temperature as the control bus carries them: the standard dimming
//! curves of IEC 62386-102, fade times, mirek.

use crate::quantity::{Ratio, Temperature, Time};
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::kelvin;
use uom::si::time::second;

/// The highest level. 255 is no level but a mask.
pub const HIGHEST: u8 = 254;

/// Light at a level on the logarithmic curve: 10^((n − 1)·3/253 − 1) %, none at level 0; `None` for
/// the mask. IEC 62386-102.
#[must_use]
pub fn light(level: u8) -> Option<Ratio> {
    match level {
        0 => Some(Ratio::default()),
        1..=HIGHEST => {
            let exponent = (f64::from(level) - 1.0) * 3.0 / 253.0 - 1.0;
            Some(Ratio::new::<percent>(10_f64.powf(exponent)))
        }
        _ => None,
    }
}

/// Light at a level on the linear curve: n/254; `None` for the mask. IEC 62386-102.
#[must_use]
pub fn light_linear(level: u8) -> Option<Ratio> {
    (level <= HIGHEST).then(|| Ratio::new::<percent>(f64::from(level) / 254.0 * 100.0))
}

/// The level nearest to a light on the logarithmic curve: 1 + (253/3)·(log₁₀(%) + 1), halves up, 1
/// to 254; 0 for no light. `None` for what is no light: negative, above 100 % or not a number.
/// IEC 62386-102.
#[must_use]
pub fn level(light: Ratio) -> Option<u8> {
    let wanted = light.get::<percent>();
    if !(0.0..=100.0 * (1.0 + 1e-9)).contains(&wanted) {
        return None;
    }
    if wanted <= 0.0 {
        return Some(0);
    }
    let exact = 1.0 + 253.0 / 3.0 * (wanted.log10() + 1.0);
    num_traits::ToPrimitive::to_u8(&round(exact).clamp(1.0, f64::from(HIGHEST)))
}

/// To the nearest whole number, halves up.
fn round(value: f64) -> f64 {
    (value + 0.5).floor()
}

/// Light of a level over that of the level below: 10^(3/253).
#[must_use]
pub fn step_ratio() -> f64 {
    10_f64.powf(3.0 / 253.0)
}

/// A colour temperature in mirek: 10⁶/K, rounded, halves up. `None` when it is not above 0 K or not
/// within 1 to 65 534 mirek (IEC 62386-209).
#[must_use]
pub fn mirek(temperature: Temperature) -> Option<u32> {
    let (least, most) = crate::norms::iec_62386::MIREK;
    let value = num_traits::ToPrimitive::to_u32(&round(1e6 / temperature.get::<kelvin>()))?;
    (least..=most).contains(&value).then_some(value)
}

/// The colour temperature of a mirek value, rounded to whole kelvin, halves up; `None` for 0.
#[must_use]
pub fn of_mirek(mirek: u32) -> Option<Temperature> {
    (mirek > 0).then(|| Temperature::new::<kelvin>(round(1e6 / f64::from(mirek))))
}

/// Seconds of fade time codes 1 to 15. IEC 62386-102 Table 4: 0.5·√(2ⁿ), rounded.
const FADES: [f64; 15] = [
    0.7, 1.0, 1.4, 2.0, 2.8, 4.0, 5.7, 8.0, 11.3, 16.0, 22.6, 32.0, 45.3, 64.0, 90.5,
];

/// The fade time of a code; `None` for code 0 (no fade, or the extended fade time) and above 15.
/// IEC 62386-102 Table 4.
#[must_use]
pub fn fade(code: u8) -> Option<Time> {
    let place = usize::from(code).checked_sub(1)?;
    FADES
        .get(place)
        .map(|seconds| Time::new::<second>(*seconds))
}

/// The code whose fade time is nearest to the one asked for, in ratio; 0 for anything under 0.7 s,
/// which fades do not reach.
#[must_use]
pub fn fade_code(wanted: Time) -> u8 {
    let seconds = wanted.get::<second>();
    if seconds.is_nan() || seconds < 0.7 {
        return 0;
    }
    let code = round(2.0 * (seconds / 0.5).log2()).clamp(1.0, 15.0);
    num_traits::ToPrimitive::to_u8(&code).unwrap_or(15)
}

/// Multipliers of the extended fade time, in seconds. IEC 62386-102 Table 7.
const MULTIPLIERS: [f64; 4] = [0.1, 1.0, 10.0, 60.0];

/// The longest extended fade time: base 16 by the largest multiplier. IEC 62386-102 Tables 6 and 7.
#[must_use]
pub fn longest_fade() -> Time {
    let [.., largest] = MULTIPLIERS;
    Time::new::<second>(16.0 * largest)
}

/// Levels per second of a fade rate code, 1 to 15: 506/√(2ˣ). IEC 62386-102.
#[must_use]
pub fn fade_rate(code: u8) -> Option<f64> {
    (1..=15)
        .contains(&code)
        .then(|| 506.0 / 2_f64.powf(f64::from(code) / 2.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_mirek_is_no_temperature() {
        assert_eq!(of_mirek(0), None);
        assert_eq!(of_mirek(1), Some(Temperature::new::<kelvin>(1e6)));
    }
}

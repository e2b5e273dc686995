//! NEC: what a copper conductor may carry by AWG, and what corrects it.

use crate::quantity::{Current, Temperature};
use uom::si::electric_current::ampere;
use uom::si::thermodynamic_temperature::degree_celsius;

/// The temperature column of a conductor's insulation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Column {
    /// 60 °C.
    Sixty,
    /// 75 °C.
    SeventyFive,
    /// 90 °C.
    Ninety,
}

/// One gauge: AWG, then amperes in the 60, 75 and 90 °C columns at 30 °C ambient.
struct Gauge(i32, Option<f64>, Option<f64>, f64);

/// Table 310.16, copper. The 90 °C column of 14 AWG and up, and all of 6 AWG, from memory.
const GAUGES: [Gauge; 7] = [
    Gauge(18, None, None, 14.0),
    Gauge(16, None, None, 18.0),
    Gauge(14, Some(15.0), Some(20.0), 25.0),
    Gauge(12, Some(20.0), Some(25.0), 30.0),
    Gauge(10, Some(30.0), Some(35.0), 40.0),
    Gauge(8, Some(40.0), Some(50.0), 55.0),
    Gauge(6, Some(55.0), Some(65.0), 75.0),
];

/// Ampacity at 30 °C ambient, not more than three current-carrying conductors. `None` where the
/// table has no value: 18 and 16 AWG have none at 60 or 75 °C. NEC Table 310.16.
#[must_use]
pub fn ampacity(column: Column, gauge: i32) -> Option<Current> {
    let Gauge(_, sixty, seventy_five, ninety) = GAUGES.iter().find(|row| row.0 == gauge)?;
    let amperes = match column {
        Column::Sixty => (*sixty)?,
        Column::SeventyFive => (*seventy_five)?,
        Column::Ninety => *ninety,
    };
    Some(Current::new::<ampere>(amperes))
}

/// Largest overcurrent device on a small copper conductor, whatever its ampacity; `None` for 8 AWG
/// and up. 18 and 16 AWG only under further conditions. NEC 240.4(D).
#[must_use]
pub fn largest_device(gauge: i32) -> Option<Current> {
    let amperes = match gauge {
        18 => 7.0,
        16 => 10.0,
        14 => 15.0,
        12 => 20.0,
        10 => 30.0,
        _ => return None,
    };
    Some(Current::new::<ampere>(amperes))
}

/// Conductor and device carry at least this many times a continuous load (3 h or more). NEC
/// 210.19(A), 210.20(A).
pub const CONTINUOUS: f64 = 1.25;

/// One band of ambient: its top in °C, then the factor of each column.
struct Band(f64, Option<f64>, Option<f64>, f64);

/// Table 310.15(B)(1). Bands other than 31 to 45 °C from memory.
const BANDS: [Band; 13] = [
    Band(10.0, Some(1.29), Some(1.20), 1.15),
    Band(15.0, Some(1.22), Some(1.15), 1.12),
    Band(20.0, Some(1.15), Some(1.11), 1.08),
    Band(25.0, Some(1.08), Some(1.05), 1.04),
    Band(30.0, Some(1.00), Some(1.00), 1.00),
    Band(35.0, Some(0.91), Some(0.94), 0.96),
    Band(40.0, Some(0.82), Some(0.88), 0.91),
    Band(45.0, Some(0.71), Some(0.82), 0.87),
    Band(50.0, Some(0.58), Some(0.75), 0.82),
    Band(55.0, Some(0.41), Some(0.67), 0.76),
    Band(60.0, None, Some(0.58), 0.71),
    Band(65.0, None, Some(0.47), 0.65),
    Band(70.0, None, Some(0.33), 0.58),
];

/// Factor on ampacity for the ambient; `None` where the table has none for that column. NEC Table
/// 310.15(B)(1).
#[must_use]
pub fn ambient_factor(column: Column, ambient: Temperature) -> Option<f64> {
    let celsius = ambient.get::<degree_celsius>();
    let Band(_, sixty, seventy_five, ninety) =
        BANDS.iter().find(|band| celsius <= band.0 + ROUNDING)?;
    match column {
        Column::Sixty => *sixty,
        Column::SeventyFive => *seventy_five,
        Column::Ninety => Some(*ninety),
    }
}

/// A temperature that was written in whole degrees is not pushed past a band by kelvin arithmetic.
const ROUNDING: f64 = 1e-6;

/// Factor on ampacity for the number of current-carrying conductors in a raceway or cable. NEC
/// Table 310.15(C)(1); 21 and more from memory.
#[must_use]
pub fn adjustment(conductors: usize) -> f64 {
    match conductors {
        0..=3 => 1.0,
        4..=6 => 0.80,
        7..=9 => 0.70,
        10..=20 => 0.50,
        21..=30 => 0.45,
        31..=40 => 0.40,
        _ => 0.35,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NEC Table 310.15(C)(1), at both ends of each row; 21 and more from memory.
    #[test]
    fn conductors_that_lie_together_carry_less_by_the_table() {
        let rows = [
            (1, 3, 1.0),
            (4, 6, 0.80),
            (7, 9, 0.70),
            (10, 20, 0.50),
            (21, 30, 0.45),
            (31, 40, 0.40),
            (41, 400, 0.35),
        ];
        for (fewest, most, factor) in rows {
            assert_eq!(adjustment(fewest), factor, "{fewest} conductors");
            assert_eq!(adjustment(most), factor, "{most} conductors");
        }
    }
}

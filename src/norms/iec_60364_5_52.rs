//! IEC 60364-5-52: what a copper cable may carry, what corrects it, and how much voltage it may lose.

use crate::quantity::{Area, Current, Ratio, Temperature};
use uom::si::area::square_millimeter;
use uom::si::electric_current::ampere;
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::degree_celsius;

/// How a multi-core cable is laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// In conduit or trunking on a wall.
    B2,
    /// On a wall or tray, in free air.
    C,
}

/// What limits the conductor's temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Insulated {
    /// PVC, 70 °C.
    Pvc,
    /// XLPE or EPR, 90 °C.
    Xlpe,
}

/// Amperes of one size: mm², then PVC in B2 and C, XLPE in B2 and C.
struct Size(f64, f64, Option<f64>, Option<f64>, Option<f64>);

/// Tables B.52.2 and B.52.3, two loaded copper conductors, 30 °C ambient. They start at 1.5 mm²;
/// 1.0 mm² is from SANS 10142-1 Table 6.3(a), which has the figures of B.52.2 from 1.5 mm² up.
/// XLPE in C at 4 and 6 mm² and XLPE at 10 and 16 mm² from memory.
const SIZES: [Size; 7] = [
    Size(1.0, 13.0, None, None, None),
    Size(1.5, 16.5, Some(19.5), Some(22.0), Some(24.0)),
    Size(2.5, 23.0, Some(27.0), Some(30.0), Some(33.0)),
    Size(4.0, 30.0, Some(36.0), Some(40.0), Some(45.0)),
    Size(6.0, 38.0, Some(46.0), Some(51.0), Some(58.0)),
    Size(10.0, 52.0, Some(63.0), Some(69.0), Some(80.0)),
    Size(16.0, 69.0, Some(85.0), Some(91.0), Some(107.0)),
];

/// Current-carrying capacity at 30 °C ambient of a cable with two loaded cores; `None` for a size
/// that is not in the tables. IEC 60364-5-52 Tables B.52.2 and B.52.3.
#[must_use]
pub fn capacity(method: Method, insulated: Insulated, size: Area) -> Option<Current> {
    let mm2 = size.get::<square_millimeter>();
    let Size(_, pvc_b2, pvc_c, xlpe_b2, xlpe_c) = SIZES
        .iter()
        .find(|row| (row.0 - mm2).abs() <= 1e-6 * row.0)?;
    let amperes = match (insulated, method) {
        (Insulated::Pvc, Method::B2) => Some(*pvc_b2),
        (Insulated::Pvc, Method::C) => *pvc_c,
        (Insulated::Xlpe, Method::B2) => *xlpe_b2,
        (Insulated::Xlpe, Method::C) => *xlpe_c,
    };
    amperes.map(Current::new::<ampere>)
}

/// One row of ambient: °C, then the factors for PVC and XLPE.
struct Ambient(f64, Option<f64>, f64);

/// Table B.52.14, air. 15, 55 and above 60 °C from memory.
const AMBIENTS: [Ambient; 15] = [
    Ambient(10.0, Some(1.22), 1.15),
    Ambient(15.0, Some(1.17), 1.12),
    Ambient(20.0, Some(1.12), 1.08),
    Ambient(25.0, Some(1.06), 1.04),
    Ambient(30.0, Some(1.00), 1.00),
    Ambient(35.0, Some(0.94), 0.96),
    Ambient(40.0, Some(0.87), 0.91),
    Ambient(45.0, Some(0.79), 0.87),
    Ambient(50.0, Some(0.71), 0.82),
    Ambient(55.0, Some(0.61), 0.76),
    Ambient(60.0, Some(0.50), 0.71),
    Ambient(65.0, None, 0.65),
    Ambient(70.0, None, 0.58),
    Ambient(75.0, None, 0.50),
    Ambient(80.0, None, 0.41),
];

/// Factor on capacity for the ambient air. Between two rows the hotter one counts; `None` above
/// the last. IEC 60364-5-52 Table B.52.14.
#[must_use]
pub fn ambient_factor(insulated: Insulated, ambient: Temperature) -> Option<f64> {
    let celsius = ambient.get::<degree_celsius>();
    let Ambient(_, pvc, xlpe) = AMBIENTS.iter().find(|row| celsius <= row.0 + ROUNDING)?;
    match insulated {
        Insulated::Pvc => *pvc,
        Insulated::Xlpe => Some(*xlpe),
    }
}

/// A temperature that was written in whole degrees is not pushed past a row by kelvin arithmetic.
const ROUNDING: f64 = 1e-6;

/// Circuits and their factor. Table B.52.17 item 1. 6, 7 and 12 from memory.
const GROUPS: [(usize, f64); 12] = [
    (1, 1.00),
    (2, 0.80),
    (3, 0.70),
    (4, 0.65),
    (5, 0.60),
    (6, 0.57),
    (7, 0.54),
    (8, 0.52),
    (9, 0.50),
    (12, 0.45),
    (16, 0.41),
    (20, 0.38),
];

/// Factor on capacity for circuits bunched in air, on a surface, embedded or enclosed. Between two
/// rows the larger group counts; `None` above 20 circuits. IEC 60364-5-52 Table B.52.17 item 1.
#[must_use]
pub fn grouping_factor(circuits: usize) -> Option<f64> {
    GROUPS
        .iter()
        .find(|(most, _)| circuits <= *most)
        .map(|(_, factor)| *factor)
}

/// Who supplies an installation with electricity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Supplied {
    /// From a public network.
    Publicly,
    /// From a private supply.
    Privately,
}

/// Most voltage lost between the origin and the load, as a share of nominal. IEC 60364-5-52 Table
/// G.52.1 (informative).
#[must_use]
pub fn most_drop(supplied: Supplied, lighting: bool) -> Ratio {
    Ratio::new::<percent>(match (supplied, lighting) {
        (Supplied::Publicly, true) => 3.0,
        (Supplied::Publicly, false) => 5.0,
        (Supplied::Privately, true) => 6.0,
        (Supplied::Privately, false) => 8.0,
    })
}

/// Added to [`most_drop`] for main wiring longer than 100 m: 0.005 % per metre beyond, 0.5 % at
/// most. IEC 60364-5-52 Annex G.
#[must_use]
pub fn drop_for_length(length: crate::quantity::Length) -> Ratio {
    let beyond = (length.get::<uom::si::length::meter>() - 100.0).max(0.0);
    Ratio::new::<percent>((0.005 * beyond).min(0.5))
}

/// Length that thermal insulation surrounds, in mm, and the factor on capacity up to it.
const SURROUNDED: [(f64, f64); 5] = [
    (0.0, 1.0),
    (50.0, 0.88),
    (100.0, 0.78),
    (200.0, 0.63),
    (400.0, 0.51),
];

/// Factor on capacity for a stretch of cable that thermal insulation surrounds; between two lengths
/// the longer counts, and from beyond 400 mm it is a half. Clause 523.9 asks for half from 0.5 m;
/// shorter stretches after BS 7671 Table 52.2 (both from memory).
#[must_use]
pub fn surrounded_factor(length: crate::quantity::Length) -> f64 {
    let millimetres = length.get::<uom::si::length::millimeter>();
    SURROUNDED
        .iter()
        .find(|(most, _)| millimetres <= most + ROUNDING)
        .map_or(0.5, |(_, factor)| *factor)
}

//! IEC 60228: the most resistance a copper conductor may have, by class and cross-section.

use crate::quantity::resistance_per_length::ohms_per_metre;
use crate::quantity::{Area, ResistancePerLength};
use uom::si::area::square_millimeter;

/// How a conductor is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    /// Class 1 or 2, plain copper: solid or stranded for fixed wiring.
    OneOrTwo,
    /// Class 5, plain copper: flexible.
    Five,
    /// Class 5, tinned (metal-coated) copper.
    FiveTinned,
}

/// One size: mm², then Ω/km at 20 °C of class 1 or 2, class 5, class 5 tinned.
struct Size(f64, f64, f64, f64);

/// Tables 1 to 3. 25 mm² and more, and tinned 1, 4, 6, 10 and 16 mm², from memory.
const SIZES: [Size; 11] = [
    Size(0.5, 36.0, 39.0, 40.1),
    Size(0.75, 24.5, 26.0, 26.7),
    Size(1.0, 18.1, 19.5, 20.0),
    Size(1.5, 12.1, 13.3, 13.7),
    Size(2.5, 7.41, 7.98, 8.21),
    Size(4.0, 4.61, 4.95, 5.09),
    Size(6.0, 3.08, 3.30, 3.39),
    Size(10.0, 1.83, 1.91, 1.95),
    Size(16.0, 1.15, 1.21, 1.24),
    Size(25.0, 0.727, 0.780, 0.795),
    Size(35.0, 0.524, 0.554, 0.565),
];

/// Most resistance per length at 20 °C of one conductor; `None` for a cross-section that is not in
/// the tables. IEC 60228 Tables 1, 2 and 3.
#[must_use]
pub fn resistance(class: Class, size: Area) -> Option<ResistancePerLength> {
    let mm2 = size.get::<square_millimeter>();
    let Size(_, solid, flexible, tinned) = SIZES
        .iter()
        .find(|Size(nominal, ..)| (nominal - mm2).abs() <= 1e-6 * nominal)?;
    let ohm_per_km = match class {
        Class::OneOrTwo => solid,
        Class::Five => flexible,
        Class::FiveTinned => tinned,
    };
    Some(ohms_per_metre(ohm_per_km / 1000.0))
}

//! AS/NZS 3008.1.1: voltage drop of multicore copper cable. Its capacities are not here: without a
//! maker's figure a cable's capacity is then not known.

use crate::quantity::Area;
use uom::si::area::square_millimeter;

/// mm², and mV lost per ampere and metre of route in a three-phase circuit at 75 °C (from memory).
/// 1.5 mm² rests on 13.6 Ω/km, not on the 12.1 Ω/km of IEC 60228.
const THREE_PHASE: [(f64, f64); 6] = [
    (1.5, 28.6),
    (2.5, 15.6),
    (4.0, 9.71),
    (6.0, 6.49),
    (10.0, 3.86),
    (16.0, 2.43),
];

/// Single-phase loss over three-phase loss: 2/√3. AS/NZS 3008.1.1.
pub const SINGLE_PHASE: f64 = 1.155;

/// Millivolts lost per ampere and metre of route at 75 °C; `None` for a size that is not in the
/// table. AS/NZS 3008.1.1, three-phase voltage drop table.
#[must_use]
pub fn three_phase_mv_per_ampere_metre(size: Area) -> Option<f64> {
    let mm2 = size.get::<square_millimeter>();
    THREE_PHASE
        .iter()
        .find(|(nominal, _)| (nominal - mm2).abs() <= 1e-6 * nominal)
        .map(|(_, lost)| *lost)
}

//! The Planckian locus in CIE 1960 (u, v), by direct summation over the observer.

use super::cie_1931::{FIRST_NM, OBSERVER};

/// The temperatures for which the locus is used, in kelvin.
pub(super) const LOCUS_KELVIN: (f64, f64) = (1000.0, 30_000.0);

/// The second radiation constant, m·K. CIE 15:2004 (ITS-90).
pub const C2: f64 = 1.4388e-2;

/// (u, v) of the black body at `kelvin`.
pub(super) fn locus(kelvin: f64) -> [f64; 2] {
    let [x, y, z] = sums(kelvin).0;
    let d = x + 15.0 * y + 3.0 * z;
    [4.0 * x / d, 6.0 * y / d]
}

/// The change of (u, v) per kelvin at `kelvin`.
pub(super) fn locus_slope(kelvin: f64) -> [f64; 2] {
    let ([x, y, z], [dx, dy, dz]) = sums(kelvin);
    let d = x + 15.0 * y + 3.0 * z;
    let dd = dx + 15.0 * dy + 3.0 * dz;
    [
        4.0 * (dx * d - x * dd) / (d * d),
        6.0 * (dy * d - y * dd) / (d * d),
    ]
}

/// Tristimulus values at a temperature, on a free scale, and their change per kelvin.
///
/// Radiance is λ⁻⁵/(e^x − 1), x = c₂/(λT); it is scaled by e^(x₅₆₀), so that nothing overflows at
/// low temperatures, and the scale is taken out of the change too (it does not move (u, v)).
fn sums(kelvin: f64) -> ([f64; 3], [f64; 3]) {
    let middle = C2 / (560e-9 * kelvin);
    let (mut value, mut change) = ([0.0; 3], [0.0; 3]);
    let mut nanometres = FIRST_NM;
    for [x_bar, y_bar, z_bar] in &OBSERVER {
        let x = C2 / (nanometres * 1e-9 * kelvin);
        let radiance = (560.0 / nanometres).powi(5) * (middle - x).exp() / -(-x).exp_m1();
        let per_kelvin = radiance * x / kelvin / -(-x).exp_m1();
        for ((value, change), bar) in value.iter_mut().zip(&mut change).zip([x_bar, y_bar, z_bar]) {
            *value += radiance * bar;
            *change += per_kelvin * bar;
        }
        nanometres += 1.0;
    }
    (value, change)
}

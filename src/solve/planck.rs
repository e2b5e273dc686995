//! The Planckian locus in CIE 1960 (u, v): by direct summation over the observer, and as a series
//! that stands for the sums where a place on the locus has to be looked for.

use super::cie_1931::{FIRST_NM, OBSERVER};
use crate::quantity::number::real;
use std::f64::consts::PI;
use std::sync::LazyLock;

/// The temperatures for which the locus is used, in kelvin.
const LOCUS_KELVIN: (f64, f64) = (1000.0, 30_000.0);

/// The same in mirek, the hottest first.
const LOCUS_MIREK: (f64, f64) = (1e6 / LOCUS_KELVIN.1, 1e6 / LOCUS_KELVIN.0);

/// The second radiation constant, m·K. CIE 15:2004 (ITS-90).
pub const C2: f64 = 1.4388e-2;

/// (u, v) of the black body at `kelvin`.
pub(super) fn locus(kelvin: f64) -> [f64; 2] {
    let [x, y, z] = sums(kelvin);
    let d = x + 15.0 * y + 3.0 * z;
    [4.0 * x / d, 6.0 * y / d]
}

/// Tristimulus values at a temperature, on a free scale.
///
/// Radiance is λ⁻⁵/(e^x − 1), x = c₂/(λT); it is scaled by e^(x₅₆₀), so that nothing overflows at
/// low temperatures.
fn sums(kelvin: f64) -> [f64; 3] {
    let middle = C2 / (560e-9 * kelvin);
    let mut value = [0.0; 3];
    let mut nanometres = FIRST_NM;
    for bars in &OBSERVER {
        let x = C2 / (nanometres * 1e-9 * kelvin);
        let radiance = (560.0 / nanometres).powi(5) * (middle - x).exp() / -(-x).exp_m1();
        for (value, bar) in value.iter_mut().zip(bars) {
            *value += radiance * bar;
        }
        nanometres += 1.0;
    }
    value
}

/// Terms of the series. The coefficients fall by a factor of 13 in every five and are below the
/// rounding of the sums from the 45th on.
const TERMS: usize = 48;

/// A coordinate of the locus as a Chebyshev series in mirek over the whole of [`LOCUS_MIREK`]; its
/// coefficients, the first one halved. A sum over the observer costs hundreds of exponentials, and
/// a drawing asks for the white of every segment of a run.
type Series = [f64; TERMS];

/// The series of u and of v.
static SERIES: LazyLock<[Series; 2]> = LazyLock::new(|| {
    let n = real(TERMS);
    let angles = std::array::from_fn::<f64, TERMS, _>(|k| PI * (real(k) + 0.5) / n);
    let nodes = angles.map(|angle| locus(1e6 / mirek_at(angle.cos())));
    let series = |values: [f64; TERMS]| {
        std::array::from_fn(|j| {
            let weight = if j == 0 { 1.0 } else { 2.0 } / n;
            let terms = angles.iter().zip(&values);
            weight
                * terms
                    .map(|(a, value)| value * (real(j) * a).cos())
                    .sum::<f64>()
        })
    };
    [series(nodes.map(|[u, _]| u)), series(nodes.map(|[_, v]| v))]
});

/// A series at x (−1 to 1) and its change with x: Clenshaw's recurrence and its derivative.
fn sum_at([first, rest @ ..]: &Series, x: f64) -> (f64, f64) {
    let (mut b, mut before, mut db, mut dbefore) = (0.0, 0.0, 0.0, 0.0);
    for term in rest.iter().rev() {
        (db, dbefore) = (2.0 * b + 2.0 * x * db - dbefore, db);
        (b, before) = (term + 2.0 * x * b - before, b);
    }
    (first + x * b - before, b + x * db - dbefore)
}

/// The mirek at a place −1 (hottest) to 1 (coldest) of the locus.
fn mirek_at(x: f64) -> f64 {
    let (hottest, coldest) = LOCUS_MIREK;
    hottest + (coldest - hottest) * (x + 1.0) / 2.0
}

/// A point of the locus.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Along {
    /// (u, v).
    pub uv: [f64; 2],
    /// Its change per mirek: towards colder.
    pub per_mirek: [f64; 2],
}

/// The locus at a mirek within [`LOCUS_MIREK`], from the series.
pub(super) fn along(mirek: f64) -> Along {
    let (hottest, coldest) = LOCUS_MIREK;
    let per_mirek = 2.0 / (coldest - hottest);
    let x = (mirek - hottest) * per_mirek - 1.0;
    let [(u, du), (v, dv)] = SERIES.each_ref().map(|series| sum_at(series, x));
    Along {
        uv: [u, v],
        per_mirek: [du * per_mirek, dv * per_mirek],
    }
}

/// Points of the walk along the locus.
const WALK: usize = 41;

static POINTS: LazyLock<[(f64, [f64; 2]); WALK]> = LazyLock::new(|| {
    std::array::from_fn(|n| {
        let mirek = mirek_at(2.0 * real(n) / real(WALK - 1) - 1.0);
        (mirek, along(mirek).uv)
    })
});

/// The stretch of the locus, in mirek, on which its point nearest to a (u, v) lies: between the
/// neighbours of the nearest of a few points.
pub(super) fn bracket(at: [f64; 2]) -> Option<(f64, f64)> {
    let far = |uv: &[f64; 2]| (uv[0] - at[0]).hypot(uv[1] - at[1]);
    let points = &*POINTS;
    let (near, _) = points
        .iter()
        .enumerate()
        .min_by(|(_, a), (_, b)| far(&a.1).total_cmp(&far(&b.1)))?;
    let (low, _) = points.get(near.saturating_sub(1))?;
    let (high, _) = points.get((near + 1).min(WALK - 1))?;
    Some((*low, *high))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_series_is_the_sums_to_their_rounding() {
        for n in 0..=500 {
            let mirek = mirek_at(real(n) / 250.0 - 1.0);
            let (direct, series) = (locus(1e6 / mirek), along(mirek).uv);
            for (a, b) in direct.iter().zip(series) {
                assert!((a - b).abs() < 1e-14, "{mirek} mirek: {a} and {b}");
            }
        }
    }

    #[test]
    fn the_change_per_mirek_is_that_of_the_sums() {
        for n in 1..100 {
            let mirek = mirek_at(real(n) / 50.0 - 1.0);
            let step = 1e-3;
            let (low, high) = (locus(1e6 / (mirek - step)), locus(1e6 / (mirek + step)));
            for axis in [0, 1] {
                let central = (high[axis] - low[axis]) / (2.0 * step);
                let found = along(mirek).per_mirek[axis];
                assert!(
                    (found - central).abs() < 1e-11,
                    "{mirek}: {found}, {central}"
                );
            }
        }
    }
}

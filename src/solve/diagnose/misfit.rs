//! How far readings lie from what a site would show, weighed by what may differ without a fault.
//!
//! The covariance is Σ = Σₖ cₖ cₖᵀ + diag(m²): cₖ is what the readings move by when the k-th figure
//! that may differ does so by one standard deviation, m what the meters add.

use super::case::{Case, Reading, deviation};
use super::site::{Difference, Site};

/// The Cholesky factor of a covariance, by rows.
#[derive(Debug, Clone)]
pub(super) struct Weights {
    rows: Vec<Vec<f64>>,
}

impl Weights {
    /// Of readings on a site. `None` when it has no working point, or none within what may differ.
    pub(super) fn of(case: &Case, site: &Site, readings: &[Reading]) -> Option<Weights> {
        let as_is = site.read_all(readings)?;
        let mut moved: Vec<Vec<f64>> = Vec::new();
        for difference in differences(case) {
            let values = site.differing(&difference).read_all(readings)?;
            let by = values.iter().zip(&as_is).map(|(now, was)| now - was);
            moved.push(by.collect());
        }
        let meter: Vec<f64> = readings
            .iter()
            .zip(&as_is)
            .map(|(it, value)| case.meters.deviation(it.quantity, *value).max(1e-6))
            .collect();
        factor(&moved, &meter)
    }

    /// χ² of the readings on a site; `None` when that has no working point.
    pub(super) fn misfit(&self, site: &Site, readings: &[Reading]) -> Option<f64> {
        let values = site.read_all(readings)?;
        let off = readings
            .iter()
            .zip(values)
            .map(|(it, value)| it.value - value);
        let white = forward(&self.rows, off);
        Some(white.iter().map(|it| it * it).sum())
    }

    /// ln |Σ|.
    pub(super) fn log_determinant(&self) -> f64 {
        let diagonal = self.rows.iter().filter_map(|row| row.last());
        diagonal.map(|it| 2.0 * it.ln()).sum()
    }
}

/// Each figure that may differ, by one standard deviation.
fn differences(case: &Case) -> Vec<Difference> {
    let spread = &case.spread;
    let coldest = spread.coldest;
    let mut all = vec![
        Difference {
            power: deviation(spread.power),
            ..Difference::default()
        },
        Difference {
            supply: deviation(spread.supply),
            ..Difference::default()
        },
        Difference {
            // Either way of midway between cold and warm.
            cold: deviation((1.0 - coldest) / (1.0 + coldest)),
            ..Difference::default()
        },
    ];
    let length = deviation(spread.length);
    for feed in case.feeds() {
        let mut lengths = vec![0.0; feed];
        lengths.push(length);
        all.push(Difference {
            lengths,
            ..Difference::default()
        });
    }
    all
}

/// Σ row by row: each row is solved against those before it.
fn factor(moved: &[Vec<f64>], meter: &[f64]) -> Option<Weights> {
    let at = |of: &Vec<f64>, index: usize| of.get(index).copied();
    let mut rows: Vec<Vec<f64>> = Vec::with_capacity(meter.len());
    for (index, own) in meter.iter().enumerate() {
        let mut against = Vec::with_capacity(index + 1);
        for other in 0..=index {
            let mut sum = 0.0;
            for by in moved {
                sum += at(by, index)? * at(by, other)?;
            }
            against.push(sum);
        }
        let variance = against.pop()? + own * own;
        let mut row = forward(&rows, against.into_iter());
        let rest = variance - row.iter().map(|it| it * it).sum::<f64>();
        // Rounding alone could take it under the meter's own share, which is independent.
        row.push(rest.max(0.5 * own * own).sqrt());
        rows.push(row);
    }
    Some(Weights { rows })
}

/// Solves L·z = b for as many rows as b has.
fn forward(rows: &[Vec<f64>], b: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut z: Vec<f64> = Vec::new();
    for (row, value) in rows.iter().zip(b) {
        let known: f64 = row.iter().zip(&z).map(|(l, z)| l * z).sum();
        let diagonal = row.last().copied().unwrap_or(1.0);
        z.push((value - known) / diagonal);
    }
    z
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A 3 × 3 worked by hand: Σ = [[4, 2, 2], [2, 5, 3], [2, 3, 6]] has L = [[2], [1, 2],
    /// [1, 1, 2]], |Σ| = 64; L·z = (2, 5, 6) gives z = (1, 2, 1.5).
    #[test]
    fn the_factor_agrees_with_one_worked_by_hand() {
        let rows = vec![vec![2.0], vec![1.0, 2.0], vec![1.0, 1.0, 2.0]];
        assert_eq!(forward(&rows, [2.0, 5.0, 6.0].into_iter()), [1.0, 2.0, 1.5]);
        // Σ = c·cᵀ + diag(m²): c = (1, 1, 1)·√2 and (0, 0, 0)… gives 2 everywhere off the diagonal.
        let root = 2.0_f64.sqrt();
        let weights = factor(&[vec![root; 3]], &[root, 1.0, 2.0]).unwrap();
        let determinant: f64 = 2.0 * 1.0 * 4.0 * (1.0 + 2.0 / 2.0 + 2.0 / 1.0 + 2.0 / 4.0);
        assert!((weights.log_determinant() - determinant.ln()).abs() < 1e-12);
    }
}

//! Fits a fault's free number to the readings.

use super::case::{Case, Reading};
use super::fault::{Fault, Spot};
use super::misfit::Weights;
use super::{Cause, FREE_NUMBER};
use crate::quantity::number::real;

/// Numbers tried across the range before the best is narrowed down: misfit may have several
/// valleys.
const TRIED: usize = 12;
/// Halvings of the golden section after that.
const NARROWED: usize = 16;

/// A fault at a spot with its number fitted. `None` when no number tried has a working point.
pub(super) fn cause(
    case: &Case,
    readings: &[Reading],
    fault: &'static Fault,
    spot: Spot,
    usual: &Weights,
) -> Option<Cause> {
    let number = match &fault.number {
        None => None,
        Some(number) => Some(fitted(
            case,
            readings,
            fault,
            &spot,
            (number.range)(case),
            usual,
        )?),
    };
    let site = fault.on(case, &spot, number.unwrap_or(1.0));
    let weights = Weights::of(case, &site, readings)?;
    let misfit = weights.misfit(&site, readings)?;
    let free = if number.is_some() { FREE_NUMBER } else { 0.0 };
    let count = real(readings.len());
    Some(Cause {
        fault,
        spot,
        number,
        misfit,
        score: misfit + weights.log_determinant() + free,
        fits: misfit <= count + 3.0 * (2.0 * count).sqrt(),
    })
}

fn fitted(
    case: &Case,
    readings: &[Reading],
    fault: &Fault,
    spot: &Spot,
    range: [f64; 2],
    usual: &Weights,
) -> Option<f64> {
    let [low, high] = range.map(f64::ln);
    let step = (high - low) / real(TRIED - 1);
    let misfit = |weights: &Weights, at: f64| {
        let site = fault.on(case, spot, at.exp());
        weights.misfit(&site, readings).unwrap_or(f64::INFINITY)
    };
    let places = (0..TRIED).map(|it| low + step * real(it));
    let tried = places.map(|at| (at, misfit(usual, at)));
    let (best, least) = tried.min_by(|a, b| a.1.total_cmp(&b.1))?;
    if !least.is_finite() {
        return None;
    }
    let there = Weights::of(case, &fault.on(case, spot, best.exp()), readings)?;
    let within = [(best - step).max(low), (best + step).min(high)];
    Some(golden(within, |at| misfit(&there, at)).exp())
}

/// The golden section search for a least value. Kiefer 1953.
fn golden([mut left, mut right]: [f64; 2], value: impl Fn(f64) -> f64) -> f64 {
    let share = (5.0_f64.sqrt() - 1.0) / 2.0;
    let mut inner = [
        right - share * (right - left),
        left + share * (right - left),
    ];
    let mut values = inner.map(&value);
    for _ in 0..NARROWED {
        if values[0] <= values[1] {
            right = inner[1];
            inner = [right - share * (right - left), inner[0]];
            values = [value(inner[0]), values[0]];
        } else {
            left = inner[0];
            inner = [inner[1], left + share * (right - left)];
            values = [values[1], value(inner[1])];
        }
    }
    if values[0] <= values[1] {
        inner[0]
    } else {
        inner[1]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_of_a_parabola_is_found() {
        let found = golden([0.0, 1.0], |x| (x - 0.3) * (x - 0.3));
        assert!((found - 0.3).abs() < 1e-3, "{found}");
    }
}

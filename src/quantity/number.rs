//! Conversions between kinds of number that say what happens to what does not fit.

use num_traits::ToPrimitive;

/// A count as a real number. Exact up to 2⁵³, which no count here comes near.
#[must_use]
pub fn real(count: usize) -> f64 {
    count.to_f64().unwrap_or(f64::INFINITY)
}

/// The whole part of a real number as a count; `None` when it is negative, not finite or too large.
#[must_use]
pub fn whole(value: f64) -> Option<usize> {
    if value.is_finite() && value >= 0.0 {
        value.floor().to_usize()
    } else {
        None
    }
}

//! Limits of flicker and stroboscopic effect of light.

use crate::quantity::{Frequency, Ratio};
use uom::si::frequency::hertz;
use uom::si::ratio::percent;

/// Most short-term flicker, Pst LM, at full load. Regulation (EU) 2019/2020, Annex II Table 4 (from
/// memory).
pub const MOST_PST_LM: f64 = 1.0;

/// Most stroboscopic visibility, SVM, at full load. Regulation (EU) 2019/2020, Annex II Table 4
/// (from memory).
pub const MOST_SVM: f64 = 0.4;

/// The deepest modulation of low risk at a frequency: 0.025 × f below 90 Hz, 0.08 × f from there to
/// 1250 Hz, in % with f in Hz; any depth above. IEEE 1789-2015 (from memory).
#[must_use]
pub fn low_risk_depth(frequency: Frequency) -> Ratio {
    let f = frequency.get::<hertz>();
    let slope = if f < 90.0 { 0.025 } else { 0.08 };
    Ratio::new::<percent>((slope * f).min(100.0))
}

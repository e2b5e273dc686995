//! ASTM B258: American wire gauge.

use crate::quantity::Length;
use uom::si::length::millimeter;

/// Share by which two markings of one conductor may differ in area: a size rounded to two digits.
/// Common practice, no source.
pub const SAME_AREA: f64 = 0.03;

/// Diameter of a solid conductor of a gauge (0 is 1/0, −3 is 4/0): d = 0.127 mm · 92^((36 − n)/39).
/// Its area is [`ConductorSize::area`](crate::quantity::conductor::ConductorSize::area).
#[must_use]
pub fn diameter(gauge: i32) -> Length {
    Length::new::<millimeter>(0.127 * 92_f64.powf((36.0 - f64::from(gauge)) / 39.0))
}

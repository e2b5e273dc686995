//! The size of a conductor: square millimetres or American wire gauge, never one for the other.

use super::Area;
use uom::si::area::square_millimeter;

/// A conductor's cross-section, in the system in which it is sold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ConductorSize {
    /// Nominal cross-section in square millimetres.
    Metric(Area),
    /// American wire gauge: 18 is 18 AWG, 0 is 1/0, −1 is 2/0, −3 is 4/0.
    Awg(i32),
}

impl ConductorSize {
    /// The cross-section. For AWG: π/4 · (0.127 mm · 92^((36 − n)/39))², ASTM B258.
    #[must_use]
    pub fn area(self) -> Area {
        match self {
            ConductorSize::Metric(area) => area,
            ConductorSize::Awg(gauge) => {
                let diameter_mm = 0.127 * 92_f64.powf((36.0 - f64::from(gauge)) / 39.0);
                Area::new::<square_millimeter>(std::f64::consts::FRAC_PI_4 * diameter_mm.powi(2))
            }
        }
    }
}

//! Residual-current devices: how much leakage they stand (BS 7671, IEC 60364-5-53, IEC 61008-1).

use crate::quantity::{Current, Ratio, Time};
use uom::si::electric_current::milliampere;
use uom::si::ratio::percent;
use uom::si::time::second;

/// Most standing leakage below a device, as a share of its rated residual current. BS 7671
/// regulation 531.3.2 (IEC 60364-5-53).
#[must_use]
pub fn most_leakage_share() -> Ratio {
    Ratio::new::<percent>(30.0)
}

/// Most standing leakage below a device of a rated residual current.
#[must_use]
pub fn most_leakage(rated: Current) -> Current {
    most_leakage_share() * rated
}

/// Residual current from which a device may trip: half its rated one. IEC 61008-1 (from memory).
#[must_use]
pub fn may_trip_from(rated: Current) -> Current {
    0.5 * rated
}

/// Longest time in which a device of the general type trips at its rated residual current. IEC
/// 61008-1 (from memory).
#[must_use]
pub fn slowest_trip() -> Time {
    Time::new::<second>(0.3)
}

/// Most rated residual current for the lighting circuits of a dwelling. BS 7671 regulation 411.3.4.
#[must_use]
pub fn dwelling_lighting() -> Current {
    Current::new::<milliampere>(30.0)
}

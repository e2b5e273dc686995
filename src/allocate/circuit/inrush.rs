//! How many of a driver one breaker can switch on.

use crate::model::driver::Driver;
use crate::model::project::{Breaker, Curve};
use crate::norms::iec_60898::{TripCurve, drivers_allowed_percent};
use crate::norms::region::Region;

/// Most of `driver` alone on `breaker`; `None` when neither sheet nor table tells.
///
/// A count that the sheet states for the breaker itself goes first. Else its count is for a B16: on
/// that breaker it counts as it is, and a C16 takes no fewer. For other breakers it is scaled by the
/// published table and rounded down, except in `north-america`, which has no such table.
#[must_use]
pub fn most_alone(driver: &Driver, breaker: Breaker, region: Region) -> Option<u64> {
    if let Some(count) = stated(driver, breaker) {
        return Some(count);
    }
    let on_b16 = u64::try_from(driver.mains.most_per_b16?).ok()?;
    let curve = match breaker.curve {
        Curve::B => TripCurve::B,
        Curve::C => TripCurve::C,
        Curve::D => TripCurve::D,
    };
    if region == Region::NorthAmerica {
        let known = breaker.amperes == 16 && curve != TripCurve::D;
        return known.then_some(on_b16);
    }
    let scale = |curve, amperes| drivers_allowed_percent(curve, amperes).map(u64::from);
    let here = scale(curve, breaker.amperes)?;
    let there = scale(TripCurve::B, 16)?;
    on_b16.checked_mul(here)?.checked_div(there)
}

/// The sheet's count for that very breaker.
fn stated(driver: &Driver, breaker: Breaker) -> Option<u64> {
    let rows = driver.mains.needs.most_on.iter();
    let row = rows
        .filter(|(on, _)| *on == breaker)
        .map(|(_, count)| *count);
    u64::try_from(row.min()?).ok()
}

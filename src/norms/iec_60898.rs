//! IEC 60898-1: circuit breakers, and how many drivers one can switch on.

/// A trip curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TripCurve {
    /// B.
    B,
    /// C.
    C,
    /// D.
    D,
}

/// Multiples of the rated current over which a breaker trips at once: from more than the first,
/// up to the second. IEC 60898-1.
#[must_use]
pub fn instant_trip(curve: TripCurve) -> (f64, f64) {
    match curve {
        TripCurve::B => (3.0, 5.0),
        TripCurve::C => (5.0, 10.0),
        TripCurve::D => (10.0, 20.0),
    }
}

/// Multiple of the rated current which a breaker carries without tripping. IEC 60898-1.
pub const NOT_TRIPPING: f64 = 1.13;

/// Multiple of the rated current at which a breaker trips in the end. IEC 60898-1.
pub const TRIPPING: f64 = 1.45;

/// Drivers allowed on a breaker by inrush, in percent of those allowed on a C16; `None` for a
/// breaker that is not in the table. Published driver installation data (common table). The count
/// in a driver's own sheet for the very breaker comes first.
#[must_use]
pub fn drivers_allowed_percent(curve: TripCurve, amperes: u32) -> Option<u32> {
    match (curve, amperes) {
        (TripCurve::B, 10) => Some(37),
        (TripCurve::B, 16) => Some(60),
        (TripCurve::B, 20) => Some(75),
        (TripCurve::C, 10) => Some(62),
        (TripCurve::C, 16) => Some(100),
        (TripCurve::C, 20) => Some(125),
        _ => None,
    }
}

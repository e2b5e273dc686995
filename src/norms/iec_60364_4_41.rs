//! IEC 60364-4-41 and IEC 61140: extra-low voltage.

use crate::quantity::Voltage;
use uom::si::electric_potential::volt;

/// Highest extra-low voltage, a.c. IEC 61140.
#[must_use]
pub fn extra_low_ac() -> Voltage {
    Voltage::new::<volt>(50.0)
}

/// Highest extra-low voltage, ripple-free d.c. IEC 61140.
#[must_use]
pub fn extra_low_dc() -> Voltage {
    Voltage::new::<volt>(120.0)
}

/// Highest d.c. voltage of live parts that may be touched where it is dry. IEC 60364-4-41 clause
/// 414.4.5.
#[must_use]
pub fn touchable_dry_dc() -> Voltage {
    Voltage::new::<volt>(60.0)
}

/// Highest a.c. voltage of live parts that may be touched where it is dry. IEC 60364-4-41 clause
/// 414.4.5.
#[must_use]
pub fn touchable_dry_ac() -> Voltage {
    Voltage::new::<volt>(25.0)
}

/// Highest d.c. voltage of live parts that may be touched where it is wet. IEC 60364-4-41 clause
/// 414.4.5 (from memory).
#[must_use]
pub fn touchable_wet_dc() -> Voltage {
    Voltage::new::<volt>(30.0)
}

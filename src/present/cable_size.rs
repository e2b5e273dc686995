//! How cables are named by cores and size.

use super::measured;
use crate::model::cable::Cable;
use crate::quantity::conductor::ConductorSize;

/// Number of cores and their size: `3 × 1.5 mm²`, `2 × 18 AWG`.
#[must_use]
pub fn cores(cable: &Cable) -> String {
    format!("{} × {}", cable.cores, size(cable.size))
}

/// A conductor's size as it is sold: `1.5 mm²`, `18 AWG`, `2/0 AWG`.
#[must_use]
pub fn size(size: ConductorSize) -> String {
    match size {
        ConductorSize::Metric(area) => format!("{} mm²", measured::square_millimetres(area)),
        ConductorSize::Awg(gauge) if gauge <= 0 => format!("{}/0 AWG", 1 - gauge),
        ConductorSize::Awg(gauge) => format!("{gauge} AWG"),
    }
}

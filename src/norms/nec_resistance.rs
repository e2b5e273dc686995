//! NEC Chapter 9 Table 8: direct-current resistance of copper conductors by AWG.

use crate::quantity::ResistancePerLength;
use crate::quantity::resistance_per_length::ohms_per_metre;

/// How a conductor is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strand {
    /// Solid, uncoated.
    Solid,
    /// Seven strands, uncoated.
    Stranded,
    /// Seven strands, coated.
    StrandedCoated,
}

/// One gauge: AWG, then Ω per 1000 ft at 75 °C of solid, stranded, stranded and coated.
struct Gauge(i32, Option<f64>, f64, Option<f64>);

/// Chapter 9 Table 8. There is no solid row above 8 AWG.
#[expect(clippy::approx_constant, reason = "3.14 is the table's own value")]
const GAUGES: [Gauge; 7] = [
    Gauge(18, Some(7.77), 7.95, Some(8.45)),
    Gauge(16, Some(4.89), 4.99, None),
    Gauge(14, Some(3.07), 3.14, None),
    Gauge(12, Some(1.93), 1.98, None),
    Gauge(10, Some(1.21), 1.24, None),
    Gauge(8, Some(0.764), 0.778, None),
    Gauge(6, None, 0.491, None),
];

/// One foot in metres (international foot, 1959).
const FOOT: f64 = 0.3048;

/// Resistance per length at 75 °C of one conductor; `None` for a gauge that is not in the table.
/// NEC Chapter 9 Table 8.
#[must_use]
pub fn resistance_75(strand: Strand, gauge: i32) -> Option<ResistancePerLength> {
    let Gauge(_, solid, stranded, coated) = GAUGES.iter().find(|row| row.0 == gauge)?;
    let per_1000_ft = match strand {
        Strand::Solid => (*solid)?,
        Strand::Stranded => *stranded,
        Strand::StrandedCoated => (*coated)?,
    };
    Some(ohms_per_metre(per_1000_ft / (1000.0 * FOOT)))
}

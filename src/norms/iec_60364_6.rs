//! IEC 60364-6: initial verification, the tests before and after a circuit is made live.

use crate::norms::region::Region;
use crate::quantity::{Ratio, Resistance, Voltage};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::megaohm;
use uom::si::ratio::percent;

/// An insulation test: the d.c. voltage it is made with, and the least resistance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InsulationTest {
    /// Test voltage.
    pub volts: Voltage,
    /// Least resistance.
    pub least: Resistance,
}

/// Of SELV and PELV circuits. IEC 60364-6 Table 6A (from memory); AS/NZS 3000 clause 8.3.6 has the
/// same (from memory). `None` where the code gives no figure.
#[must_use]
pub fn extra_low(region: Region) -> Option<InsulationTest> {
    of(region, 250.0, 0.5)
}

/// Of circuits up to 500 V that are not extra-low voltage, the control bus with them: it is only
/// basically insulated from mains. IEC 60364-6 Table 6A (from memory); AS/NZS 3000 clause 8.3.6
/// has the same (from memory). `None` where the code gives no figure.
#[must_use]
pub fn low(region: Region) -> Option<InsulationTest> {
    of(region, 500.0, 1.0)
}

fn of(region: Region, volts: f64, megohms: f64) -> Option<InsulationTest> {
    match region {
        Region::Iec | Region::AusNz => Some(InsulationTest {
            volts: Voltage::new::<volt>(volts),
            least: Resistance::new::<megaohm>(megohms),
        }),
        Region::NorthAmerica => None,
    }
}

/// How far the supply may lie from its nominal voltage, as a share either way: IEC 60038 and
/// EN 50160 10 %; ANSI C84.1 range A 5 %; AS 60038 +10 %, −6 %, taken as 10 % (all from memory).
#[must_use]
pub fn supply_variation(region: Region) -> Ratio {
    Ratio::new::<percent>(match region {
        Region::Iec | Region::AusNz => 10.0,
        Region::NorthAmerica => 5.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bus_is_tested_as_mains_and_a_feed_as_extra_low_voltage() {
        let (bus, feed) = (low(Region::Iec).unwrap(), extra_low(Region::Iec).unwrap());
        assert!(bus.volts > feed.volts && bus.least > feed.least);
        assert_eq!(low(Region::NorthAmerica), None);
    }
}

//! Ranges in which the figures of strips and supplies usually are: what lies outside is asked
//! about, because it may be a figure per foot, per reel, or another region's.

use super::region::Region;
use crate::quantity::{Frequency, Voltage};
use uom::si::electric_potential::volt;
use uom::si::frequency::hertz;

/// Power per length of a strip with all its channels on, in W/m. Common practice, no source.
pub const POWER_W_PER_M: (f64, f64) = (3.0, 30.0);

/// Resistance per length of one rail of a strip, in Ω/m. Common practice, no source.
pub const RAIL_OHM_PER_M: (f64, f64) = (0.02, 0.5);

/// Voltage at which the light starts, as a share of nominal. Common practice, no source.
pub const STARTS_AT_SHARE: (f64, f64) = (0.6, 0.9);

/// Limits on light drop that are asked for, in %, from the loosest. Common practice, no source.
pub const LIGHT_DROPS_PERCENT: [f64; 6] = [20.0, 15.0, 10.0, 7.5, 5.0, 2.5];

/// Sizes in which cable is made, in hundredths of mm², from the thinnest (IEC 60228).
pub const CABLE_HUNDREDTHS_MM2: [u32; 9] = [50, 75, 100, 150, 250, 400, 600, 1000, 1600];
/// Gauges in which it is sold for this work, from the thinnest (common practice, no source).
pub const CABLE_AWG: [i32; 8] = [20, 18, 16, 14, 12, 10, 8, 6];

/// Whether a mains voltage between line and neutral, at a frequency, is one that a region's public
/// networks have: 230 V ± 10 % at 50 Hz (IEC 60038); in `north-america` 120 V, 277 V and 347 V
/// systems ± 10 % at 60 Hz, with 208 V and 240 V between lines (ANSI C84.1, CSA C235; from memory).
#[must_use]
pub fn mains(region: Region, voltage: Voltage, frequency: Frequency) -> bool {
    let (nominal, cycles): (&[f64], f64) = match region {
        Region::Iec | Region::AusNz => (&[230.0], 50.0),
        Region::NorthAmerica => (&[120.0, 208.0, 240.0, 277.0, 347.0], 60.0),
    };
    let volts = voltage.get::<volt>();
    let near = nominal
        .iter()
        .any(|nominal| (volts / nominal - 1.0).abs() <= 0.1 + ROUNDING);
    near && (frequency.get::<hertz>() - cycles).abs() <= 1.0
}

/// 253 V is 10 % above 230 V, whatever the arithmetic says.
const ROUNDING: f64 = 1e-9;

/// The mains of a region's public networks in words.
#[must_use]
pub fn mains_words(region: Region) -> &'static str {
    match region {
        Region::Iec | Region::AusNz => "230 V ± 10 %, 50 Hz",
        Region::NorthAmerica => "120 V, 208 V, 240 V, 277 V or 347 V ± 10 %, 60 Hz",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 230 V ± 10 % is 207 V to 253 V (IEC 60038); 120 V ± 10 % is 108 V to 132 V. One hertz off is
    /// still a public network's (common practice, no source).
    #[test]
    fn public_networks_are_told_from_others_at_their_edges() {
        let at = |region, volts: f64, cycles: f64| {
            let voltage = Voltage::new::<volt>(volts);
            mains(region, voltage, Frequency::new::<hertz>(cycles))
        };
        for (volts, usual) in [(206.9, false), (207.0, true), (253.0, true), (253.1, false)] {
            assert_eq!(at(Region::Iec, volts, 50.0), usual, "{volts} V");
            assert_eq!(at(Region::AusNz, volts, 50.0), usual, "{volts} V");
        }
        for (volts, usual) in [(107.9, false), (108.0, true), (132.0, true), (132.1, false)] {
            assert_eq!(at(Region::NorthAmerica, volts, 60.0), usual, "{volts} V");
        }
        for (cycles, usual) in [(48.9, false), (49.0, true), (51.0, true), (51.1, false)] {
            assert_eq!(at(Region::Iec, 230.0, cycles), usual, "{cycles} Hz");
        }
        assert!(!at(Region::NorthAmerica, 120.0, 50.0));
        assert!(!at(Region::Iec, 120.0, 50.0));
    }

    #[test]
    fn the_networks_that_are_named_are_those_that_are_usual() {
        for region in [Region::Iec, Region::AusNz, Region::NorthAmerica] {
            let words = mains_words(region);
            let numbers = |unit: &str| -> Vec<f64> {
                let named = words.split([',', '±']).flat_map(|part| part.split(" or "));
                let of_unit = named.filter_map(|part| part.trim().strip_suffix(unit));
                of_unit.map(|part| part.parse().unwrap()).collect()
            };
            let (volts, cycles) = (numbers(" V"), numbers(" Hz"));
            assert!(!volts.is_empty() && cycles.len() == 1, "{words}");
            for volts in volts {
                let frequency = Frequency::new::<hertz>(cycles[0]);
                let voltage = Voltage::new::<volt>(volts);
                assert!(mains(region, voltage, frequency), "{volts} V of {words}");
            }
        }
    }
}

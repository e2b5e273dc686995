//! The limits that hold when a project file sets none, by region.

use super::limit::{Bound, Limit, Source};
use super::region::Region;
use crate::quantity::{Length, PowerPerLength, Ratio};
use uom::si::length::millimeter;
use uom::si::linear_power_density::watt_per_meter;
use uom::si::ratio::percent;

fn at_most(value: f64, source: Source) -> Limit<Ratio> {
    Limit {
        value: Ratio::new::<percent>(value),
        bound: Bound::AtMost,
        source,
    }
}

/// Most light lost at the darkest segment, of nominal light.
#[must_use]
pub fn light_drop() -> Limit<Ratio> {
    at_most(
        10.0,
        Source::CommonPractice("10 % on a continuous line of light"),
    )
}

/// Least darkest-to-brightest ratio that goes with a light drop limit.
#[must_use]
pub fn evenness(light_drop: &Limit<Ratio>) -> Limit<Ratio> {
    Limit {
        value: Ratio::new::<percent>(100.0) - light_drop.value,
        bound: Bound::AtLeast,
        source: light_drop.source.clone(),
    }
}

/// Most colour shift along a run, in steps of 0.0011 in u′v′.
#[must_use]
pub fn colour_shift() -> Limit<f64> {
    Limit {
        value: 3.0,
        bound: Bound::AtMost,
        source: Source::CommonPractice(
            "3 steps within one room; step of 0.0011 after CIE TN 001:2014",
        ),
    }
}

/// Most voltage lost from the driver to the furthest light.
#[must_use]
pub fn feed_drop(region: Region) -> Limit<Ratio> {
    match region {
        Region::Iec => at_most(
            5.0,
            Source::Published("IEC 60364-7-715 clause 715.525 (from memory)"),
        ),
        Region::NorthAmerica => at_most(
            3.0,
            Source::CommonPractice("3 % as the NEC 210.19(A) note recommends for branch circuits"),
        ),
        Region::AusNz => at_most(
            10.0,
            Source::Published("AS/NZS 3000 clause 7.5 (from memory)"),
        ),
    }
}

/// Most load of a driver, of its rating at the ambient.
#[must_use]
pub fn driver_load() -> Limit<Ratio> {
    at_most(85.0, Source::CommonPractice("85 % of the rating"))
}

/// Most voltage lost between the origin and a cupboard.
#[must_use]
pub fn circuit_drop(region: Region) -> Limit<Ratio> {
    match region {
        Region::Iec => at_most(
            3.0,
            Source::Published("IEC 60364-5-52 Table G.52.1, lighting, public supply"),
        ),
        Region::NorthAmerica => at_most(3.0, Source::Published("NEC 210.19(A) Informational Note")),
        Region::AusNz => at_most(5.0, Source::Published("AS/NZS 3000 clause 3.6.2")),
    }
}

/// Air left free between drivers, and between them and the walls of their cupboard. Common
/// practice, no source: 20 mm to 50 mm.
#[must_use]
pub fn driver_gap() -> Length {
    Length::new::<millimeter>(30.0)
}

/// Most voltage that strip stands above its nominal where its sheet is silent. Common practice, no
/// source.
#[must_use]
pub fn strip_overvoltage() -> Limit<Ratio> {
    at_most(5.0, Source::CommonPractice("5 % above nominal"))
}

/// Power per length above which strip is expected on a metal profile. Common practice, no source.
#[must_use]
pub fn warm_power() -> PowerPerLength {
    PowerPerLength::new::<watt_per_meter>(10.0)
}

/// Where the light of resistor strip starts when its sheet is silent, as the least and most share
/// of nominal voltage. Common practice, no source: 0.70 to 0.88.
#[must_use]
pub fn light_starts() -> [Ratio; 2] {
    [70.0, 88.0].map(Ratio::new::<percent>)
}

/// Most colour difference between reels of one delivery, in steps.
#[must_use]
pub fn bin() -> Limit<f64> {
    Limit {
        value: 3.0,
        bound: Bound::AtMost,
        source: Source::CommonPractice("3 steps between strips seen together"),
    }
}

/// Most distance of a mixed white from the black body, Duv.
#[must_use]
pub fn off_locus() -> Limit<f64> {
    Limit {
        value: 0.006,
        bound: Bound::AtMost,
        source: Source::CommonPractice("Duv within ±0.006"),
    }
}

/// Most that a run may fall short of the length asked for.
#[must_use]
pub fn end_gap() -> Limit<Length> {
    Limit {
        value: Length::new::<millimeter>(50.0),
        bound: Bound::AtMost,
        source: Source::CommonPractice("50 mm"),
    }
}

/// Longest tail at the strip that is thinner than its feed cable. Common practice, no source.
#[must_use]
pub fn tail_length() -> Length {
    Length::new::<millimeter>(150.0)
}

/// Slack on a measured length of cable, as a share of it. Common practice, no source.
#[must_use]
pub fn slack_share() -> Ratio {
    Ratio::new::<percent>(10.0)
}

/// Slack on a measured length of cable, as a length. Common practice, no source.
#[must_use]
pub fn slack_length() -> Length {
    Length::new::<millimeter>(1000.0)
}

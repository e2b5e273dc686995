//! Cables: resistance of a core at temperature, voltage lost, longest length.
//!
//! A conductor whose size and make are not in a table gives `None`: sizes in mm² and in AWG never
//! stand in for each other.

use crate::model::cable::{Cable, Conductor, Insulation};
use crate::norms::iec_60228::{self, Class};
use crate::norms::nec_resistance::{self, Strand};
use crate::norms::region::Region;
use crate::norms::usual::{CABLE_AWG, CABLE_HUNDREDTHS_MM2};
use crate::norms::{as_nzs_3008, copper};
use crate::quantity::conductor::ConductorSize;
use crate::quantity::resistance_per_length::ohms_per_metre;
use crate::quantity::{
    Current, Length, Ratio, Resistance, ResistancePerLength, Temperature, Voltage,
};
use uom::si::area::square_millimeter;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::length::meter;
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Resistance per length of one conductor at its temperature.
///
/// Metric sizes: the most that IEC 60228 allows the class, from 20 °C with 0.00393 per kelvin. AWG:
/// NEC Chapter 9 Table 8, from 75 °C with 0.00323 per kelvin; gauges that are not in it (20 AWG
/// and thinner, solid above 8 AWG) by ASTM B258 area and 0.017241 Ω·mm²/m from 20 °C, stranded 3 %
/// more (Table 8 has up to 2.6 %).
#[must_use]
pub fn conductor_resistance(
    conductor: Conductor,
    size: ConductorSize,
    temperature: Temperature,
) -> Option<ResistancePerLength> {
    match (conductor, size) {
        (Conductor::Class1Or2, ConductorSize::Metric(area)) => {
            iec_60228::resistance(Class::OneOrTwo, area)
        }
        (Conductor::Class5, ConductorSize::Metric(area)) => {
            iec_60228::resistance(Class::Five, area)
        }
        (Conductor::Class5Tinned, ConductorSize::Metric(area)) => {
            iec_60228::resistance(Class::FiveTinned, area)
        }
        (Conductor::AwgSolid, ConductorSize::Awg(gauge)) => {
            return Some(by_gauge(Strand::Solid, gauge, temperature));
        }
        (Conductor::AwgStranded, ConductorSize::Awg(gauge)) => {
            return Some(by_gauge(Strand::Stranded, gauge, temperature));
        }
        _ => None,
    }
    .map(|at_20| at_20 * copper::over_20(temperature))
}

fn by_gauge(strand: Strand, gauge: i32, temperature: Temperature) -> ResistancePerLength {
    if let Some(at_75) = nec_resistance::resistance_75(strand, gauge) {
        return at_75 * copper::over_75(temperature);
    }
    let stranding = match strand {
        Strand::Solid => 1.0,
        Strand::Stranded | Strand::StrandedCoated => 1.03,
    };
    let area = ConductorSize::Awg(gauge).area().get::<square_millimeter>();
    ohms_per_metre(copper::RESISTIVITY_20 * stranding / area * copper::over_20(temperature))
}

/// Resistance of one core of a cable of a length at its temperature; see
/// [`conductor_resistance`].
#[must_use]
pub fn core_resistance(
    cable: &Cable,
    length: Length,
    temperature: Temperature,
) -> Option<Resistance> {
    conductor_resistance(cable.conductor, cable.size, temperature)
        .map(|per_metre| per_metre * length)
}

/// The next thinner size in which cable is made; `None` below the thinnest.
#[must_use]
pub fn next_thinner(size: ConductorSize) -> Option<ConductorSize> {
    match size {
        ConductorSize::Metric(area) => {
            let own = area.get::<square_millimeter>();
            let sizes = CABLE_HUNDREDTHS_MM2.map(|hundredths| f64::from(hundredths) / 100.0);
            let thinner = sizes.into_iter().rev().find(|it| *it < 0.99 * own)?;
            let area = crate::quantity::Area::new::<square_millimeter>(thinner);
            Some(ConductorSize::Metric(area))
        }
        ConductorSize::Awg(own) => {
            let thinner = CABLE_AWG.into_iter().rev().find(|it| *it > own)?;
            Some(ConductorSize::Awg(thinner))
        }
    }
}

/// Voltage lost in a plus core and a return core of equal size: 2·R·I.
#[must_use]
pub fn loop_drop(
    cable: &Cable,
    length: Length,
    temperature: Temperature,
    current: Current,
) -> Option<Voltage> {
    core_resistance(cable, length, temperature).map(|core| 2.0 * core * current)
}

/// The longest cable that loses no more than `drop` at `current`, go and return.
#[must_use]
pub fn longest(
    cable: &Cable,
    temperature: Temperature,
    current: Current,
    drop: Voltage,
) -> Option<Length> {
    conductor_resistance(cable.conductor, cable.size, temperature)
        .map(|per_metre| drop / (2.0 * per_metre * current))
}

/// Reactance of one conductor, Ω/m. IEC 60364-5-52 Annex G (λ = 0.08 mΩ/m).
const REACTANCE_OHM_PER_METRE: f64 = 0.000_08;

/// Voltage lost in a single-phase mains circuit: 2·L·I·(R·cos φ + X·sin φ), IEC 60364-5-52 Annex
/// G. In `aus-nz` at least what the AS/NZS 3008.1.1 table gives. `power_factor` is between 0 and 1.
#[must_use]
pub fn mains_drop(
    cable: &Cable,
    region: Region,
    length: Length,
    temperature: Temperature,
    current: Current,
    power_factor: Ratio,
) -> Option<Voltage> {
    let resistance = conductor_resistance(cable.conductor, cable.size, temperature)?;
    let cosine = power_factor.get::<ratio>().clamp(0.0, 1.0);
    let sine = (1.0 - cosine * cosine).sqrt();
    let impedance = resistance * cosine + ohms_per_metre(REACTANCE_OHM_PER_METRE * sine);
    let drop: Voltage = 2.0 * impedance * length * current;
    match (region, tabulated_drop(cable, length, current)) {
        (Region::AusNz, Some(tabulated)) if tabulated > drop => Some(tabulated),
        _ => Some(drop),
    }
}

fn tabulated_drop(cable: &Cable, length: Length, current: Current) -> Option<Voltage> {
    let ConductorSize::Metric(area) = cable.size else {
        return None;
    };
    let three_phase = as_nzs_3008::three_phase_mv_per_ampere_metre(area)?;
    let millivolts = three_phase * as_nzs_3008::SINGLE_PHASE;
    Some(Voltage::new::<volt>(
        millivolts / 1000.0 * current.get::<ampere>() * length.get::<meter>(),
    ))
}

/// The temperature that a cable's insulation allows its conductors: resistance at it is never
/// less than in service.
#[must_use]
pub fn hottest(insulation: Insulation) -> Temperature {
    Temperature::new::<degree_celsius>(match insulation {
        Insulation::Thermoplastic60 => 60.0,
        Insulation::Thermoplastic70 => 70.0,
        Insulation::Thermosetting90 => 90.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Area;

    fn metric(mm2: f64) -> ConductorSize {
        ConductorSize::Metric(Area::new::<square_millimeter>(mm2))
    }

    /// Common practice, no source: 3 % more than solid. NEC Chapter 9 Table 8 has 7.95 over
    /// 7.77 Ω/1000 ft at 18 AWG, 2.3 %.
    #[test]
    fn a_stranded_conductor_that_no_table_has_takes_a_little_more_than_a_solid_one() {
        let at_20 = |conductor| {
            let cold = Temperature::new::<degree_celsius>(20.0);
            conductor_resistance(conductor, ConductorSize::Awg(20), cold).unwrap()
        };
        let times = at_20(Conductor::AwgStranded) / at_20(Conductor::AwgSolid);
        assert!((times.get::<ratio>() - 1.03).abs() < 1e-9);
    }

    /// IEC 60028 and ASTM B258, from memory: copper of 0.017241 Ω·mm²/m at 20 °C; AWG n has a
    /// diameter of 0.127 mm × 92^((36 − n)/39). At 70 °C it has 234.5 + 70 over 234.5 + 20 times as
    /// much.
    #[test]
    fn a_gauge_that_no_table_has_follows_from_its_diameter() {
        for gauge in [20, 21, 23] {
            let diameter = 0.127 * 92_f64.powf((36.0 - f64::from(gauge)) / 39.0);
            let area = std::f64::consts::PI / 4.0 * diameter * diameter;
            for (celsius, times) in [(20.0, 1.0), (70.0, 304.5 / 254.5)] {
                let temperature = Temperature::new::<degree_celsius>(celsius);
                let size = ConductorSize::Awg(gauge);
                let found = conductor_resistance(Conductor::AwgSolid, size, temperature).unwrap();
                let wanted = 0.017_241 / area * times;
                assert!(
                    (found.value / wanted - 1.0).abs() < 2e-3,
                    "AWG {gauge}, {celsius} °C: {} of {wanted} Ω/m",
                    found.value
                );
            }
        }
    }

    /// IEC 60228 has 0.5, 0.75, 1.0, 1.5 and 2.5 mm² one after the other; sizes in AWG go by twos.
    #[test]
    fn the_next_thinner_is_the_one_below_and_none_below_the_thinnest() {
        for (own, below) in [
            (metric(2.5), Some(metric(1.5))),
            (metric(0.75), Some(metric(0.5))),
            (metric(0.5), None),
            (ConductorSize::Awg(12), Some(ConductorSize::Awg(14))),
            (ConductorSize::Awg(18), Some(ConductorSize::Awg(20))),
            (ConductorSize::Awg(20), None),
        ] {
            assert_eq!(next_thinner(own), below, "{own:?}");
        }
    }
}

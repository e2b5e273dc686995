//! What a cable may carry: the region's table, corrected for ambient and neighbours, or the
//! maker's own figure.

use crate::model::cable::{Cable, CableUse, Insulation};
use crate::norms::iec_60364_5_52::{self, Insulated, Method};
use crate::norms::limit::Source;
use crate::norms::nec_ampacity::{self, Column};
use crate::norms::region::Region;
use crate::quantity::conductor::ConductorSize;
use crate::quantity::{Current, Temperature};

/// What a cable may carry in a place, and where that figure comes from; `None` where no table of
/// the region has a value and the maker gives none.
///
/// `ambient` is the air around the cable, `circuits` the number of cables bunched with it, itself
/// included (at least 1). Tables count two loaded cores, which a three-core tunable white feed
/// does not load further: its returns share the current of its plus core. Where the maker gives a
/// limit as well, the lesser counts. In `north-america` the 125 % for continuous load is not in
/// it: [`nec_ampacity::CONTINUOUS`] is put on the load. `aus-nz` has no table here.
#[must_use]
pub fn ampacity(
    cable: &Cable,
    region: Region,
    ambient: Temperature,
    circuits: usize,
    usage: CableUse,
) -> Option<(Current, Source)> {
    let tabulated = match region {
        Region::Iec => iec(cable, ambient, circuits),
        Region::NorthAmerica => nec(cable, ambient, circuits, usage),
        Region::AusNz => None,
    };
    match (tabulated, cable.most_current) {
        (Some((table, source)), Some(own)) if table <= own => Some((table, source)),
        (_, Some(own)) => Some((own, Source::Datasheet)),
        (tabulated, None) => tabulated,
    }
}

/// Laid in conduit or trunking (B2), the poorer of the two ways a lighting cable is laid.
fn iec(cable: &Cable, ambient: Temperature, circuits: usize) -> Option<(Current, Source)> {
    let ConductorSize::Metric(area) = cable.size else {
        return None;
    };
    let (insulated, source) = match cable.insulation {
        Insulation::Thermoplastic60 => return None,
        Insulation::Thermoplastic70 => (
            Insulated::Pvc,
            "IEC 60364-5-52 Tables B.52.2 (method B2), B.52.14, B.52.17",
        ),
        Insulation::Thermosetting90 => (
            Insulated::Xlpe,
            "IEC 60364-5-52 Tables B.52.3 (method B2), B.52.14, B.52.17",
        ),
    };
    let capacity = iec_60364_5_52::capacity(Method::B2, insulated, area)?;
    let factor = iec_60364_5_52::ambient_factor(insulated, ambient)?
        * iec_60364_5_52::grouping_factor(circuits)?;
    Some((capacity * factor, Source::Published(source)))
}

/// The insulation's column, corrected and adjusted. The 90 °C column serves to correct: the result
/// is no more than the 75 °C value, for the terminals (110.14(C), from memory), and no more than
/// the largest device where there is no such value. A mains branch circuit has at least 14 AWG.
fn nec(
    cable: &Cable,
    ambient: Temperature,
    circuits: usize,
    usage: CableUse,
) -> Option<(Current, Source)> {
    let ConductorSize::Awg(gauge) = cable.size else {
        return None;
    };
    if usage == CableUse::Mains && gauge > 14 {
        return None;
    }
    let column = match cable.insulation {
        Insulation::Thermoplastic60 => Column::Sixty,
        Insulation::Thermoplastic70 => Column::SeventyFive,
        Insulation::Thermosetting90 => Column::Ninety,
    };
    let corrected = nec_ampacity::ampacity(column, gauge)?
        * nec_ampacity::ambient_factor(column, ambient)?
        * nec_ampacity::adjustment(circuits * cable.cores);
    let cap = nec_ampacity::ampacity(Column::SeventyFive, gauge)
        .or_else(|| nec_ampacity::largest_device(gauge));
    match cap {
        Some(cap) if cap < corrected => Some((
            cap,
            Source::Published("NEC Table 310.16, within 110.14(C) and 240.4(D)"),
        )),
        _ => Some((
            corrected,
            Source::Published("NEC Tables 310.16, 310.15(B)(1), 310.15(C)(1)"),
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::cable::Conductor;
    use crate::model::offer::ItemKind;
    use crate::model::sample::offer;
    use crate::quantity::Area;
    use uom::si::area::square_millimeter;
    use uom::si::electric_current::ampere;
    use uom::si::thermodynamic_temperature::degree_celsius;

    fn cable(size: ConductorSize, insulation: Insulation, cores: usize) -> Cable {
        Cable {
            offer: offer("cable", ItemKind::Cable),
            uses: vec![CableUse::StripFeed],
            cores,
            size,
            conductor: Conductor::Class5,
            insulation,
            most_current: None,
            drums: Vec::new(),
            marking: Default::default(),
            detail: crate::model::cable::CableDetail::default(),
        }
    }

    fn metric(mm2: f64, insulation: Insulation) -> Cable {
        let size = ConductorSize::Metric(Area::new::<square_millimeter>(mm2));
        cable(size, insulation, 2)
    }

    fn amperes(
        cable: &Cable,
        region: Region,
        celsius: f64,
        circuits: usize,
        usage: CableUse,
    ) -> Option<f64> {
        let ambient = Temperature::new::<degree_celsius>(celsius);
        ampacity(cable, region, ambient, circuits, usage)
            .map(|(current, _)| current.get::<ampere>())
    }

    #[test]
    fn ambient_and_neighbours_lower_what_a_cable_may_carry() {
        // IEC 60364-5-52: 16.5 A × 0.87 at 40 °C × 0.70 for three circuits.
        let found = amperes(
            &metric(1.5, Insulation::Thermoplastic70),
            Region::Iec,
            40.0,
            3,
            CableUse::StripFeed,
        );
        assert!((found.unwrap() - 16.5 * 0.87 * 0.70).abs() < 1e-9);
        // NEC: 12 AWG, 75 °C column: 25 A × 0.88 at 40 °C × 0.80 for two cables of two cores.
        let twelve = cable(ConductorSize::Awg(12), Insulation::Thermoplastic70, 2);
        let found = amperes(&twelve, Region::NorthAmerica, 40.0, 2, CableUse::Mains);
        assert!((found.unwrap() - 25.0 * 0.88 * 0.80).abs() < 1e-9);
    }

    #[test]
    fn what_no_table_has_is_not_known() {
        let feed = CableUse::StripFeed;
        let thin = metric(0.75, Insulation::Thermoplastic70);
        assert_eq!(amperes(&thin, Region::Iec, 30.0, 1, feed), None);
        let one = metric(1.0, Insulation::Thermoplastic70);
        assert_eq!(amperes(&one, Region::Iec, 30.0, 1, feed), Some(13.0));
        assert_eq!(amperes(&one, Region::NorthAmerica, 30.0, 1, feed), None);
        assert_eq!(amperes(&one, Region::AusNz, 30.0, 1, feed), None);
        assert_eq!(amperes(&one, Region::Iec, 65.0, 1, feed), None);
        for insulation in [Insulation::Thermoplastic60, Insulation::Thermoplastic70] {
            for gauge in [18, 16] {
                let cable = cable(ConductorSize::Awg(gauge), insulation, 2);
                assert_eq!(amperes(&cable, Region::NorthAmerica, 30.0, 1, feed), None);
            }
        }
        let sixty = metric(1.5, Insulation::Thermoplastic60);
        assert_eq!(amperes(&sixty, Region::Iec, 30.0, 1, feed), None);
    }

    #[test]
    fn a_mains_branch_circuit_has_14_awg_at_least() {
        // NEC 210.24 (from memory): 14 AWG for 15 A; Table 310.16: 20 A at 75 °C.
        let of = |gauge, usage| {
            let cable = cable(ConductorSize::Awg(gauge), Insulation::Thermoplastic70, 2);
            amperes(&cable, Region::NorthAmerica, 30.0, 1, usage)
        };
        assert_eq!(of(14, CableUse::Mains), Some(20.0));
        assert_eq!(of(16, CableUse::Mains), None);
    }

    #[test]
    fn the_makers_limit_stands_in_or_is_the_lesser() {
        let mut thin = metric(0.75, Insulation::Thermoplastic70);
        thin.most_current = Some(Current::new::<ampere>(6.0));
        let feed = CableUse::StripFeed;
        assert_eq!(amperes(&thin, Region::Iec, 30.0, 1, feed), Some(6.0));
        assert_eq!(amperes(&thin, Region::AusNz, 30.0, 1, feed), Some(6.0));
        let mut thick = metric(2.5, Insulation::Thermoplastic70);
        thick.most_current = Some(Current::new::<ampere>(40.0));
        assert_eq!(amperes(&thick, Region::Iec, 30.0, 1, feed), Some(23.0));
        thick.most_current = Some(Current::new::<ampere>(10.0));
        assert_eq!(amperes(&thick, Region::Iec, 30.0, 1, feed), Some(10.0));
    }

    #[test]
    fn small_ninety_degree_conductors_are_capped_by_their_largest_device() {
        // NEC 240.4(D): 7 A on 18 AWG, though Table 310.16 has 14 A at 90 °C.
        let eighteen = cable(ConductorSize::Awg(18), Insulation::Thermosetting90, 2);
        let found = amperes(
            &eighteen,
            Region::NorthAmerica,
            30.0,
            1,
            CableUse::StripFeed,
        );
        assert_eq!(found, Some(7.0));
        let found = amperes(&eighteen, Region::NorthAmerica, 30.0, 1, CableUse::Mains);
        assert_eq!(found, None);
    }
}

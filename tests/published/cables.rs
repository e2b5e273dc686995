//! Copper, conductors, cables: resistance, ampacity and what corrects it.

use super::row::{Answer, Row};
use feedpoint::diagnostic::Place;
use feedpoint::model::cable::{Cable, CableUse, Conductor, Insulation};
use feedpoint::model::offer::{ItemKind, Offer};
use feedpoint::norms::iec_60364_5_52::{self as iec, Insulated, Method};
use feedpoint::norms::nec_ampacity::{self as nec, Column};
use feedpoint::norms::nec_resistance::{Strand, resistance_75};
use feedpoint::norms::{as_nzs_3008, astm_b258, copper};
use feedpoint::quantity::conductor::ConductorSize;
use feedpoint::quantity::{Area, Current, Length, ResistancePerLength, Temperature, length};
use feedpoint::solve::cable::{conductor_resistance, loop_drop};
use uom::si::area::square_millimeter;
use uom::si::electric_current::ampere;
use uom::si::length::{meter, millimeter};
use uom::si::thermodynamic_temperature::degree_celsius;

pub fn answer(row: &Row) -> Option<Answer> {
    let found = copper_row(row)
        .or_else(|| metric_row(row))
        .or_else(|| awg_row(row))
        .or_else(|| iec_row(row))
        .or_else(|| nec_row(row));
    found.map(Answer::Is).or_else(|| drop_table_row(row))
}

pub fn celsius(value: f64) -> Temperature {
    Temperature::new::<degree_celsius>(value)
}

pub fn mm2(value: f64) -> Area {
    Area::new::<square_millimeter>(value)
}

fn per_km(value: ResistancePerLength) -> f64 {
    value.value * 1000.0
}

fn amperes(current: Current) -> f64 {
    current.get::<ampere>()
}

/// A two-core cable.
pub fn cable(size: ConductorSize, conductor: Conductor) -> Cable {
    Cable {
        offer: Offer {
            id: "cable".into(),
            description: "cable".into(),
            kind: ItemKind::Cable,
            prices: Vec::new(),
            pack: 1,
            smallest_order: 1,
            lead_time_days: None,
            labour: None,
            price_valid_until: None,
            supplier: None,
            place: Place {
                file: "catalogue.yaml".into(),
                line: 1,
                column: 1,
            },
        },
        uses: vec![CableUse::StripFeed],
        cores: 2,
        size,
        conductor,
        insulation: Insulation::Thermoplastic70,
        most_current: None,
        drums: Vec::new(),
        marking: Default::default(),
        detail: Default::default(),
    }
}

fn copper_row(row: &Row) -> Option<f64> {
    let factor = row.number_after("cu-factor-");
    match row.id.as_str() {
        "cu-alpha-20" => Some(copper::PER_KELVIN_FROM_20),
        "cu-rho-20" => Some(copper::RESISTIVITY_20),
        "cu-gamma-20" => Some((1.0 / copper::RESISTIVITY_20 * 100.0).round() / 100.0),
        "cu-rho-service" => Some(copper::RESISTIVITY_IN_SERVICE),
        "cu-alpha-75" => Some(copper::PER_KELVIN_FROM_75),
        "ft-m" => length::read("1 ft").ok().map(|foot| foot.get::<meter>()),
        _ => factor.map(|hot| copper::over_20(celsius(hot))).or_else(|| {
            Some(copper::measured_to_20(celsius(
                row.number_after("r-to20-")?,
            )))
        }),
    }
}

fn metric_row(row: &Row) -> Option<f64> {
    let kinds = [
        ("r-plain-class12-", Conductor::Class1Or2),
        ("r-plain-class5-", Conductor::Class5),
        ("r-tinned-class5-", Conductor::Class5Tinned),
    ];
    let (conductor, size) = kinds
        .iter()
        .find_map(|(prefix, kind)| Some((*kind, row.number_after(prefix)?)))?;
    conductor_resistance(conductor, ConductorSize::Metric(mm2(size)), celsius(20.0)).map(per_km)
}

fn awg_row(row: &Row) -> Option<f64> {
    if let Some(gauge) = row.gauge_after("awg-d-") {
        return Some(astm_b258::diameter(gauge).get::<millimeter>());
    }
    if let Some(gauge) = row.gauge_after("awg-a-") {
        return Some(ConductorSize::Awg(gauge).area().get::<square_millimeter>());
    }
    if let Some(gauge) = row.gauge_after("nec-t8-coated-") {
        return resistance_75(Strand::StrandedCoated, gauge).map(per_1000_ft);
    }
    for (prefix, hot) in [("awg-r20-", 20.0), ("awg-r75-", 75.0)] {
        if let Some(gauge) = row.gauge_after(prefix) {
            let size = ConductorSize::Awg(gauge);
            return conductor_resistance(Conductor::AwgSolid, size, celsius(hot)).map(per_1000_ft);
        }
    }
    let at_75 = |conductor, gauge| {
        conductor_resistance(conductor, ConductorSize::Awg(gauge), celsius(75.0))
    };
    if let Some(gauge) = row.gauge_after("nec-t8-strand-km-") {
        // The table's two columns are rounded apart: 7.95 Ω/1000 ft is 26.08 Ω/km.
        let exact = per_km(at_75(Conductor::AwgStranded, gauge)?);
        return Some((exact * 10.0).round() / 10.0);
    }
    if let Some(gauge) = row.gauge_after("nec-t8-strand-") {
        return at_75(Conductor::AwgStranded, gauge).map(per_1000_ft);
    }
    let gauge = row.gauge_after("nec-t8-solid-")?;
    at_75(Conductor::AwgSolid, gauge).map(per_1000_ft)
}

fn per_1000_ft(value: ResistancePerLength) -> f64 {
    let thousand_feet = length::read("1000 ft").expect("a length");
    value.value * thousand_feet.get::<meter>()
}

fn iec_row(row: &Row) -> Option<f64> {
    let tables = [
        ("iec-b2-pvc-", Method::B2, Insulated::Pvc),
        ("sa-b2-", Method::B2, Insulated::Pvc),
        ("iec-c-pvc-", Method::C, Insulated::Pvc),
        ("iec-b2-xlpe-", Method::B2, Insulated::Xlpe),
        ("iec-c-xlpe-", Method::C, Insulated::Xlpe),
    ];
    for (prefix, method, insulated) in tables {
        if let Some(size) = row.number_after(prefix) {
            return iec::capacity(method, insulated, mm2(size)).map(amperes);
        }
    }
    if let Some(ambient) = row.number_after("iec-ta-pvc-") {
        return iec::ambient_factor(Insulated::Pvc, celsius(ambient));
    }
    if let Some(ambient) = row.number_after("iec-ta-xlpe-") {
        return iec::ambient_factor(Insulated::Xlpe, celsius(ambient));
    }
    let circuits = row.after("iec-group-")?.parse().ok()?;
    iec::grouping_factor(circuits)
}

fn column(name: &str) -> Option<Column> {
    match name {
        "60" => Some(Column::Sixty),
        "75" => Some(Column::SeventyFive),
        "90" => Some(Column::Ninety),
        _ => None,
    }
}

fn nec_row(row: &Row) -> Option<f64> {
    if row.id == "nec-continuous" {
        return Some(nec::CONTINUOUS);
    }
    if let Some(gauge) = row.gauge_after("nec-small-") {
        return nec::largest_device(gauge).map(amperes);
    }
    let mut rest = row.after("nec-")?.split('-');
    match rest.next()? {
        "adj" => {
            let band: Vec<usize> = rest.map(|bound| bound.parse().unwrap()).collect();
            let [low, high] = [nec::adjustment(band[0]), nec::adjustment(band[1])];
            (low == high).then_some(low)
        }
        "ta" => {
            let column = column(rest.next()?)?;
            let mut bounds =
                rest.map(|bound| nec::ambient_factor(column, celsius(bound.parse().unwrap())));
            let (low, high) = (bounds.next()??, bounds.next()??);
            (low == high).then_some(low)
        }
        name => {
            let column = column(name.strip_prefix("amp")?)?;
            nec::ampacity(column, rest.next()?.parse().ok()?).map(amperes)
        }
    }
}

/// Tables of millivolts per ampere and metre are rounded up from resistance at the working
/// temperature: at most 5 % apart in these sizes.
const TABLE: f64 = 0.05;

fn drop_table_row(row: &Row) -> Option<Answer> {
    let loop_at = |size: f64, conductor, hot: f64| {
        let cable = cable(ConductorSize::Metric(mm2(size)), conductor);
        let (length, current) = (Length::new::<meter>(1.0), Current::new::<ampere>(1.0));
        let drop = loop_drop(&cable, length, celsius(hot), current)?;
        Some(Answer::Near(drop.value * 1000.0, TABLE))
    };
    if row.id == "anz-1ph-factor" {
        return Some(Answer::Is(as_nzs_3008::SINGLE_PHASE));
    }
    if row.id == "uk-class5-factor" {
        return largest_class_5_share().map(|share| Answer::Near(share, 0.001));
    }
    if let Some(size) = row.number_after("anz-vc-") {
        return as_nzs_3008::three_phase_mv_per_ampere_metre(mm2(size)).map(Answer::Is);
    }
    if let Some(size) = row.number_after("uk-mvam-70-") {
        return loop_at(size, Conductor::Class1Or2, 70.0);
    }
    if let Some(size) = row.number_after("uk-mvam-90-") {
        return loop_at(size, Conductor::Class1Or2, 90.0);
    }
    loop_at(row.number_after("uk-mvam-flex-")?, Conductor::Class5, 60.0)
}

/// Class 5 over class 1 or 2, at its most.
fn largest_class_5_share() -> Option<f64> {
    let sizes = [0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0];
    let of = |conductor, size: f64| {
        conductor_resistance(conductor, ConductorSize::Metric(mm2(size)), celsius(20.0))
    };
    sizes
        .iter()
        .map(|size| Some((of(Conductor::Class5, *size)? / of(Conductor::Class1Or2, *size)?).value))
        .try_fold(0.0, |most: f64, share| Some(most.max(share?)))
}

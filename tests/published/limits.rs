//! Limits: voltage drop, extra-low voltage, power-limited circuits, breakers, leakage, ingress.

use super::row::{Answer, Row};
use feedpoint::norms::iec_60364_5_52::{Supplied, drop_for_length, most_drop};
use feedpoint::norms::iec_60898::{TripCurve, drivers_allowed_percent, instant_trip};
use feedpoint::norms::region::Region;
use feedpoint::norms::{
    defaults, iec_60364_4_41, iec_60529, iec_60898, light_modulation, nec_class_2, residual,
};
use feedpoint::quantity::{Current, Frequency, Length, Ratio, Voltage};
use uom::si::electric_current::milliampere;
use uom::si::electric_potential::volt;
use uom::si::frequency::hertz;
use uom::si::length::meter;
use uom::si::ratio::percent;

pub fn answer(row: &Row) -> Option<Answer> {
    if let Some(words) = ingress(row) {
        return Some(Answer::Says(words));
    }
    drop(row)
        .or_else(|| extra_low(row))
        .or_else(|| class_2(row))
        .or_else(|| breaker(row))
        .or_else(|| leakage(row))
        .or_else(|| modulation(row))
        .map(Answer::Is)
}

fn drop(row: &Row) -> Option<f64> {
    let share: Ratio = match row.id.as_str() {
        "vd-iec-light" => defaults::circuit_drop(Region::Iec).value,
        "vd-uk-light" => most_drop(Supplied::Publicly, true),
        "vd-iec-other" => most_drop(Supplied::Publicly, false),
        "vd-iec-light-private" => most_drop(Supplied::Privately, true),
        "vd-iec-other-private" => most_drop(Supplied::Privately, false),
        "vd-elv" => defaults::feed_drop(Region::Iec).value,
        "vd-na-branch" => defaults::circuit_drop(Region::NorthAmerica).value,
        "vd-anz" => defaults::circuit_drop(Region::AusNz).value,
        "vd-anz-elv" => defaults::feed_drop(Region::AusNz).value,
        "vd-iec-long" => drop_for_length(Length::new::<meter>(101.0)),
        "cove-10" => defaults::light_drop().value,
        _ => return None,
    };
    Some(share.get::<percent>())
}

fn extra_low(row: &Row) -> Option<f64> {
    let voltage = match row.id.as_str() {
        "elv-ac" => iec_60364_4_41::extra_low_ac(),
        "elv-dc" => iec_60364_4_41::extra_low_dc(),
        "selv-bare-dc" => iec_60364_4_41::touchable_dry_dc(),
        "selv-bare-ac" => iec_60364_4_41::touchable_dry_ac(),
        "selv-wet-dc" => iec_60364_4_41::touchable_wet_dc(),
        "class2-vmax" => nec_class_2::most_voltage(),
        _ => return None,
    };
    Some(voltage.get::<volt>())
}

fn class_2(row: &Row) -> Option<f64> {
    if let Some(volts) = row.number_after("class2-va-") {
        return nec_class_2::most_power(Voltage::new::<volt>(volts)).map(|power| power.value);
    }
    let volts = row.number_after("class2-a-")?;
    nec_class_2::most_current(Voltage::new::<volt>(volts)).map(|current| current.value)
}

fn curve(letter: &str) -> Option<TripCurve> {
    match letter {
        "B" => Some(TripCurve::B),
        "C" => Some(TripCurve::C),
        "D" => Some(TripCurve::D),
        _ => None,
    }
}

fn breaker(row: &Row) -> Option<f64> {
    match row.id.as_str() {
        "mcb-nontrip" => return Some(iec_60898::NOT_TRIPPING),
        "mcb-trip" => return Some(iec_60898::TRIPPING),
        _ => {}
    }
    if let Some(breaker) = row.after("inrush-") {
        let (letter, amperes) = breaker.split_at(1);
        let share = drivers_allowed_percent(curve(letter)?, amperes.parse().ok()?)?;
        return Some(f64::from(share));
    }
    let (letter, bound) = row.after("mcb-")?.split_once('-')?;
    let (low, high) = instant_trip(curve(letter)?);
    match bound {
        "lo" => Some(low),
        "hi" => Some(high),
        _ => None,
    }
}

fn leakage(row: &Row) -> Option<f64> {
    let rated = Current::new::<milliampere>(30.0);
    match row.id.as_str() {
        "rcd-share" => Some(residual::most_leakage_share().get::<percent>()),
        "rcd-30ma" => Some(residual::most_leakage(rated).get::<milliampere>()),
        "rcd-trip" => Some(residual::may_trip_from(rated).get::<milliampere>()),
        _ => None,
    }
}

fn modulation(row: &Row) -> Option<f64> {
    match row.id.as_str() {
        "pst-lm" => return Some(light_modulation::MOST_PST_LM),
        "svm" => return Some(light_modulation::MOST_SVM),
        _ => {}
    }
    let frequency = Frequency::new::<hertz>(row.number_after("low-risk-")?);
    Some(light_modulation::low_risk_depth(frequency).get::<percent>())
}

fn ingress(row: &Row) -> Option<&'static str> {
    if let Some(numeral) = row.after("ip-first-") {
        return iec_60529::solids(numeral.parse().ok()?);
    }
    iec_60529::water(row.after("ip-second-")?.parse().ok()?)
}

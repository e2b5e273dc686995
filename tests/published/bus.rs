//! The control bus: limits, cable, levels, fades.

use super::cables::{cable, celsius, mm2};
use super::row::{Answer, Row};
use feedpoint::model::cable::Conductor;
use feedpoint::norms::iec_62386 as bus;
use feedpoint::quantity::conductor::ConductorSize;
use feedpoint::quantity::number::real;
use feedpoint::quantity::{Length, Ratio};
use feedpoint::solve::cable::longest;
use feedpoint::solve::dimming;
use uom::si::electric_current::milliampere;
use uom::si::electric_potential::volt;
use uom::si::length::meter;
use uom::si::ratio::percent;
use uom::si::time::{minute, second};

pub fn answer(row: &Row) -> Option<Answer> {
    counts(row)
        .or_else(|| voltages(row))
        .or_else(|| lengths(row))
        .or_else(|| levels(row))
        .or_else(|| fades(row))
        .map(Answer::Is)
}

fn counts(row: &Row) -> Option<f64> {
    let (least, most) = bus::MIREK;
    match row.id.as_str() {
        "bus-gear" => Some(real(bus::GEAR)),
        "bus-dev" => Some(real(bus::CONTROL_DEVICES)),
        "bus-groups" => Some(real(bus::GROUPS)),
        "bus-scenes" => Some(real(bus::SCENES)),
        "bus-dev-groups" => Some(real(bus::CONTROL_DEVICE_GROUPS)),
        "bus-baud" => Some(f64::from(bus::BITS_PER_SECOND)),
        "bus-i-max" => Some(bus::most_supply().get::<milliampere>()),
        "bus-i-gear" => Some(bus::gear_current().get::<milliampere>()),
        "bus-64-current" => Some((bus::gear_current() * real(bus::GEAR)).get::<milliampere>()),
        "part209-one-address" => Some(real(bus::COLOUR_TEMPERATURE_ADDRESSES)),
        "tc-min" => Some(f64::from(least)),
        "tc-max" => Some(f64::from(most)),
        _ => None,
    }
}

fn voltages(row: &Row) -> Option<f64> {
    let levels = bus::voltages();
    let voltage = match row.id.as_str() {
        "bus-v-min" => levels.receiver_high_least,
        "bus-v-max" => levels.receiver_high_most,
        "bus-v-typ" => levels.idle,
        "bus-v-low-hi" => levels.receiver_low_most,
        "bus-tx-hi" => levels.sender_high_least,
        "bus-tx-max" => levels.sender_high_most,
        "bus-tx-lo" => levels.sender_low_most,
        "bus-drop" => bus::most_drop(),
        _ => return None,
    };
    Some(voltage.get::<volt>())
}

fn lengths(row: &Row) -> Option<f64> {
    let metres = |length: Length| length.get::<meter>();
    if row.id == "bus-len" {
        return bus::longest(mm2(1.5)).map(metres);
    }
    if let Some(size) = row.number_after("bus-len-") {
        return bus::longest(mm2(size)).map(metres);
    }
    let mut parts = row.after("bus-run-")?.split('-');
    let conductor = match parts.next()? {
        "12" => Conductor::Class1Or2,
        "5" => Conductor::Class5,
        _ => return None,
    };
    let size = ConductorSize::Metric(mm2(parts.next()?.parse().ok()?));
    let temperature = celsius(parts.next()?.parse().ok()?);
    longest(
        &cable(size, conductor),
        temperature,
        bus::most_supply(),
        bus::most_drop(),
    )
    .map(metres)
}

fn levels(row: &Row) -> Option<f64> {
    if row.id == "dim-step" {
        return Some(dimming::step_ratio());
    }
    if let Some(wanted) = row.number_after("dim-level-") {
        return dimming::level(Ratio::new::<percent>(wanted)).map(f64::from);
    }
    let level = row.after("dim-")?.parse().ok()?;
    dimming::light(level).map(|light| light.get::<percent>())
}

fn fades(row: &Row) -> Option<f64> {
    if row.id == "fade-ext-max" {
        return Some(dimming::longest_fade().get::<minute>());
    }
    if let Some(code) = row.after("fade-rate-") {
        return dimming::fade_rate(code.parse().ok()?);
    }
    let code = row.after("fade-")?.parse().ok()?;
    let time = dimming::fade(code)?;
    assert_eq!(dimming::fade_code(time), code, "{}", row.id);
    Some(time.get::<second>())
}

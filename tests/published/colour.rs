//! Black bodies, mixed whites, mirek.

use super::row::{Answer, Row};
use feedpoint::quantity::Temperature;
use feedpoint::solve::colour::{Chromaticity, MOST_DISTANCE, STEP, mix};
use feedpoint::solve::dimming::mirek;
use feedpoint::solve::planck::C2;
use uom::si::thermodynamic_temperature::kelvin;

pub fn answer(row: &Row) -> Option<Answer> {
    let of = |value: f64| Temperature::new::<kelvin>(value);
    let found = if let Some(value) = row.number_after("mirek-") {
        f64::from(mirek(of(value))?)
    } else if let Some(value) = row.number_after("planck-x-") {
        Chromaticity::black_body(of(value)).x
    } else if let Some(value) = row.number_after("planck-y-") {
        Chromaticity::black_body(of(value)).y
    } else if let Some(steps) = row.number_after("sdcm-") {
        steps * STEP
    } else {
        match row.id.as_str() {
            "cct-valid" => MOST_DISTANCE,
            "c2" => C2,
            _ => mixed(row)?,
        }
    };
    Some(Answer::Is(found))
}

/// `mix-t-2765-25`: temperature (t) or Duv (d) of 2700 K and 6500 K, 25 % of the lumens from 2700 K.
fn mixed(row: &Row) -> Option<f64> {
    let mut parts = row.after("mix-")?.split('-');
    let (figure, pair, share) = (parts.next()?, parts.next()?, parts.next()?);
    let body = |hundreds: &str| {
        let value: f64 = hundreds.parse().ok()?;
        Some(Chromaticity::black_body(Temperature::new::<kelvin>(
            100.0 * value,
        )))
    };
    let (warm, cool) = pair.split_at(2);
    let warm_share: f64 = share.parse().ok()?;
    let white = mix(body(warm)?, body(cool)?, 1.0 - warm_share / 100.0).white()?;
    match figure {
        "t" => Some(white.temperature.get::<kelvin>()),
        "d" => Some(white.duv),
        _ => None,
    }
}

//! What instruments and lengths of cable add to a band. Common practice throughout, no source:
//! what good site instruments have on their sheets.

use super::list::Expected;
use crate::model::cable::Cable;
use crate::quantity::figure::Unit;
use crate::quantity::{Length, Temperature};
use crate::solve::cable::core_resistance;
use crate::solve::expected::{Band, CABLE_LENGTH};
use uom::si::electrical_resistance::ohm;
use uom::si::length::meter;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Of a voltmeter, as a share of its reading.
pub(in crate::present) const VOLTS: f64 = 0.005;
/// Of a clamp meter, as a share of its reading.
pub(in crate::present) const CLAMP: f64 = 0.02;
/// Of a low-ohm meter, as a share of its reading.
pub(in crate::present) const LOW_OHMS: f64 = 0.05;
/// What its leads and clips add or take, in Ω.
pub(in crate::present) const LEADS_OHM: f64 = 0.02;

/// The last digit of a mains voltmeter, in V: the difference of two of its readings may be out by
/// two.
pub(in crate::present) const MAINS_DIGIT_VOLT: f64 = 0.1;
/// What of a circuit's cable lies within the panel and the unit it feeds, which no route counts, in
/// m: all of it where the unit stands in the panel.
const TAILS_M: f64 = 1.0;

/// A cable's temperature while it is tested dead.
pub(in crate::present) fn cold() -> Temperature {
    Temperature::new::<degree_celsius>(20.0)
}

/// The reading that a band of true values comes to on a meter with an error of `share`.
pub(in crate::present) fn read(band: Band<f64>, share: f64, unit: Unit) -> Expected {
    let (low, high) = (band.low * (1.0 - share), band.high * (1.0 + share));
    Expected::between(Some(band.expected), low, high, unit)
}

/// Most that two cores of a circuit read whose unit stands in the panel, linked at the unit, cold.
pub(in crate::present) fn tails_of(cable: &Cable) -> Option<f64> {
    let core = core_resistance(cable, Length::new::<meter>(TAILS_M), cold())?;
    Some(2.0 * core.get::<ohm>() * (1.0 + LOW_OHMS) + LEADS_OHM)
}

/// Two cores of a cable in series, linked at the far end, cold.
pub(in crate::present) fn loop_of(cable: &Cable, length: Length) -> Expected {
    let Some(core) = core_resistance(cable, length, cold()) else {
        return Expected::Unknown(format!("no table has the conductor of {}", cable.offer.id));
    };
    let expected = 2.0 * core.get::<ohm>();
    let low = expected * (1.0 - CABLE_LENGTH) * (1.0 - LOW_OHMS) - LEADS_OHM;
    let high = expected * (1.0 + CABLE_LENGTH) * (1.0 + LOW_OHMS) + LEADS_OHM;
    Expected::between(Some(expected), low.max(0.0), high, Unit::Ohm)
}

//! What instruments and lengths of cable add to a band. Common practice throughout, no source:
//! what good site instruments have on their sheets.

use super::list::Expected;
use crate::model::cable::Cable;
use crate::quantity::figure::Unit;
use crate::quantity::{Length, Temperature};
use crate::solve::cable::core_resistance;
use crate::solve::expected::{Band, CABLE_LENGTH};
use uom::si::electrical_resistance::ohm;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Of a voltmeter, as a share of its reading.
pub(in crate::present) const VOLTS: f64 = 0.005;
/// Of a clamp meter, as a share of its reading.
pub(in crate::present) const CLAMP: f64 = 0.02;
/// Of a low-ohm meter, as a share of its reading.
pub(in crate::present) const LOW_OHMS: f64 = 0.05;
/// What its leads and clips add or take, in Ω.
pub(in crate::present) const LEADS_OHM: f64 = 0.02;

/// A cable's temperature while it is tested dead.
pub(in crate::present) fn cold() -> Temperature {
    Temperature::new::<degree_celsius>(20.0)
}

/// The reading that a band of true values comes to on a meter with an error of `share`.
pub(in crate::present) fn read(band: Band<f64>, share: f64, unit: Unit) -> Expected {
    let (low, high) = (band.low * (1.0 - share), band.high * (1.0 + share));
    Expected::between(Some(band.expected), low, high, unit)
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

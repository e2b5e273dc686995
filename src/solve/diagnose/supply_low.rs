//! A driver output that is set low.

use super::fault::{Fault, Number, Spot};
use crate::quantity::Voltage;
use crate::quantity::figure::Unit;
use uom::si::electric_potential::volt;

/// The output gives less than its nominal voltage. Common practice, no source, for what is tried:
/// 60 to 98 % of it.
pub(super) const FAULT: Fault = Fault {
    key: "supply-low",
    name: "driver output set low",
    check: "volts at the driver's terminals at full level, then its trimmer or setting",
    number: Some(Number {
        unit: Unit::Volt,
        range: |case| [0.60, 0.98].map(|share| share * case.ladder.supply.get::<volt>()),
    }),
    one_place: false,
    spots: |_, _| vec![Spot::default()],
    inflict: |site, _, _, volts| site.ladder.supply = Voltage::new::<volt>(volts),
};

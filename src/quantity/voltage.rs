//! Voltages: `24 V`, `230 V`.

use super::kind::{Kind, UnitSign};
use super::{Voltage, grammar};
use uom::si::electric_potential::volt;

/// Voltages.
pub static KIND: Kind = Kind {
    what: "a voltage",
    units: &[
        UnitSign::new(&["V"], 1.0, 1.0),
        UnitSign::new(&["mV"], 1.0, 1000.0),
        UnitSign::new(&["kV"], 1000.0, 1.0),
    ],
    chains: false,
    example: "24 V",
};

/// Reads a voltage.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<Voltage, grammar::Misread> {
    grammar::read(text, &KIND).map(Voltage::new::<volt>)
}

/// Writes a voltage so that [`read`] gives it back.
#[must_use]
pub fn write(value: Voltage) -> String {
    grammar::write(value.get::<volt>(), &KIND)
}

//! Powers: `120 W`.

use super::kind::{Kind, UnitSign};
use super::{Power, grammar};
use uom::si::power::watt;

/// Powers.
pub static KIND: Kind = Kind {
    what: "a power",
    units: &[
        UnitSign::new(&["W"], 1.0, 1.0),
        UnitSign::new(&["kW"], 1000.0, 1.0),
        UnitSign::new(&["mW"], 1.0, 1000.0),
    ],
    chains: false,
    example: "120 W",
};

/// Reads a power.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<Power, grammar::Misread> {
    grammar::read(text, &KIND).map(Power::new::<watt>)
}

/// Writes a power so that [`read`] gives it back.
#[must_use]
pub fn write(value: Power) -> String {
    grammar::write(value.get::<watt>(), &KIND)
}

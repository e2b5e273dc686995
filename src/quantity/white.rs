//! Whites by their correlated colour temperature: `2700 K`.

use super::kind::{Kind, UnitSign};
use super::{Temperature, grammar};
use uom::si::thermodynamic_temperature::kelvin;

/// Colour temperatures.
pub static KIND: Kind = Kind {
    what: "a colour temperature",
    units: &[UnitSign::new(&["K"], 1.0, 1.0)],
    chains: false,
    example: "2700 K",
};

/// Reads a colour temperature.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<Temperature, grammar::Misread> {
    grammar::read(text, &KIND).map(Temperature::new::<kelvin>)
}

/// Writes a colour temperature so that [`read`] gives it back.
#[must_use]
pub fn write(value: Temperature) -> String {
    grammar::write(value.get::<kelvin>(), &KIND)
}

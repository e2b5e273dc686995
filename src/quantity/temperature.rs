//! Temperatures of places and things: `35 °C`, `95 °F`, `35 C`. Whites are in `white`.

use super::kind::{Kind, UnitSign};
use super::{Temperature, grammar};
use uom::si::thermodynamic_temperature::kelvin;

/// Temperatures.
pub static KIND: Kind = Kind {
    what: "a temperature",
    units: &[
        UnitSign {
            signs: &["°C", "\u{2103}", "C"],
            shift: 273.15,
            times: 1.0,
            over: 1.0,
        },
        UnitSign {
            signs: &["°F", "\u{2109}", "F"],
            shift: 459.67,
            times: 5.0,
            over: 9.0,
        },
    ],
    chains: false,
    example: "35 °C",
};

/// Reads a temperature.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<Temperature, grammar::Misread> {
    grammar::read(text, &KIND).map(Temperature::new::<kelvin>)
}

/// Writes a temperature so that [`read`] gives it back.
#[must_use]
pub fn write(value: Temperature) -> String {
    grammar::write(value.get::<kelvin>(), &KIND)
}

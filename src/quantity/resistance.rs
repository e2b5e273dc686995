//! Resistances: `0.09 ohm`, `90 mΩ`.

use super::kind::{Kind, UnitSign};
use super::{Resistance, grammar};
use uom::si::electrical_resistance::ohm;

/// Resistances.
pub static KIND: Kind = Kind {
    what: "a resistance",
    units: &[
        // Greek omega U+03A9 and the ohm sign U+2126.
        UnitSign::new(&["ohm", "ohms", "\u{3a9}", "\u{2126}"], 1.0, 1.0),
        UnitSign::new(&["mohm", "m\u{3a9}", "m\u{2126}"], 1.0, 1000.0),
        UnitSign::new(&["Mohm", "M\u{3a9}", "M\u{2126}"], 1e6, 1.0),
    ],
    chains: false,
    example: "0.09 ohm",
};

/// Reads a resistance.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<Resistance, grammar::Misread> {
    grammar::read(text, &KIND).map(Resistance::new::<ohm>)
}

/// Writes a resistance so that [`read`] gives it back.
#[must_use]
pub fn write(value: Resistance) -> String {
    grammar::write(value.get::<ohm>(), &KIND)
}

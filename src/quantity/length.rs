//! Lengths: `12.4 m`, `1240 cm`, `32 ft 6 in`, `6' 4"`, `70 um`.

use super::kind::{Kind, UnitSign};
use super::{Length, grammar};
use uom::si::length::meter;

/// Lengths.
pub static KIND: Kind = Kind {
    what: "a length",
    units: &[
        UnitSign::new(&["m", "metre", "metres", "meter", "meters"], 1.0, 1.0),
        UnitSign::new(&["cm"], 1.0, 100.0),
        UnitSign::new(&["mm"], 1.0, 1000.0),
        // Micro sign U+00B5 and Greek mu U+03BC.
        UnitSign::new(&["um", "\u{b5}m", "\u{3bc}m"], 1.0, 1e6),
        UnitSign::new(&["km"], 1000.0, 1.0),
        UnitSign::new(
            &["ft", "foot", "feet", "\u{27}", "\u{2032}"],
            3048.0,
            10_000.0,
        ),
        UnitSign::new(&["in", "inch", "inches", "\"", "\u{2033}"], 254.0, 10_000.0),
    ],
    chains: true,
    example: "12.4 m",
};

/// Reads a length.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<Length, grammar::Misread> {
    grammar::read(text, &KIND).map(Length::new::<meter>)
}

/// Writes a length so that [`read`] gives it back.
#[must_use]
pub fn write(value: Length) -> String {
    grammar::write(value.get::<meter>(), &KIND)
}

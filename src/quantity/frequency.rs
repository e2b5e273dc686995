//! Frequencies: `50 Hz`.

use super::kind::{Kind, UnitSign};
use super::{Frequency, grammar};
use uom::si::frequency::hertz;

/// Frequencies.
pub static KIND: Kind = Kind {
    what: "a frequency",
    units: &[
        UnitSign::new(&["Hz"], 1.0, 1.0),
        UnitSign::new(&["kHz"], 1000.0, 1.0),
    ],
    chains: false,
    example: "50 Hz",
};

/// Reads a frequency.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<Frequency, grammar::Misread> {
    grammar::read(text, &KIND).map(Frequency::new::<hertz>)
}

/// Writes a frequency so that [`read`] gives it back.
#[must_use]
pub fn write(value: Frequency) -> String {
    grammar::write(value.get::<hertz>(), &KIND)
}

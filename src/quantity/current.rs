//! Currents: `2 mA`, `3.4 A`.

use super::kind::{Kind, UnitSign};
use super::{Current, grammar};
use uom::si::electric_current::ampere;

/// Currents.
pub static KIND: Kind = Kind {
    what: "a current",
    units: &[
        UnitSign::new(&["A"], 1.0, 1.0),
        UnitSign::new(&["mA"], 1.0, 1000.0),
        UnitSign::new(&["uA", "\u{b5}A", "\u{3bc}A"], 1.0, 1e6),
    ],
    chains: false,
    example: "2 mA",
};

/// Reads a current.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<Current, grammar::Misread> {
    grammar::read(text, &KIND).map(Current::new::<ampere>)
}

/// Writes a current so that [`read`] gives it back.
#[must_use]
pub fn write(value: Current) -> String {
    grammar::write(value.get::<ampere>(), &KIND)
}

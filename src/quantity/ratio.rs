//! Shares: `10 %`.

use super::kind::{Kind, UnitSign};
use super::{Ratio, grammar};
use uom::si::ratio::ratio;

/// Shares.
pub static KIND: Kind = Kind {
    what: "a share",
    units: &[UnitSign::new(&["%", "percent"], 1.0, 100.0)],
    chains: false,
    example: "10 %",
};

/// Reads a share.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<Ratio, grammar::Misread> {
    grammar::read(text, &KIND).map(Ratio::new::<ratio>)
}

/// Writes a share so that [`read`] gives it back.
#[must_use]
pub fn write(value: Ratio) -> String {
    grammar::write(value.get::<ratio>(), &KIND)
}

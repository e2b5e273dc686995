//! Colour differences in steps of 0.0011 in u′v′: `3 steps`.

use super::grammar;
use super::kind::{Kind, UnitSign};

/// Colour steps.
pub static KIND: Kind = Kind {
    what: "a colour difference",
    units: &[UnitSign::new(&["steps", "step"], 1.0, 1.0)],
    chains: false,
    example: "3 steps",
};

/// Reads a number of colour steps.
///
/// # Errors
/// When the text is not a number of steps.
pub fn read(text: &str) -> Result<f64, grammar::Misread> {
    grammar::read(text, &KIND)
}

//! Times by which things are delivered: `5 days`, `2 weeks`.

use super::grammar;
use super::kind::{Kind, UnitSign};

/// Days.
pub static KIND: Kind = Kind {
    what: "a number of days",
    units: &[
        UnitSign::new(&["days", "day", "d"], 1.0, 1.0),
        UnitSign::new(&["weeks", "week"], 7.0, 1.0),
    ],
    chains: false,
    example: "5 days",
};

/// Reads a number of days.
///
/// # Errors
/// When the text is not a number of days or weeks.
pub fn read(text: &str) -> Result<f64, grammar::Misread> {
    grammar::read(text, &KIND)
}

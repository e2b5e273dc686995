//! Times: `12 min`, `0.5 h`, `90 s`, `1 h 30 min`.

use super::kind::{Kind, UnitSign};
use super::{Time, grammar};
use uom::si::time::second;

/// Times.
pub static KIND: Kind = Kind {
    what: "a time",
    units: &[
        UnitSign::new(&["min", "minutes"], 60.0, 1.0),
        UnitSign::new(&["h", "hours"], 3600.0, 1.0),
        UnitSign::new(&["s", "seconds"], 1.0, 1.0),
        UnitSign::new(&["ms"], 1.0, 1000.0),
    ],
    chains: true,
    example: "12 min",
};

/// Reads a time.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<Time, grammar::Misread> {
    grammar::read(text, &KIND).map(Time::new::<second>)
}

/// Writes a time so that [`read`] gives it back.
#[must_use]
pub fn write(value: Time) -> String {
    grammar::write(value.get::<second>(), &KIND)
}

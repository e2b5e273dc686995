//! Power per length of strip: `14.4 W/m`, `4.4 W/ft`.

use super::kind::{Kind, UnitSign};
use super::{PowerPerLength, grammar};
use uom::si::linear_power_density::watt_per_meter;

/// Powers per length.
pub static KIND: Kind = Kind {
    what: "a power per length",
    units: &[
        UnitSign::new(&["W/m"], 1.0, 1.0),
        UnitSign::new(&["W/ft"], 10_000.0, 3048.0),
    ],
    chains: false,
    example: "14.4 W/m",
};

/// Reads a power per length.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<PowerPerLength, grammar::Misread> {
    grammar::read(text, &KIND).map(PowerPerLength::new::<watt_per_meter>)
}

/// Writes a power per length so that [`read`] gives it back.
#[must_use]
pub fn write(value: PowerPerLength) -> String {
    grammar::write(value.get::<watt_per_meter>(), &KIND)
}

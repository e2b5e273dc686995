//! Resistance per length: `0.05 ohm/m`, `50 mΩ/m`, `8.21 ohm/km`.

use super::kind::{Kind, UnitSign};
use super::{ResistancePerLength, grammar};

/// Resistances per length.
pub static KIND: Kind = Kind {
    what: "a resistance per length",
    units: &[
        UnitSign::new(&["ohm/m", "\u{3a9}/m", "\u{2126}/m"], 1.0, 1.0),
        UnitSign::new(&["mohm/m", "m\u{3a9}/m", "m\u{2126}/m"], 1.0, 1000.0),
        UnitSign::new(&["ohm/km", "\u{3a9}/km", "\u{2126}/km"], 1.0, 1000.0),
        UnitSign::new(&["ohm/ft", "\u{3a9}/ft", "\u{2126}/ft"], 10_000.0, 3048.0),
    ],
    chains: false,
    example: "0.05 ohm/m",
};

/// Reads a resistance per length.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<ResistancePerLength, grammar::Misread> {
    grammar::read(text, &KIND).map(ohms_per_metre)
}

/// Writes a resistance per length so that [`read`] gives it back.
#[must_use]
pub fn write(value: ResistancePerLength) -> String {
    grammar::write(value.value, &KIND)
}

/// A resistance per length from a number of Ω/m, which `uom` has no unit for.
#[must_use]
pub fn ohms_per_metre(value: f64) -> ResistancePerLength {
    ResistancePerLength {
        dimension: std::marker::PhantomData,
        units: std::marker::PhantomData,
        value,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Current, Length, Voltage};
    use uom::si::{electric_current::ampere, electric_potential::volt, length::meter};

    #[test]
    fn ok_both_ohm_signs_and_the_word() {
        for text in [
            "0.05 ohm/m",
            "0.05 \u{3a9}/m",
            "50 m\u{2126}/m",
            "50 ohm/km",
        ] {
            assert_eq!(read(text).expect(text).value, 0.05, "{text}");
        }
    }

    /// Ohm's law along a conductor: drop = I · r · L.
    #[test]
    fn ok_drop_is_current_times_resistance_per_length_times_length() {
        let drop: Voltage =
            Current::new::<ampere>(2.0) * ohms_per_metre(0.05) * Length::new::<meter>(10.0);
        assert_eq!(drop.get::<volt>(), 1.0);
    }
}

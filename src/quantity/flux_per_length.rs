//! Light per length of strip: `850 lm/m`, `260 lm/ft`.

use super::kind::{Kind, UnitSign};
use super::{FluxPerLength, grammar};

/// Fluxes per length.
pub static KIND: Kind = Kind {
    what: "a luminous flux per length",
    units: &[
        UnitSign::new(&["lm/m"], 1.0, 1.0),
        UnitSign::new(&["lm/ft"], 10_000.0, 3048.0),
    ],
    chains: false,
    example: "850 lm/m",
};

/// Reads a luminous flux per length.
///
/// # Errors
/// When the text is not a number with one of the units above.
pub fn read(text: &str) -> Result<FluxPerLength, grammar::Misread> {
    grammar::read(text, &KIND).map(lumens_per_metre)
}

/// Writes a luminous flux per length so that [`read`] gives it back.
#[must_use]
pub fn write(value: FluxPerLength) -> String {
    grammar::write(value.value, &KIND)
}

/// A flux per length from a number of lm/m, which `uom` has no unit for.
#[must_use]
pub fn lumens_per_metre(value: f64) -> FluxPerLength {
    FluxPerLength {
        dimension: std::marker::PhantomData,
        units: std::marker::PhantomData,
        value,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ok_per_foot_is_per_0_3048_m() {
        assert_eq!(read("850 lm/m").expect("lm/m").value, 850.0);
        assert_eq!(read("304.8 lm/ft").expect("lm/ft").value, 1000.0);
    }
}

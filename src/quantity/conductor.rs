//! The size of a conductor: square millimetres or American wire gauge, never one for the other.

use super::kind::{Kind, UnitSign};
use super::{Area, grammar};
use num_traits::ToPrimitive;
use uom::si::area::{square_meter, square_millimeter};

/// A conductor's cross-section, in the system in which it is sold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ConductorSize {
    /// Nominal cross-section in square millimetres.
    Metric(Area),
    /// American wire gauge: 18 is 18 AWG, 0 is 1/0, −1 is 2/0, −3 is 4/0.
    Awg(i32),
}

impl ConductorSize {
    /// The cross-section. For AWG: π/4 · (0.127 mm · 92^((36 − n)/39))², ASTM B258.
    #[must_use]
    pub fn area(self) -> Area {
        match self {
            ConductorSize::Metric(area) => area,
            ConductorSize::Awg(gauge) => {
                let diameter_mm = 0.127 * 92_f64.powf((36.0 - f64::from(gauge)) / 39.0);
                Area::new::<square_millimeter>(std::f64::consts::FRAC_PI_4 * diameter_mm.powi(2))
            }
        }
    }
}

/// Conductor sizes. AWG, which is a number and no multiple of anything, is read apart.
pub static KIND: Kind = Kind {
    what: "a conductor size",
    units: &[
        UnitSign::new(&["mm²", "mm2", "mm^2"], 1.0, 1e6),
        // Listed so that errors name it; its numbers never come through here.
        UnitSign::new(&["AWG", "awg"], 1.0, 1.0),
    ],
    chains: false,
    example: "1.5 mm²",
};

/// Reads a conductor size: `1.5 mm²`, `1.5 mm2`, `18 AWG`, `AWG 18`, `1/0 AWG`.
///
/// # Errors
/// When the text is neither a number of mm² nor a gauge from 40 to 4/0.
pub fn read(text: &str) -> Result<ConductorSize, grammar::Misread> {
    if let Some(number) = beside_awg(text) {
        return gauge(number.trim())
            .map(ConductorSize::Awg)
            .ok_or_else(|| grammar::Misread {
                why: grammar::Why::NoNumber(text.trim().to_owned()),
                at: 0..text.len(),
                kind: &KIND,
            });
    }
    let si = grammar::read(text, &KIND)?;
    Ok(ConductorSize::Metric(Area::new::<square_meter>(si)))
}

/// What stands beside the letters AWG, on either side of them.
fn beside_awg(text: &str) -> Option<&str> {
    let text = text.trim();
    ["AWG", "awg"]
        .into_iter()
        .find_map(|sign| text.strip_suffix(sign).or_else(|| text.strip_prefix(sign)))
}

/// A gauge number: 18, 0, 1/0 to 4/0.
fn gauge(number: &str) -> Option<i32> {
    if let Some(zeros) = number.strip_suffix("/0") {
        let zeros: i32 = zeros.parse().ok()?;
        return (1..=4).contains(&zeros).then_some(1 - zeros);
    }
    let gauge: i32 = number.parse().ok()?;
    (0..=40).contains(&gauge).then_some(gauge)
}

/// Writes a conductor size as it is printed and read: `1.5 mm²`, `18 AWG`, `1/0 AWG`.
#[must_use]
pub fn write(size: ConductorSize) -> String {
    match size {
        ConductorSize::Metric(area) => grammar::write(area.get::<square_meter>(), &KIND),
        ConductorSize::Awg(gauge) if gauge <= 0 => format!("{}/0 AWG", 1 - gauge),
        ConductorSize::Awg(gauge) => format!("{gauge} AWG"),
    }
}

impl std::fmt::Display for ConductorSize {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&write(*self))
    }
}

/// The nominal cross-section in hundredths of a square millimetre, to compare sizes exactly.
#[must_use]
pub fn hundredths(area: Area) -> Option<u32> {
    (area.get::<square_millimeter>() * 100.0).round().to_u32()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ok_square_millimetres_in_three_spellings() {
        for text in ["1.5 mm²", "1.5mm2", "1.5 mm^2"] {
            let size = read(text).expect(text);
            assert_eq!(write(size), "1.5 mm²");
            assert_eq!(hundredths(size.area()), Some(150));
        }
    }

    /// Areas from ASTM B258 (from memory): 18 AWG 0.823, 4/0 AWG 107.2 mm².
    #[test]
    fn ok_gauges_and_their_areas() {
        let cases = [
            ("18 AWG", 18, 0.823),
            ("AWG 18", 18, 0.823),
            ("4/0 AWG", -3, 107.2),
        ];
        for (text, gauge, area) in cases {
            let size = read(text).expect(text);
            assert_eq!(size, ConductorSize::Awg(gauge));
            let found = size.area().get::<square_millimeter>();
            assert!((found / area - 1.0).abs() < 1e-3, "{text}: {found}");
        }
        assert_eq!(write(ConductorSize::Awg(0)), "1/0 AWG");
        assert_eq!(read("1/0 AWG").expect("1/0"), ConductorSize::Awg(0));
    }

    #[test]
    fn err_neither_mm2_nor_a_gauge() {
        for text in ["3 m", "1.5", "5/0 AWG", "99 AWG", "x AWG", "-2 AWG", "AWG"] {
            assert!(read(text).is_err(), "{text}");
        }
    }
}

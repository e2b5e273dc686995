//! A number and its unit, as people write them: `12.4 m`, `12m`, `32 ft 6 in`, `6' 4"`, `1.5 mm²`.
//!
//! ```text
//! quantity = [sign] number unit { number unit }      a chain only where the kind allows it
//! number   = digits [ "." digits ] | "." digits
//! unit     = one of the signs in the kind's table, spaces before it as you like
//! ```
//!
//! No exponents, no thousands separators, no decimal commas: none of them is unambiguous on a
//! drawing. A chain goes from the larger unit to the smaller, with only the last number broken.

use super::kind::{Kind, UnitSign, named};
use std::ops::Range;

/// What could not be read as a quantity. Places are byte offsets in the text that was read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{why}: {} is written in {}, as in `{}`", .kind.what, .kind.fits(), .kind.example)]
pub struct Misread {
    /// What is wrong with it.
    pub why: Why,
    /// The part of the text at fault.
    pub at: Range<usize>,
    /// What it was read as.
    pub kind: &'static Kind,
}

/// What is wrong with the text.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Why {
    /// A chain that goes up, repeats a unit, or breaks a number before its last.
    #[error("`{0}` does not go on from the larger unit to the smaller")]
    Chain(String),
    /// A comma where the decimal point belongs.
    #[error("`{0}` has a comma: the decimal sign is a point")]
    Comma(String),
    /// Nothing but spaces.
    #[error("nothing is written")]
    Empty,
    /// No number at its beginning.
    #[error("`{0}` does not begin with a number")]
    NoNumber(String),
    /// A number too large to hold.
    #[error("`{0}` is too large a number")]
    NotFinite(String),
    /// A unit of something else.
    #[error("`{read}` is {other}")]
    OtherKind {
        /// The text read.
        read: String,
        /// What it is: "a power".
        other: &'static str,
    },
    /// A number without a unit.
    #[error("`{0}` has no unit")]
    UnitMissing(String),
    /// A unit that nothing here is measured in.
    #[error("`{0}` is not a unit known here")]
    UnitUnknown(String),
}

/// Reads `text` as a quantity of `kind`, in its SI unit. Always finite.
///
/// # Errors
/// When the text is not a number with a unit of that kind; the error says which units fit.
pub fn read(text: &str, kind: &'static Kind) -> Result<f64, Misread> {
    let mut reading = Reading { text, at: 0, kind };
    reading.skip_spaces();
    if reading.rest().is_empty() {
        return Err(reading.fault(Why::Empty, 0..text.len()));
    }
    let negative = reading.sign();
    let mut total = 0.0;
    let mut larger: Option<(&'static UnitSign, f64)> = None;
    loop {
        let begin = reading.at;
        let number = reading.number()?;
        reading.skip_spaces();
        let unit = reading.unit(begin)?;
        if let Some((above, its_number)) = larger {
            reading.check_chain(begin, above, its_number, unit, number)?;
        }
        total += unit.to_si(if negative { -number } else { number });
        larger = Some((unit, number));
        reading.skip_spaces();
        if reading.rest().is_empty() {
            // A number that can be held may be too large in the SI unit.
            if !total.is_finite() {
                let why = Why::NotFinite(text.trim().to_owned());
                return Err(reading.fault(why, 0..text.len()));
            }
            return Ok(total);
        }
    }
}

/// A text being read, and how far it has been.
struct Reading<'a> {
    text: &'a str,
    at: usize,
    kind: &'static Kind,
}

impl<'a> Reading<'a> {
    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn fault(&self, why: Why, at: Range<usize>) -> Misread {
        Misread {
            why,
            at,
            kind: self.kind,
        }
    }

    fn skip_spaces(&mut self) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
    }

    /// Takes a sign; true when it is a minus.
    fn sign(&mut self) -> bool {
        let Some(first) = self.rest().chars().next() else {
            return false;
        };
        if matches!(first, '+' | '-' | '−') {
            self.at += first.len_utf8();
        }
        matches!(first, '-' | '−')
    }

    /// Takes digits with at most one decimal point among them.
    fn number(&mut self) -> Result<f64, Misread> {
        let rest = self.rest();
        let is_number = |c: char| c.is_ascii_digit() || c == '.';
        let length = rest.find(|c| !is_number(c)).unwrap_or(rest.len());
        let (digits, after) = rest.split_at_checked(length).unwrap_or((rest, ""));
        let first = rest.chars().next().map_or(0, char::len_utf8);
        let here = self.at..self.at + length.max(first);
        let number: f64 = digits
            .parse()
            .map_err(|_| self.fault(Why::NoNumber(self.text.trim().to_owned()), here.clone()))?;
        if !number.is_finite() {
            return Err(self.fault(Why::NotFinite(self.text.trim().to_owned()), here));
        }
        if after.starts_with(',') {
            let comma = here.end..here.end + 1;
            return Err(self.fault(Why::Comma(self.text.trim().to_owned()), comma));
        }
        self.at += length;
        Ok(number)
    }

    /// Takes the longest unit sign of the kind that ends where a unit can end.
    fn unit(&mut self, number_at: usize) -> Result<&'static UnitSign, Misread> {
        let rest = self.rest();
        let found = self.kind.longest(rest);
        if let Some((unit, sign)) = found {
            self.at += sign.len();
            return Ok(unit);
        }
        let word = rest.split_whitespace().next().unwrap_or_default();
        let at = self.at..self.at + word.len();
        if word.is_empty() || word.starts_with(|c: char| c.is_ascii_digit()) {
            let read = self.text.get(number_at..).unwrap_or_default().trim();
            let all = number_at..number_at + read.len();
            return Err(self.fault(Why::UnitMissing(read.to_owned()), all));
        }
        let why = match named(rest) {
            Some(other) => Why::OtherKind {
                read: self.text.trim().to_owned(),
                other: other.what,
            },
            None => Why::UnitUnknown(word.to_owned()),
        };
        Err(self.fault(why, at))
    }

    /// Whether `number unit` may follow `its_number above`.
    fn check_chain(
        &self,
        begin: usize,
        above: &UnitSign,
        its_number: f64,
        unit: &UnitSign,
        number: f64,
    ) -> Result<(), Misread> {
        let goes_down = unit.to_si(1.0) < above.to_si(1.0);
        let fits_below = unit.to_si(number) < above.to_si(1.0);
        if self.kind.chains && goes_down && fits_below && its_number.fract() == 0.0 {
            return Ok(());
        }
        let why = Why::Chain(self.text.trim().to_owned());
        Err(self.fault(why, begin..self.at))
    }
}

/// Writes a value in SI as it can be read again: the shortest number that means the same, in the
/// first unit of the kind's table.
#[must_use]
pub fn write(si: f64, kind: &Kind) -> String {
    let Some(unit) = kind.units.first() else {
        return si.to_string();
    };
    let number = unit.from_si(si);
    let text = (0..=17)
        .map(|digits| format!("{number:.digits$}"))
        .find(|text| {
            text.parse::<f64>()
                .is_ok_and(|read| (read - number).abs() <= number.abs() * 1e-12)
        })
        .unwrap_or_else(|| number.to_string());
    format!("{text} {}", unit.sign())
}

#[cfg(test)]
mod tests {
    use super::super::{length, power, temperature, voltage};
    use super::*;

    #[test]
    fn broken_a_number_that_its_unit_makes_too_large() {
        let text = format!("1{} km", "0".repeat(308));
        let misread = length::read(&text).unwrap_err();
        assert!(matches!(misread.why, Why::NotFinite(_)), "{misread:?}");
    }

    fn message(text: &str) -> String {
        length::read(text).expect_err(text).to_string()
    }

    fn place(text: &str) -> Range<usize> {
        length::read(text).expect_err(text).at
    }

    #[test]
    fn err_a_bare_number_names_the_units_that_fit() {
        assert_eq!(
            message("18.4"),
            "`18.4` has no unit: a length is written in m, cm, mm, um, km, ft or in, as in `12.4 m`"
        );
        assert_eq!(place(" 18.4 "), 1..5);
    }

    #[test]
    fn err_a_unit_of_another_kind_is_named() {
        let fault = voltage::read("24 W").expect_err("a power");
        assert_eq!(
            fault.to_string(),
            "`24 W` is a power: a voltage is written in V, mV or kV, as in `24 V`"
        );
        assert_eq!(fault.at, 3..4);
    }

    #[test]
    fn err_what_is_not_a_finite_number_is_refused() {
        for text in [
            "nan m", "inf m", "-inf m", ".inf", "NaN", "m", "- m", "1e5 m", "1.2.3 m",
        ] {
            assert!(length::read(text).is_err(), "{text}");
        }
        let huge = format!("{} m", "9".repeat(400));
        let fault = length::read(&huge).expect_err("overflow");
        assert!(matches!(fault.why, Why::NotFinite(_)));
    }

    #[test]
    fn err_empty_comma_unknown_unit() {
        assert!(matches!(length::read("  ").expect_err("").why, Why::Empty));
        assert_eq!(place("12,4 m"), 2..3);
        assert_eq!(place("12.4 furlongs"), 5..13);
        assert!(message("12.4 furlongs").starts_with("`furlongs` is not a unit known here"));
    }

    #[test]
    fn err_chains_go_down_and_only_the_last_number_is_broken() {
        for text in [
            "6 in 2 ft",
            "6 ft 14 in",
            "6.5 ft 2 in",
            "6 ft 2 ft",
            "1 m 2",
        ] {
            assert!(length::read(text).is_err(), "{text}");
        }
        assert!(power::read("1 kW 200 W").is_err(), "powers are not chained");
    }

    #[test]
    fn ok_spaces_of_any_kind_and_signs() {
        let narrow = "12.4\u{202f}m";
        for text in [
            "12.4 m",
            "12.4m",
            "  12.4   m ",
            narrow,
            "+12.4 m",
            "12.40 m",
        ] {
            assert_eq!(length::read(text).expect(text).value, 12.4, "{text}");
        }
        let below = temperature::read("\u{2212}10 °C").expect("minus sign");
        assert!((below.value - 263.15).abs() < 1e-9);
    }
}

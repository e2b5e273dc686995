//! A kind of quantity: what it is called and the units it is written in.

use super::{
    conductor, current, days, flux_per_length, frequency, length, power, power_per_length, ratio,
    resistance, resistance_per_length, steps, temperature, time, voltage, white,
};

/// A kind of quantity as it is written.
#[derive(Debug, PartialEq)]
pub struct Kind {
    /// Its name with an article: "a length".
    pub what: &'static str,
    /// Its units, the one it is written in first.
    pub units: &'static [UnitSign],
    /// Whether several numbers may follow each other: `6 ft 4 in`.
    pub chains: bool,
    /// One as it should be written.
    pub example: &'static str,
}

/// A unit: the signs by which it is known, and what one of it is worth in SI:
/// si = (number + shift) · times / over. Two factors, because most are whole and then exact.
#[derive(Debug, PartialEq)]
pub struct UnitSign {
    /// Signs, the one that is printed first.
    pub signs: &'static [&'static str],
    /// Added to the number first (temperatures).
    pub shift: f64,
    /// Multiplies.
    pub times: f64,
    /// Divides.
    pub over: f64,
}

impl UnitSign {
    /// A unit whose zero is the SI unit's zero.
    #[must_use]
    pub const fn new(signs: &'static [&'static str], times: f64, over: f64) -> Self {
        UnitSign {
            signs,
            shift: 0.0,
            times,
            over,
        }
    }

    /// The SI value of `number` of this unit.
    #[must_use]
    pub fn to_si(&self, number: f64) -> f64 {
        (number + self.shift) * self.times / self.over
    }

    /// How many of this unit an SI value is.
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        si * self.over / self.times - self.shift
    }

    /// The sign that is printed.
    #[must_use]
    pub fn sign(&self) -> &'static str {
        self.signs.first().copied().unwrap_or_default()
    }
}

impl Kind {
    /// Its units' printed signs in words: "m, cm or mm".
    #[must_use]
    pub fn fits(&self) -> String {
        let signs: Vec<_> = self.units.iter().map(UnitSign::sign).collect();
        match signs.split_last() {
            Some((last, [])) => (*last).to_owned(),
            Some((last, others)) => format!("{} or {last}", others.join(", ")),
            None => String::new(),
        }
    }

    /// The unit with the longest sign that `text` begins with and that ends there: what follows
    /// is a space, a number or nothing.
    #[must_use]
    pub fn longest(&self, text: &str) -> Option<(&UnitSign, &'static str)> {
        let signs = self
            .units
            .iter()
            .flat_map(|unit| unit.signs.iter().map(move |sign| (unit, *sign)));
        signs
            .filter(|(_, sign)| {
                text.strip_prefix(sign)
                    .is_some_and(|rest| rest.chars().next().is_none_or(ends_unit))
            })
            .max_by_key(|(_, sign)| sign.len())
    }
}

fn ends_unit(next: char) -> bool {
    next.is_whitespace() || next.is_ascii_digit()
}

/// Every kind there is.
pub static ALL: [&Kind; 16] = [
    &length::KIND,
    &voltage::KIND,
    &current::KIND,
    &power::KIND,
    &power_per_length::KIND,
    &flux_per_length::KIND,
    &resistance::KIND,
    &resistance_per_length::KIND,
    &conductor::KIND,
    &temperature::KIND,
    &white::KIND,
    &ratio::KIND,
    &time::KIND,
    &days::KIND,
    &frequency::KIND,
    &steps::KIND,
];

/// The kind whose unit `text` begins with.
#[must_use]
pub fn named(text: &str) -> Option<&'static Kind> {
    ALL.into_iter().find(|kind| kind.longest(text).is_some())
}

#[cfg(test)]
mod tests {
    use super::super::grammar;
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn ok_no_sign_stands_for_two_units() {
        let mut seen = std::collections::BTreeMap::new();
        for kind in ALL {
            for sign in kind.units.iter().flat_map(|unit| unit.signs) {
                let before = seen.insert(*sign, kind.what);
                assert!(before.is_none(), "`{sign}`: {before:?} and {}", kind.what);
            }
        }
    }

    #[test]
    fn ok_each_example_reads_as_its_own_kind() {
        for kind in ALL {
            assert!(
                grammar::read(kind.example, kind).is_ok(),
                "{}",
                kind.example
            );
        }
    }

    proptest! {
        #![proptest_config(crate::cases::cases(256))]

        #[test]
        fn ok_what_is_written_reads_back(si in -1e6_f64..1e6, which in 0..ALL.len()) {
            let kind = ALL[which];
            let read = grammar::read(&grammar::write(si, kind), kind).expect("own writing");
            prop_assert!((read - si).abs() <= 1e-9 * si.abs().max(1e-3), "{read} for {si}");
        }

        #[test]
        fn ok_every_sign_reads_as_its_unit(number in 0_u32..100_000, which in 0..ALL.len()) {
            let kind = ALL[which];
            for unit in kind.units {
                for sign in unit.signs {
                    let expected = unit.to_si(f64::from(number));
                    for text in [format!("{number} {sign}"), format!("{number}{sign}")] {
                        let read = grammar::read(&text, kind).expect(&text);
                        prop_assert_eq!(read, expected, "{}", text);
                    }
                }
            }
        }

        #[test]
        fn ok_any_text_is_read_or_refused_with_a_place_inside_it(text in ".{0,24}") {
            for kind in ALL {
                if let Err(fault) = grammar::read(&text, kind) {
                    prop_assert!(text.get(fault.at.clone()).is_some(), "{fault:?}");
                }
            }
        }
    }
}

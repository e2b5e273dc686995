//! Amounts of money as text: plain for files, and as the region writes them for people.
//!
//! The decimal sign is a point everywhere, as for all other figures that are printed. Region iec
//! groups digits with a space (ISO 80000-1, 7.3.1) and puts the currency after the amount;
//! north-america and aus-nz group with commas and put it before (common practice, no source).

use crate::norms::region::Region;
use rust_decimal::{Decimal, RoundingStrategy};

/// With all decimals of the currency: `41.20`.
#[must_use]
pub fn shown(amount: Decimal, decimals: u32) -> String {
    let mut rounded =
        amount.round_dp_with_strategy(decimals, RoundingStrategy::MidpointAwayFromZero);
    rounded.rescale(decimals);
    rounded.to_string()
}

/// How digits are grouped in threes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Grouping {
    /// With a space that no line breaks at.
    #[default]
    Space,
    /// With a comma.
    Comma,
}

impl Grouping {
    /// As a region does it.
    #[must_use]
    pub fn of(region: Region) -> Grouping {
        match region {
            Region::Iec => Grouping::Space,
            Region::NorthAmerica | Region::AusNz => Grouping::Comma,
        }
    }

    /// What stands between two groups.
    #[must_use]
    pub fn sign(self) -> char {
        match self {
            Grouping::Space => '\u{a0}',
            Grouping::Comma => ',',
        }
    }
}

/// With all decimals of the currency and its digits in groups: `1 041.20`.
#[must_use]
pub fn grouped(amount: Decimal, decimals: u32, grouping: Grouping) -> String {
    let commas = crate::quantity::money::show(amount, decimals);
    commas.replace(',', &grouping.sign().to_string())
}

/// With its currency, as the region writes it: `1 041.20 EUR`, `USD 1,041.20`.
#[must_use]
pub fn with_currency(amount: Decimal, currency: &str, decimals: u32, region: Region) -> String {
    let amount = grouped(amount, decimals, Grouping::of(region));
    match region {
        Region::Iec => format!("{amount} {currency}"),
        Region::NorthAmerica | Region::AusNz => format!("{currency} {amount}"),
    }
}

#[cfg(test)]
mod tests {
    use super::{Grouping, grouped, shown, with_currency};
    use crate::norms::region::Region;
    use rust_decimal::Decimal;

    #[test]
    fn people_read_groups_and_the_currency_where_they_expect_it() {
        let amount: Decimal = "-1234567.5".parse().unwrap();
        let space = grouped(amount, 2, Grouping::Space);
        assert_eq!(space, "-1\u{a0}234\u{a0}567.50");
        let iec = with_currency(amount, "EUR", 2, Region::Iec);
        assert_eq!(iec, "-1\u{a0}234\u{a0}567.50 EUR");
        let other = with_currency(amount, "USD", 2, Region::NorthAmerica);
        assert_eq!(other, "USD -1,234,567.50");
    }

    #[test]
    fn all_decimals_of_the_currency_are_shown() {
        let cases = [
            ("41.2", 2, "41.20"),
            ("0.005", 2, "0.01"),
            ("1200", 0, "1200"),
            ("-3.1", 2, "-3.10"),
        ];
        for (amount, decimals, expected) in cases {
            assert_eq!(
                shown(amount.parse::<Decimal>().unwrap(), decimals),
                expected
            );
        }
    }
}

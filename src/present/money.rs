//! Amounts of money as text.

use rust_decimal::{Decimal, RoundingStrategy};

/// With all decimals of the currency: `41.20`.
#[must_use]
pub fn shown(amount: Decimal, decimals: u32) -> String {
    let mut rounded =
        amount.round_dp_with_strategy(decimals, RoundingStrategy::MidpointAwayFromZero);
    rounded.rescale(decimals);
    rounded.to_string()
}

#[cfg(test)]
mod tests {
    use super::shown;
    use rust_decimal::Decimal;

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

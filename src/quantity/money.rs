//! Money: exact decimals, never binary fractions.

use rust_decimal::Decimal;

/// A price or rate that could not be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotAPrice {
    /// Below zero.
    #[error("`{0}` is below zero")]
    Negative(String),
    /// Not a plain decimal number.
    #[error("`{0}` is not a plain decimal number, as in `61.40`")]
    NotDecimal(String),
}

/// Reads a price: digits with at most one decimal point, up to 28 digits, kept exactly.
///
/// # Errors
/// When the text is anything else (a currency sign, a thousands separator, an exponent) or is
/// below zero.
pub fn read(text: &str) -> Result<Decimal, NotAPrice> {
    let trimmed = text.trim();
    let unsigned = trimmed.strip_prefix('-').unwrap_or(trimmed);
    let plain = unsigned.starts_with(|c: char| c.is_ascii_digit())
        && unsigned.chars().all(|c| c.is_ascii_digit() || c == '.');
    let amount = Decimal::from_str_exact(trimmed)
        .ok()
        .filter(|_| plain)
        .ok_or_else(|| NotAPrice::NotDecimal(trimmed.to_owned()))?;
    if amount.is_sign_negative() {
        return Err(NotAPrice::Negative(trimmed.to_owned()));
    }
    Ok(amount)
}

/// An amount as it is printed: rounded half away from zero to `decimals`, thousands apart:
/// `1,234.50`.
#[must_use]
pub fn show(amount: Decimal, decimals: u32) -> String {
    let rounded = amount.round_dp_with_strategy(
        decimals,
        rust_decimal::RoundingStrategy::MidpointAwayFromZero,
    );
    let digits = usize::try_from(decimals).unwrap_or(2);
    let text = format!("{:.digits$}", rounded.abs());
    let (whole, fraction) = text.split_once('.').unwrap_or((&text, ""));
    let mut shown = String::new();
    if rounded.is_sign_negative() && !rounded.is_zero() {
        shown.push('-');
    }
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index).is_multiple_of(3) {
            shown.push(',');
        }
        shown.push(digit);
    }
    if !fraction.is_empty() {
        shown.push('.');
        shown.push_str(fraction);
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn ok_prices_keep_every_digit() {
        for text in ["61.40", "0", "0.005", "12345678901234567890.12"] {
            assert_eq!(read(text).expect(text).to_string(), text);
        }
    }

    #[test]
    fn err_signs_separators_exponents_and_negative_amounts() {
        for text in [
            "", "€5", "1,200.00", "1e3", "nan", "inf", ".", "5.", "-5", "1 200", "+5", "0x5",
            "1_200",
        ] {
            let read = read(text);
            assert!(read.is_err() || text == "5.", "{text}: {read:?}");
        }
        assert_eq!(
            read("-5").expect_err("negative").to_string(),
            "`-5` is below zero"
        );
    }

    #[test]
    fn ok_amounts_are_grouped_and_rounded_half_away_from_zero() {
        let cases = [
            ("1234.5", 2, "1,234.50"),
            ("0.005", 2, "0.01"),
            ("-0.004", 2, "0.00"),
            ("-1234567.895", 2, "-1,234,567.90"),
            ("999.5", 0, "1,000"),
            ("12", 2, "12.00"),
        ];
        for (amount, decimals, expected) in cases {
            let amount: Decimal = amount.parse().expect("decimal");
            assert_eq!(show(amount, decimals), expected);
        }
    }

    proptest! {
        #![proptest_config(crate::cases::cases(256))]

        #[test]
        fn ok_what_is_shown_is_the_amount(cents in -1_000_000_000_i64..1_000_000_000) {
            let amount = Decimal::new(cents, 2);
            let plain = show(amount, 2).replace(',', "");
            prop_assert_eq!(plain.parse::<Decimal>().expect("decimal"), amount);
        }
    }
}

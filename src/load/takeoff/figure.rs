//! Numbers as take-offs have them, with a decimal point or comma, and what the sheet shows of which.

use super::sheet::Sheet;

/// What parts a number's whole from its fraction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DecimalSign {
    /// `12.4`
    Point,
    /// `12,4`
    Comma,
}

impl DecimalSign {
    fn sign(self) -> char {
        match self {
            DecimalSign::Point => '.',
            DecimalSign::Comma => ',',
        }
    }
}

/// What is known of a sheet's decimal sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Known {
    /// The user says so.
    Asked(DecimalSign),
    /// Its other numbers show it.
    Shown(DecimalSign),
    /// Nothing shows it.
    Nothing,
}

/// What a sheet shows of its numbers: the decimal sign, where some number can only be read with
/// one of the two and none only with the other.
#[must_use]
pub fn shown_by(sheet: &Sheet, figures: &[usize]) -> Known {
    if sheet.comma_parts {
        return Known::Shown(DecimalSign::Point);
    }
    let mut signs = Vec::new();
    for row in &sheet.rows {
        let cells = figures.iter().map(|column| row.cell(*column));
        signs.extend(
            cells
                .flat_map(|cell| cell.split_whitespace())
                .filter_map(only_with),
        );
    }
    signs.sort_unstable();
    signs.dedup();
    match signs.as_slice() {
        [one] => Known::Shown(*one),
        _ => Known::Nothing,
    }
}

/// The decimal sign without which a number can't be read.
fn only_with(text: &str) -> Option<DecimalSign> {
    let digits: String = text
        .chars()
        .take_while(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
        .collect();
    let last = digits.rfind(['.', ','])?;
    let (whole, fraction) = digits.split_at_checked(last)?;
    let sign = if fraction.starts_with('.') {
        DecimalSign::Point
    } else {
        DecimalSign::Comma
    };
    let other = if sign == DecimalSign::Point { ',' } else { '.' };
    let fraction_digits = fraction.len() - 1;
    let repeated = whole.contains(sign.sign());
    if repeated {
        return None;
    }
    // `0,400` and `1.234,500` can't be read another way; `1,234` can.
    let told =
        fraction_digits != 3 || whole.contains(other) || whole.len() > 3 || whole.starts_with('0');
    (told && fraction_digits > 0).then_some(sign)
}

/// A number's digits with a decimal point, thousands run together; or why they can't be told.
///
/// # Errors
/// When the number could be two, and nothing says which.
pub fn plain(number: &str, known: Known) -> Result<String, String> {
    let asked = match known {
        Known::Asked(sign) => Some(sign),
        Known::Shown(sign) if number.contains(sign.sign()) => Some(sign),
        _ => None,
    };
    let Some(sign) = only_with(number).or(asked) else {
        let one_point = !number.contains(',') && number.matches('.').count() <= 1;
        let by_comma = known == Known::Shown(DecimalSign::Comma) && number.contains('.');
        if one_point && !by_comma {
            return Ok(number.to_owned());
        }
        let could_be = |sign| plain(number, Known::Asked(sign)).is_ok();
        if !could_be(DecimalSign::Point) && !could_be(DecimalSign::Comma) {
            return Err(format!("`{number}` is not a number"));
        }
        return Err(format!(
            "`{number}` could be two numbers: say `--decimal comma` or `--decimal point`"
        ));
    };
    let thousands = if sign == DecimalSign::Point { ',' } else { '.' };
    let (whole, fraction) = match number.split_once(sign.sign()) {
        Some((whole, fraction)) => (whole, Some(fraction)),
        None => (number, None),
    };
    let groups: Vec<&str> = whole.split(thousands).collect();
    let grouped = groups.len() == 1
        || groups.iter().skip(1).all(|group| group.len() == 3)
            && groups
                .first()
                .is_some_and(|first| (1..=3).contains(&first.len()));
    let digits = |text: &str| text.chars().all(|c| c.is_ascii_digit());
    if !grouped || !groups.iter().all(|group| digits(group)) || !fraction.is_none_or(digits) {
        return Err(format!("`{number}` is not a number"));
    }
    let whole = groups.concat();
    Ok(match fraction {
        Some(fraction) => format!("{whole}.{fraction}"),
        None => whole,
    })
}

/// The text with each number in it made plain: `12,4 m` → `12.4 m`, `40 ft 8,5 in` → `40 ft 8.5 in`.
///
/// # Errors
/// When a number in it could be two.
pub fn plain_text(text: &str, known: Known) -> Result<String, String> {
    let mut plainly = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let at = match rest.get(..at) {
            Some(before) if before.ends_with(['.', ',']) => at - 1,
            _ => at,
        };
        let (before, from) = rest.split_at_checked(at).unwrap_or((rest, ""));
        let number = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',');
        let end = from.find(|c| !number(c)).unwrap_or(from.len());
        let (digits, after) = from.split_at_checked(end).unwrap_or((from, ""));
        plainly.push_str(before);
        plainly.push_str(&plain(digits, known)?);
        rest = after;
    }
    plainly.push_str(rest);
    Ok(plainly)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ok_numbers_that_can_be_read_one_way_are() {
        for (text, expected) in [
            ("12.4", "12.4"),
            ("12,4", "12.4"),
            ("0,400", "0.400"),
            ("1.234,5", "1234.5"),
            ("1,234.50", "1234.50"),
            ("18", "18"),
            (",5", ".5"),
            ("12345,678", "12345.678"),
            ("3.125", "3.125"),
        ] {
            assert_eq!(
                plain(text, Known::Nothing).as_deref(),
                Ok(expected),
                "{text}"
            );
        }
    }

    #[test]
    fn err_a_number_that_could_be_two_is_not_guessed() {
        plain("1,234", Known::Nothing).expect_err("1.234 or 1234");
        assert_eq!(
            plain("1,234", Known::Asked(DecimalSign::Comma)).as_deref(),
            Ok("1.234")
        );
        assert_eq!(
            plain("1,234", Known::Asked(DecimalSign::Point)).as_deref(),
            Ok("1234")
        );
        assert_eq!(
            plain("1.234", Known::Asked(DecimalSign::Comma)).as_deref(),
            Ok("1234")
        );
        plain("1.234", Known::Shown(DecimalSign::Comma)).expect_err("1234 or a point mistyped");
        let shown = Known::Shown(DecimalSign::Comma);
        assert_eq!(plain("3,125", shown).as_deref(), Ok("3.125"));
        plain("1.2.3", Known::Nothing).expect_err("no number");
        plain("12,34,5", Known::Asked(DecimalSign::Point)).expect_err("no number");
    }

    #[test]
    fn ok_each_number_of_a_text_is_made_plain() {
        assert_eq!(
            plain_text("40 ft 8,5 in", Known::Nothing).as_deref(),
            Ok("40 ft 8.5 in")
        );
        assert_eq!(
            plain_text("-3,5 m", Known::Nothing).as_deref(),
            Ok("-3.5 m")
        );
    }
}

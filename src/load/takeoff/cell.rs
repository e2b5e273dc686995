//! A cell's text → a value in the project file's words, or why it can't be read.

use super::fields::{self, Field, FieldUnit, Kind};
use super::figure::{Known, plain_text};
use crate::diagnostic::Source;
use crate::load::document;
use crate::load::feed::Feed;
use crate::load::measure::{Ambient, Distance, Extent};
use crate::load::node::Content;
use crate::load::plain::{Name, Text};
use crate::load::written::Reads;
use std::sync::Arc;

/// Stands before a cell that is to be taken as it is written, as spreadsheets have it for text.
pub const LITERAL: char = '\'';

/// Nothing is said.
const NOTHING: [&str; 4] = ["", "-", "–", "—"];
/// There is none.
const NONE: [&str; 8] = [
    "n/a",
    "na",
    "n.a.",
    "none",
    "nil",
    "no",
    "not reachable",
    "n",
];
/// It is not decided.
const OPEN: [&str; 8] = [
    "?",
    "??",
    "tbc",
    "tba",
    "tbd",
    "t.b.c.",
    "to be confirmed",
    "to be decided",
];
/// The same as above.
const DITTO: [&str; 8] = ["\"", "''", "do", "do.", "ditto", "as above", "-\"-", "〃"];
const YES: [&str; 8] = ["yes", "y", "true", "t", "x", "✓", "✔", "1"];
const NO: [&str; 7] = ["no", "n", "false", "f", "✗", "✘", "0"];
/// Runs that one row may stand for.
const MOST_ALIKE: usize = 500;

/// Ways of feeding in other words.
const FEEDS: [(&str, &[&str]); 4] = [
    (
        "start",
        &["near end", "one end", "start end", "at start", "from start"],
    ),
    ("end", &["far end", "at end", "from end"]),
    ("both ends", &["both", "each end", "two ends", "2 ends"]),
    (
        "middle",
        &["centre", "center", "mid", "centre feed", "center feed"],
    ),
];

/// What a column's bare numbers mean.
#[derive(Debug, Clone, Copy)]
pub struct Numbers {
    /// Unit of the column, from its heading or the user.
    pub unit: Option<FieldUnit>,
    /// The sheet's decimal sign.
    pub decimal: Known,
}

/// Whether the cell says "as above".
#[must_use]
pub fn is_ditto(text: &str) -> bool {
    DITTO.contains(&text.to_lowercase().as_str())
}

/// A text marked to be taken literally. One of nothing but the mark gets one more: two of them alone
/// are a ditto sign.
#[must_use]
pub fn literal(text: &str) -> String {
    let more = if only_marks(text) { "'" } else { "" };
    format!("{LITERAL}{more}{text}")
}

/// The text of a cell that is marked to be taken literally.
#[must_use]
pub fn literally(cell: &str) -> Option<&str> {
    let text = cell.strip_prefix(LITERAL)?;
    let marks = text.strip_prefix(LITERAL).filter(|rest| only_marks(rest));
    Some(marks.unwrap_or(text))
}

fn only_marks(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|c| c == LITERAL)
}

/// Reads a cell. `None`: it says nothing, or that there is none.
///
/// # Errors
/// Why it can't be read, and what would be right.
pub fn read(text: &str, field: &Field, numbers: Numbers) -> Result<Option<String>, String> {
    if let Some(literal) = literally(text) {
        return checked(literal, field).map(Some);
    }
    let low = text.to_lowercase();
    let low = low.trim();
    if NOTHING.contains(&low) {
        return Ok(None);
    }
    if OPEN.contains(&low) {
        return Err("it is not decided: write the value".to_owned());
    }
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    match field.kind {
        Kind::Distance if NONE.contains(&low) => Ok(None),
        Kind::Name if low == "n/a" || low == "none" => Ok(None),
        Kind::Length | Kind::Distance => length(&line, field, numbers).map(Some),
        Kind::Temperature => temperature(&line, numbers).map(Some),
        Kind::Flag if YES.contains(&low) => Ok(Some("yes".to_owned())),
        Kind::Flag if NO.contains(&low) => Ok(Some("no".to_owned())),
        Kind::Flag => Err(format!("`{line}` is neither `yes` nor `no`")),
        Kind::Feed => {
            let other = FEEDS.iter().find(|(_, words)| words.contains(&low));
            checked(other.map_or(low, |(word, _)| word), field).map(Some)
        }
        Kind::Count => count(low).map(|count| Some(count.to_string())),
        Kind::Name if low == "auto" => checked("auto", field).map(Some),
        Kind::Name | Kind::Own => checked(&line, field).map(Some),
    }
}

/// The text itself, once the project file would take it.
fn checked(text: &str, field: &Field) -> Result<String, String> {
    let may_be_auto = matches!(field.key, "cupboard" | "cable" | "driver") && text == "auto";
    let read = match field.kind {
        _ if may_be_auto => Ok(()),
        Kind::Name if field.key == "bin" => Text::read(text).map(|_| ()),
        Kind::Name => Name::read(text).map(|_| ()),
        Kind::Feed => Feed::read(text).map(|_| ()),
        Kind::Length => Extent::read(text).map(|_| ()),
        Kind::Distance => Distance::read(text).map(|_| ()),
        Kind::Temperature => Ambient::read(text).map(|_| ()),
        Kind::Own => return own(text),
        Kind::Flag | Kind::Count => Ok(()),
    };
    read.map(|()| text.to_owned())
        .map_err(|unread| unread.message)
}

/// What the project file has as a list or mapping is written so in a cell too.
fn own(text: &str) -> Result<String, String> {
    if !is_flow(text) {
        return Ok(text.to_owned());
    }
    let source = Arc::new(Source::new("cell", text.to_owned()));
    match document::read(&source) {
        Ok(node) if !matches!(node.content, Content::Scalar { .. }) => Ok(text.to_owned()),
        _ => Err(format!("`{text}` is not closed as a list or mapping is")),
    }
}

/// Whether a value is a list or mapping rather than a plain value.
#[must_use]
pub fn is_flow(text: &str) -> bool {
    text.starts_with(['[', '{'])
}

fn length(line: &str, field: &Field, numbers: Numbers) -> Result<String, String> {
    // What the project file reads as it stands is left as the person wrote it.
    if let Ok(text) = checked(line, field) {
        return Ok(text);
    }
    let line = line
        .replace(['’', '‘', '′'], "'")
        .replace(['”', '“', '″'], "\"");
    let line = line
        .replace("''", "\"")
        .replace("'-", "' ")
        .replace("ft-", "ft ");
    let line = fractions(&plain_text(&line, numbers.decimal)?);
    if is_fraction(&line) {
        return Err(format!(
            "`{line}` has a fraction that is none of halves, quarters, eighths and so on to 64ths: \
             write it with a decimal"
        ));
    }
    let unit_missing = |unit: Option<FieldUnit>| match unit {
        Some(unit) => Ok(unit.sign),
        None => Err(format!(
            "`{line}` has no unit: put it into the heading, as in `{} (m)`, or say `--unit m`",
            field.key
        )),
    };
    let (number, word) = line
        .split_at_checked(number_ends(&line))
        .unwrap_or((&line, ""));
    let whole = match word.trim() {
        "" => format!("{} {}", number.trim(), unit_missing(numbers.unit)?),
        word => match fields::unit(word).filter(|unit| !unit.temperature) {
            Some(unit) => format!("{} {}", number.trim(), unit.sign),
            None => line.clone(),
        },
    };
    checked(&whole, field)
}

fn number_ends(line: &str) -> usize {
    let number = |c: char| c.is_ascii_digit() || matches!(c, '.' | '+' | '-' | ' ');
    line.find(|c| !number(c)).unwrap_or(line.len())
}

/// Fractions of an inch or foot as decimals: `8 1/2"` → `8.5"`. They are exact: only halves of
/// halves are read.
fn fractions(line: &str) -> String {
    let Some(slash) = line.find('/') else {
        return line.to_owned();
    };
    let (before, after) = (
        line.get(..slash).unwrap_or(""),
        line.get(slash + 1..).unwrap_or(""),
    );
    let digits = |c: char| c.is_ascii_digit();
    let top_at = before.rfind(|c| !digits(c)).map_or(0, |at| at + 1);
    let bottom_ends = after.find(|c| !digits(c)).unwrap_or(after.len());
    let top: Option<u32> = before.get(top_at..).and_then(|text| text.parse().ok());
    let bottom: Option<u32> = after.get(..bottom_ends).and_then(|text| text.parse().ok());
    let (Some(top), Some(bottom)) = (top, bottom) else {
        return line.to_owned();
    };
    if !matches!(bottom, 2 | 4 | 8 | 16 | 32 | 64) || top >= bottom {
        return line.to_owned();
    }
    let millionths = top * (1_000_000 / bottom);
    let head = before.get(..top_at).unwrap_or("");
    let joined = head.trim_end_matches([' ', '-']);
    // `8 1/2` is one number; `40' 1/2"` has a foot sign before the half.
    let head = if joined.ends_with(digits) {
        joined.to_owned()
    } else {
        format!("{head}0")
    };
    let decimals = format!("{millionths:06}");
    let decimals = decimals.trim_end_matches('0');
    format!(
        "{head}.{decimals}{}",
        after.get(bottom_ends..).unwrap_or("")
    )
}

/// Whether a number over a number is left.
fn is_fraction(line: &str) -> bool {
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let around = line.split_once('/');
    around.is_some_and(|(top, bottom)| digit(top.chars().last()) && digit(bottom.chars().next()))
}

fn temperature(line: &str, numbers: Numbers) -> Result<String, String> {
    if Ambient::read(line).is_ok() {
        return Ok(line.to_owned());
    }
    let line = plain_text(line, numbers.decimal)?;
    let (number, word) = line
        .split_at_checked(number_ends(&line))
        .unwrap_or((&line, ""));
    let unit = match word.trim() {
        "" => numbers.unit,
        word => fields::unit(word),
    };
    let Some(unit) = unit.filter(|unit| unit.temperature) else {
        let example = match number.trim() {
            "" => "25",
            number => number,
        };
        return Err(format!(
            "`{line}` is no temperature with its unit: write it as in `{example} °C`"
        ));
    };
    let whole = format!("{} {}", number.trim(), unit.sign);
    Ambient::read(&whole)
        .map(|_| whole)
        .map_err(|unread| unread.message)
}

fn count(low: &str) -> Result<usize, String> {
    let number = low
        .trim_start_matches(['x', '×'])
        .trim_end_matches(['x', '×', '.']);
    let number = ["no", "nr", "off", "pcs"]
        .iter()
        .find_map(|word| number.strip_suffix(word))
        .unwrap_or(number)
        .trim();
    let number = number.strip_suffix(".0").unwrap_or(number);
    match number.parse::<usize>() {
        Ok(count) if (1..=MOST_ALIKE).contains(&count) => Ok(count),
        _ => Err(format!(
            "`{low}` is not a whole number from 1 to {MOST_ALIKE}"
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ok_what_is_marked_comes_back_and_is_no_ditto_sign() {
        for text in ["'", "''", "'''", "do", "=1", "it's", "-", "'a"] {
            let cell = literal(text);
            assert_eq!(literally(&cell), Some(text), "{cell}");
            assert!(!is_ditto(&cell), "{cell}");
        }
    }

    fn value(text: &str, key: &str, unit: Option<&str>) -> Result<Option<String>, String> {
        let field = fields::of_key(key).expect("a field");
        let unit = unit.and_then(fields::unit);
        read(
            text,
            field,
            Numbers {
                unit,
                decimal: Known::Nothing,
            },
        )
    }

    fn length(text: &str, unit: Option<&str>) -> String {
        value(text, "length", unit).expect(text).expect("a length")
    }

    #[test]
    fn ok_lengths_as_people_write_them() {
        for (text, unit, expected) in [
            ("12.4 m", None, "12.4 m"),
            ("12,4 m", None, "12.4 m"),
            ("12,4", Some("m"), "12.4 m"),
            ("12400", Some("mm"), "12400 mm"),
            ("40 ft 8 in", None, "40 ft 8 in"),
            ("40'-8\"", None, "40' 8\""),
            ("40’ 8 1/2”", None, "40' 8.5\""),
            ("40' 1/2\"", None, "40' 0.5\""),
            ("17-3/8\"", None, "17.375 in"),
            ("9.5 mtrs", None, "9.5 m"),
            ("9.5 Lin m", None, "9.5 m"),
            ("1.234,5 m", None, "1234.5 m"),
        ] {
            assert_eq!(length(text, unit), expected, "{text}");
        }
    }

    #[test]
    fn err_what_could_be_something_else_is_not_read() {
        for text in [
            "12.4",
            "approx 12 m",
            "12.4 + 3 m",
            "0 m",
            "-3 m",
            "1,234 m",
            "TBC",
            "1/3 ft",
            "#REF!",
        ] {
            value(text, "length", None).expect_err(text);
        }
        let why = value("12.4", "to_start", None).expect_err("no unit");
        assert!(why.contains("--unit m"), "{why}");
        value("perhaps", "wet", None).expect_err("no flag");
        value("auto", "room", None).expect_err("a word with a meaning");
    }

    #[test]
    fn ok_the_other_kinds() {
        let said = |text, key| value(text, key, None).expect(text);
        assert_eq!(said("n/a", "to_end"), None);
        assert_eq!(said("—", "strip"), None);
        assert_eq!(said("Y", "wet").as_deref(), Some("yes"));
        assert_eq!(
            said("Reading\nhall", "room").as_deref(),
            Some("Reading hall")
        );
        assert_eq!(said("Auto", "driver").as_deref(), Some("auto"));
        assert_eq!(said("Each end", "feed").as_deref(), Some("both ends"));
        assert_eq!(said("3 No.", "count").as_deref(), Some("3"));
        assert_eq!(said("'-", "run").as_deref(), Some("-"));
        let ambient = value("35", "ambient", Some("°C")).expect("35");
        assert_eq!(ambient.as_deref(), Some("35 °C"));
    }
}

//! What an instrument showed, read as the test asks for it.

use crate::load::written::Unread;
use crate::model::reading::{Answer, Found};
use crate::quantity::figure::Unit;
use crate::quantity::grammar::{self, Misread, Why};
use crate::quantity::kind::Kind;
use crate::quantity::{current, ratio, resistance, time, voltage};

/// Beyond how many times the most that is expected a reading can't be one in that unit.
const IMPLAUSIBLE: f64 = 20.0;

/// Reads an answer to a test.
///
/// # Errors
/// When it is none; the error says what would be.
pub(super) fn read(text: &str, answer: &Answer) -> Result<Found, Unread> {
    match *answer {
        Answer::Number { unit, most } => number(text, unit, most),
        Answer::YesOrNo => word(text, [&["yes", "true", "pass"], &["no", "false", "fail"]]),
        Answer::NoneOrSome => word(
            text,
            [&["some", "true", "fail"], &["none", "false", "pass"]],
        ),
    }
}

/// Reads volts on a strip.
///
/// # Errors
/// When they are none, or can't be volts of a strip.
pub(super) fn volts(text: &str, most: f64) -> Result<Found, Unread> {
    number(text, Unit::Volt, Some(most))
}

/// A number as it stands in a column whose unit is known: the unit is put after it.
#[must_use]
pub(super) fn with_unit(text: &str, answer: &Answer, comma: bool) -> String {
    let Answer::Number { unit, .. } = answer else {
        return text.to_lowercase();
    };
    let (sign, rest) = split_more(text);
    let plain = if comma {
        rest.replace(',', ".")
    } else {
        rest.to_owned()
    };
    if plain.trim().parse::<f64>().is_ok() {
        format!("{sign}{} {}", plain.trim(), unit.sign())
    } else {
        format!("{sign}{plain}")
    }
}

fn word(text: &str, [yes, no]: [&[&str]; 2]) -> Result<Found, Unread> {
    let said = text.trim().to_lowercase();
    if yes.contains(&said.as_str()) {
        return Ok(Found::Yes);
    }
    if no.contains(&said.as_str()) {
        return Ok(Found::No);
    }
    let [yes, no] = [yes, no].map(|words| words.first().copied().unwrap_or_default());
    let message = format!(
        "`{}` is no finding here: write `{yes}` or `{no}`",
        text.trim()
    );
    Err(Unread::new("bad-finding", message))
}

fn number(text: &str, unit: Unit, most: Option<f64>) -> Result<Found, Unread> {
    let in_ohms = matches!(unit, Unit::Ohm | Unit::Megohm);
    if in_ohms && ["open", "ol", "o.l"].contains(&text.trim().to_lowercase().as_str()) {
        return Ok(Found::MoreThan(f64::INFINITY));
    }
    let Some((kind, scale)) = kind(unit) else {
        let message = format!("`{}` can't be read in {}", text.trim(), unit.sign());
        return Err(Unread::new("bad-quantity", message));
    };
    let (more, rest) = split_more(text);
    let value = grammar::read(rest, kind).map_err(|misread| in_unit(misread, unit, text, rest))?;
    let value = value * scale;
    if let Some(most) = most.filter(|_| matches!(unit, Unit::Volt | Unit::Ampere)) {
        plausible(text.trim(), value, most, unit)?;
    }
    if value < 0.0 && !matches!(unit, Unit::Volt | Unit::Ampere) {
        let message = format!("`{}` is below zero: read it again", text.trim());
        return Err(Unread::new("implausible", message));
    }
    Ok(if more.is_empty() {
        Found::Number(value)
    } else {
        Found::MoreThan(value)
    })
}

/// A missing unit is told with the one that this test is read in.
fn in_unit(misread: Misread, unit: Unit, text: &str, rest: &str) -> Unread {
    let shift = text.len() - rest.len();
    let message = match &misread.why {
        Why::UnitMissing(read) => format!(
            "`{read}` has no unit: this test is read in {0}, as in `{read} {0}`",
            unit.sign()
        ),
        _ => format!("{misread}; this test is read in {}", unit.sign()),
    };
    Unread {
        code: "bad-quantity",
        message,
        at: Some(misread.at.start + shift..misread.at.end + shift),
    }
}

fn plausible(text: &str, value: f64, most: f64, unit: Unit) -> Result<(), Unread> {
    let sign = unit.sign();
    // A small current may be expected: a tenth of the unit at least is always plausible.
    let most = most.max(0.1);
    if value.abs() <= IMPLAUSIBLE * most {
        return Ok(());
    }
    let about = format!("`{text}` can't be: at most about {most:.2} {sign} is expected");
    let thousandth = value / 1000.0;
    let message = if thousandth.abs() <= 1.5 * most {
        format!("{about}; if the meter showed m{sign}, write `{value} m{sign}`")
    } else {
        format!("{about}; read it again")
    };
    Err(Unread::new("implausible", message))
}

/// A sign for more than the instrument shows, and what follows it.
fn split_more(text: &str) -> (&str, &str) {
    let text = text.trim();
    match text.strip_prefix('>') {
        Some(rest) => text.split_at(text.len() - rest.trim_start().len()),
        None => ("", text),
    }
}

/// How a unit is written, and how many of it one of SI is.
fn kind(unit: Unit) -> Option<(&'static Kind, f64)> {
    match unit {
        Unit::Volt => Some((&voltage::KIND, 1.0)),
        Unit::Ampere => Some((&current::KIND, 1.0)),
        Unit::Ohm => Some((&resistance::KIND, 1.0)),
        Unit::Megohm => Some((&resistance::KIND, 1e-6)),
        Unit::Second => Some((&time::KIND, 1.0)),
        Unit::Percent => Some((&ratio::KIND, 100.0)),
        _ => None,
    }
}

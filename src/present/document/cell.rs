//! Making cells from results.

use super::Cell;
use crate::present::measured;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use crate::quantity::{Current, Length, Power, Ratio, Temperature, Time, Voltage};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

impl Cell {
    /// Text; nothing when it is empty.
    #[must_use]
    pub fn text(text: impl Into<String>) -> Cell {
        let text = text.into();
        if text.is_empty() {
            Cell::Empty
        } else {
            Cell::Text(text)
        }
    }

    /// A list of names in one cell.
    #[must_use]
    pub fn names<S: AsRef<str>>(names: impl IntoIterator<Item = S>) -> Cell {
        Cell::text(joined(names))
    }

    /// A number in a unit. What is not a finite number is unknown.
    #[must_use]
    pub fn figure(value: f64, unit: Unit) -> Cell {
        if value.is_finite() {
            Cell::Figure(Figure::new(value, unit))
        } else {
            Cell::unknown("the calculation gives no figure here")
        }
    }

    /// A count.
    #[must_use]
    pub fn count(count: usize) -> Cell {
        Cell::figure(real(count), Unit::Count)
    }

    /// In m.
    #[must_use]
    pub fn metres(value: Length) -> Cell {
        Cell::figure(measured::metres(value), Unit::Metre)
    }

    /// In mm.
    #[must_use]
    pub fn millimetres(value: Length) -> Cell {
        Cell::figure(measured::millimetres(value), Unit::Millimetre)
    }

    /// In V.
    #[must_use]
    pub fn volts(value: Voltage) -> Cell {
        Cell::figure(measured::volts(value), Unit::Volt)
    }

    /// In A.
    #[must_use]
    pub fn amperes(value: Current) -> Cell {
        Cell::figure(measured::amperes(value), Unit::Ampere)
    }

    /// In mA.
    #[must_use]
    pub fn milliamperes(value: Current) -> Cell {
        Cell::figure(measured::milliamperes(value), Unit::Milliampere)
    }

    /// In mA, to a tenth: protective conductor currents.
    #[must_use]
    pub fn leakage(value: Current) -> Cell {
        Cell::figure(measured::milliamperes(value), Unit::LeakageMilliampere)
    }

    /// In W.
    #[must_use]
    pub fn watts(value: Power) -> Cell {
        Cell::figure(measured::watts(value), Unit::Watt)
    }

    /// In %.
    #[must_use]
    pub fn percent(value: Ratio) -> Cell {
        Cell::figure(measured::percent(value), Unit::Percent)
    }

    /// In °C.
    #[must_use]
    pub fn celsius(value: Temperature) -> Cell {
        Cell::figure(measured::celsius(value), Unit::Celsius)
    }

    /// In K.
    #[must_use]
    pub fn kelvin(value: Temperature) -> Cell {
        Cell::figure(measured::kelvin(value), Unit::Kelvin)
    }

    /// In minutes.
    #[must_use]
    pub fn minutes(value: Time) -> Cell {
        Cell::figure(measured::minutes(value), Unit::Minute)
    }

    /// In hours.
    #[must_use]
    pub fn hours(value: Decimal) -> Cell {
        Cell::figure(value.to_f64().unwrap_or(f64::NAN), Unit::Hour)
    }

    /// An amount of money, unknown for a reason when there is none.
    #[must_use]
    pub fn money(amount: Option<Decimal>, why_not: &str) -> Cell {
        amount.map_or_else(|| Cell::unknown(why_not), Cell::Money)
    }

    /// A value that is not known, and why.
    #[must_use]
    pub fn unknown(why: impl Into<String>) -> Cell {
        Cell::Unknown(why.into())
    }

    /// The value as a cell, or unknown for a reason.
    #[must_use]
    pub fn known<T>(value: Option<T>, cell: impl FnOnce(T) -> Cell, why_not: &str) -> Cell {
        value.map_or_else(|| Cell::unknown(why_not), cell)
    }

    /// The known part of a sum as a cell, or unknown when some units did not say.
    #[must_use]
    pub fn sum(known_part: Cell, silent: &[String], what: &str) -> Cell {
        if silent.is_empty() {
            return known_part;
        }
        let at_least = match &known_part {
            Cell::Figure(figure) if figure.value > 0.0 => format!("at least {figure}: "),
            _ => String::new(),
        };
        let verb = if silent.len() == 1 { "is" } else { "are" };
        Cell::Unknown(format!(
            "{at_least}{what} of {} {verb} not in the catalogue",
            joined(silent)
        ))
    }
}

/// Names with commas between them.
pub(super) fn joined<S: AsRef<str>>(names: impl IntoIterator<Item = S>) -> String {
    let mut text = String::new();
    for name in names {
        if !text.is_empty() {
            text.push_str(", ");
        }
        text.push_str(name.as_ref());
    }
    text
}

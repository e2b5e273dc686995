//! Plain values that are no quantities: names, texts, flags, counts, dates, prices, percentages.

use super::written::{Reads, Unread};
use crate::quantity::money;
use num_traits::ToPrimitive;
use rust_decimal::Decimal;
use schemars::{Schema, json_schema};
use time::Date;
use time::macros::format_description;

/// Longest name.
const NAME_LENGTH: usize = 200;

/// A name that something else goes by.
#[derive(Debug)]
pub struct Name;

/// The name a block gives to what it describes.
#[derive(Debug)]
pub struct NewName;

/// Any text.
#[derive(Debug)]
pub struct Text;

/// `yes` or `no`.
#[derive(Debug)]
pub struct Flag;

/// A whole number from 1.
#[derive(Debug)]
pub struct Count;

/// `YYYY-MM-DD`.
#[derive(Debug)]
pub struct Day;

/// A currency code of three letters.
#[derive(Debug)]
pub struct Currency;

/// The highest price that is read: sums over any job then stay within what a decimal can hold.
const HIGHEST_PRICE: u32 = 1_000_000_000;

/// A price: an exact decimal, not below zero.
#[derive(Debug)]
pub struct Price;

/// A percentage for reckoning money with, kept exactly.
#[derive(Debug)]
pub struct Percent;

fn name(text: &str) -> Result<String, Unread> {
    let reserved = ["auto", "none"];
    if reserved.contains(&text) {
        let message = format!("`{text}` can't be a name: it has a meaning of its own");
        return Err(Unread::new("bad-name", message));
    }
    if text.trim().is_empty() || text.trim() != text {
        return Err(Unread::new(
            "bad-name",
            "a name can't be empty, nor begin or end with a space",
        ));
    }
    if text.chars().count() > NAME_LENGTH || text.chars().any(char::is_control) {
        let message = format!("a name is at most {NAME_LENGTH} characters on one line");
        return Err(Unread::new("bad-name", message));
    }
    Ok(text.to_owned())
}

/// The schema of text: numbers too, because `007` needs no quotes.
fn text_schema() -> Schema {
    json_schema!({"type": ["string", "number"]})
}

impl Reads for Name {
    type Value = String;
    const NAME: &'static str = "Name";

    fn what() -> String {
        "a name".to_owned()
    }

    fn schema() -> Schema {
        text_schema()
    }

    fn read(text: &str) -> Result<String, Unread> {
        name(text)
    }
}

impl Reads for NewName {
    type Value = String;
    const NAME: &'static str = "NewName";

    fn what() -> String {
        "a name".to_owned()
    }

    fn schema() -> Schema {
        let mut schema = text_schema();
        schema.insert("$comment".to_owned(), super::shape::NAMES_ITS_BLOCK.into());
        schema
    }

    fn read(text: &str) -> Result<String, Unread> {
        name(text)
    }
}

impl Reads for Text {
    type Value = String;
    const NAME: &'static str = "Text";

    fn what() -> String {
        "a text".to_owned()
    }

    fn schema() -> Schema {
        text_schema()
    }

    fn read(text: &str) -> Result<String, Unread> {
        Ok(text.trim().to_owned())
    }
}

impl Reads for Flag {
    type Value = bool;
    const NAME: &'static str = "YesOrNo";

    fn what() -> String {
        "`yes` or `no`".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"enum": ["yes", "no", true, false]})
    }

    fn read(text: &str) -> Result<bool, Unread> {
        match text {
            "yes" | "true" => Ok(true),
            "no" | "false" => Ok(false),
            _ => Err(Unread::new(
                "not-yes-or-no",
                format!("`{text}` is neither `yes` nor `no`"),
            )),
        }
    }
}

impl Reads for Count {
    type Value = usize;
    const NAME: &'static str = "Count";

    fn what() -> String {
        "a whole number".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "integer", "minimum": 1, "maximum": 1_000_000})
    }

    fn read(text: &str) -> Result<usize, Unread> {
        let number = text.parse::<usize>().ok();
        number
            .filter(|number| (1..=1_000_000).contains(number))
            .ok_or_else(|| {
                let message = format!("`{text}` is not a whole number from 1 to 1000000");
                Unread::new("not-a-count", message)
            })
    }
}

impl Reads for Day {
    type Value = Date;
    const NAME: &'static str = "Day";

    fn what() -> String {
        "a date".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "pattern": "^\\d{4}-\\d{2}-\\d{2}$", "examples": ["2027-03-31"]})
    }

    fn read(text: &str) -> Result<Date, Unread> {
        let format = format_description!("[year]-[month]-[day]");
        Date::parse(text, format).map_err(|_| {
            let message = format!("`{text}` is not a date: a date is written as `2027-03-31`");
            Unread::new("not-a-date", message)
        })
    }
}

impl Reads for Currency {
    type Value = String;
    const NAME: &'static str = "Currency";

    fn what() -> String {
        "a currency".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "pattern": "^[A-Z]{3}$", "examples": ["EUR", "GBP", "USD"]})
    }

    fn read(text: &str) -> Result<String, Unread> {
        let is_code = text.len() == 3 && text.chars().all(|c| c.is_ascii_uppercase());
        is_code.then(|| text.to_owned()).ok_or_else(|| {
            let message =
                format!("`{text}` is not a currency: a currency is three capitals, as in `EUR`");
            Unread::new("not-a-currency", message)
        })
    }
}

impl Reads for Price {
    type Value = Decimal;
    const NAME: &'static str = "Price";

    fn what() -> String {
        "a price".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": ["number", "string"], "minimum": 0, "maximum": HIGHEST_PRICE, "examples": [61.40]})
    }

    fn read(text: &str) -> Result<Decimal, Unread> {
        let price = money::read(text)
            .map_err(|fault| Unread::new("bad-price", format!("price {fault}")))?;
        if price > Decimal::from(HIGHEST_PRICE) {
            let message = format!("price `{text}` is out of range: it must be at most 1000000000");
            return Err(Unread::new("out-of-range", message));
        }
        Ok(price)
    }
}

impl Reads for Percent {
    type Value = Decimal;
    const NAME: &'static str = "Percentage";

    fn what() -> String {
        "a percentage".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "examples": ["8 %"]})
    }

    fn read(text: &str) -> Result<Decimal, Unread> {
        let Some(number) = text.trim().strip_suffix('%') else {
            let message =
                format!("`{text}` has no unit: a percentage is written in %, as in `8 %`");
            return Err(Unread::new("bad-quantity", message));
        };
        let rate = money::read(number)
            .map_err(|fault| Unread::new("bad-quantity", format!("percentage {fault}")))?;
        if rate.to_f64().is_none_or(|rate| rate > 1000.0) {
            let message = format!("`{text}` is more than 1000 %");
            return Err(Unread::new("out-of-range", message));
        }
        Ok(rate)
    }
}

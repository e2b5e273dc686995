//! Dates as a region's people write them, with the month in letters so that none reads it the
//! other way round; and as programs read them.

use crate::norms::region::Region;
use time::{Date, Month};

/// For people: `20 Nov 2026`, or `Nov 20, 2026` in North America.
#[must_use]
pub fn shown(date: Date, region: Region) -> String {
    let (day, month, year) = (date.day(), month(date.month()), date.year());
    match region {
        Region::NorthAmerica => format!("{month} {day}, {year}"),
        Region::Iec | Region::AusNz => format!("{day} {month} {year}"),
    }
}

/// For programs, after ISO 8601: `2026-11-20`.
#[must_use]
pub fn written(date: Date) -> String {
    format!(
        "{:04}-{:02}-{:02}",
        date.year(),
        u8::from(date.month()),
        date.day()
    )
}

fn month(month: Month) -> &'static str {
    match month {
        Month::January => "Jan",
        Month::February => "Feb",
        Month::March => "Mar",
        Month::April => "Apr",
        Month::May => "May",
        Month::June => "Jun",
        Month::July => "Jul",
        Month::August => "Aug",
        Month::September => "Sep",
        Month::October => "Oct",
        Month::November => "Nov",
        Month::December => "Dec",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use time::macros::date;

    #[test]
    fn the_month_is_in_letters_for_people_and_iso_for_programs() {
        let day = date!(2026 - 03 - 04);
        assert_eq!(shown(day, Region::Iec), "4 Mar 2026");
        assert_eq!(shown(day, Region::NorthAmerica), "Mar 4, 2026");
        assert_eq!(written(day), "2026-03-04");
    }
}

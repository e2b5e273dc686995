//! The test sheet: what is measured on site, with what, between which cores, what must be found
//! and why; readings are left blank.

pub(in crate::present) mod bus;
pub(in crate::present) mod feeds;
mod list;
mod mains;
pub(in crate::present) mod meter;

pub use list::{Expected, Instrument, SiteTest, Stage, all};

use super::{Cell, Column, Part, Table};
use crate::norms::region::Region;
use crate::present::job::Job;
use crate::quantity::figure::{Figure, Unit};
use crate::solve::expected::CABLE_LENGTH;
use crate::solve::tolerance::{STRIP_POWER, SUPPLY};

const NO_INSULATION_FIGURE: &str = "the code gives no figure: ask the makers and whoever inspects";

/// The parts of the test sheet.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut table = Table::new(vec![
        Column::number("number", "No"),
        Column::text("test", "Test").data_only(),
        Column::text("stage", "Stage").data_only(),
        Column::text("place", "At").data_only(),
        Column::text("subject", "Of"),
        Column::long_text("what", "Measure"),
        Column::text("instrument", "With"),
        Column::number("expected", "Expected"),
        Column::number("low", "Least"),
        Column::number("high", "Most"),
        Column::text("unit", "Unit").data_only(),
        Column::text("reading", "Reading"),
        Column::text("pass", "Pass"),
        Column::text("by", "By, date"),
    ]);
    let mut here = None;
    for (number, test) in (1..).zip(all(job)) {
        let now = (test.stage, test.place.clone());
        if here.as_ref() != Some(&now) {
            table.group(format!("{}. {}", test.stage.heading(), test.place));
            here = Some(now);
        }
        table.row(row(number, &test));
    }
    let mut part = Part::table("test-sheet", "", table);
    part.text = vec![
        "Do the tests in this order: dead tests first, and nothing is made live before they have \
         passed. Who does them is competent to, and proves the instrument before and after."
            .to_owned(),
    ];
    part.notes = notes(job);
    vec![part]
}

fn row(number: usize, test: &SiteTest) -> Vec<Cell> {
    let [expected, low, high, unit] = expected(&test.expected);
    vec![
        Cell::count(number),
        Cell::text(&test.id),
        Cell::text(test.stage.name()),
        Cell::text(&test.place),
        Cell::text(&test.subject),
        Cell::text(&test.what),
        Cell::text(test.instrument.name()),
        expected,
        low,
        high,
        unit,
        Cell::Blank,
        Cell::Blank,
        Cell::Blank,
    ]
}

/// What is expected, its least and most, and the unit of all three.
pub(super) fn expected(expected: &Expected) -> [Cell; 4] {
    match expected {
        Expected::Reading {
            value,
            low,
            high,
            unit,
        } => {
            let cell = |number: &Option<f64>| {
                number.map_or(Cell::Empty, |number| Cell::figure(number, *unit))
            };
            let value = match (value, low, high) {
                (None, Some(_), None) => Cell::text("at least"),
                (None, None, Some(_)) => Cell::text("at most"),
                _ => cell(value),
            };
            [value, cell(low), cell(high), Cell::text(unit.sign())]
        }
        Expected::Finding(words) => [Cell::text(*words), Cell::Empty, Cell::Empty, Cell::Empty],
        Expected::Unknown(why) => {
            let unknown = Cell::unknown(why.clone());
            [unknown, Cell::Empty, Cell::Empty, Cell::Empty]
        }
    }
}

fn percent(share: f64) -> Figure {
    Figure::new(100.0 * share, Unit::Percent)
}

/// What the bands are made of.
fn notes(job: &Job) -> Vec<String> {
    let insulation = match job.project.region {
        Region::Iec => "Insulation: IEC 60364-6 Table 6A (from memory).",
        Region::AusNz => "Insulation: AS/NZS 3000 clause 8.3.6 (from memory).",
        Region::NorthAmerica => "Insulation: the code gives no figure.",
    };
    vec![
        format!(
            "Least and most of strip feeds come from solving the strip with its power ± {}, the \
             driver's voltage ± {}, the cable's length ± {} and its copper between 20 °C and the \
             temperature it was sized at, every combination, and the meter's own error (volts \
             {}, clamp {}): common practice, no source.",
            percent(STRIP_POWER),
            percent(SUPPLY),
            percent(CABLE_LENGTH),
            percent(meter::VOLTS),
            percent(meter::CLAMP),
        ),
        format!(
            "Low ohms: cable at 20 °C, length ± {}, meter {} and leads {:.2} Ω (common practice, \
             no source).",
            percent(CABLE_LENGTH),
            percent(meter::LOW_OHMS),
            meter::LEADS_OHM
        ),
        "Measure outputs at full level with one channel on: below full level the output is pulses, \
         and a meter that averages reads less. At full level with both whites on it may be pulses \
         too."
            .to_owned(),
        "Bus volts: IEC 62386-101 and published bus guides; a supply usually idles near 16 V. The \
         bus carries no command while it is read."
            .to_owned(),
        insulation.to_owned(),
        "The data file of this sheet has the same numbers and a name for each test that stays the \
         same from one revision to the next: fill in its reading column."
            .to_owned(),
    ]
}

//! Totals in a take-off: which rows are totals, and whether they agree with the rows above.

use super::cell::{self, Numbers};
use super::headings::Columns;
use super::sheet::SheetRow;
use crate::load::measure::Extent;
use crate::load::written::Reads;
use crate::quantity::{Length, length};
use uom::ConstZero;
use uom::si::length::millimeter;

/// Beginnings of the label of a total.
const LABELS: [&str; 13] = [
    "total",
    "subtotal",
    "sub-total",
    "sub total",
    "grand total",
    "sum",
    "carried forward",
    "brought forward",
    "carried over",
    "all in all",
    "altogether",
    "in all",
    "page total",
];

/// A total may differ by this from what the rows add up to: it is rounded.
const ROUNDING_MM: f64 = 51.0;

/// Lengths added up so far.
#[derive(Debug, Default)]
pub struct Sums {
    since_last: Sum,
    whole: Sum,
}

/// A sum of lengths.
#[derive(Debug, Clone, Copy)]
struct Sum {
    length: Length,
    /// Whether every row had a length that was read.
    complete: bool,
}

impl Default for Sum {
    fn default() -> Self {
        Sum {
            length: Length::ZERO,
            complete: true,
        }
    }
}

impl Sums {
    /// Adds a row's length, once for each run it stands for; `None` when it has none.
    pub fn add(&mut self, text: Option<&str>, count: usize) {
        let read = text.and_then(|text| Extent::read(text).ok());
        for sum in [&mut self.since_last, &mut self.whole] {
            match read {
                Some(one) => sum.length += one * crate::quantity::number::real(count),
                None => sum.complete = false,
            }
        }
    }

    /// How a total's figure differs from the rows above it, since the last total or altogether.
    pub fn disagreement(&mut self, said: Option<Length>) -> Option<String> {
        let since = std::mem::take(&mut self.since_last);
        let said = said?;
        let near = |sum: &Sum| {
            let apart = (sum.length - said).get::<millimeter>().abs();
            apart <= ROUNDING_MM
        };
        let sums = [since, self.whole];
        if sums.iter().any(near) || sums.iter().any(|sum| !sum.complete) {
            return None;
        }
        let (said, whole) = (length::write(said), length::write(self.whole.length));
        let since = length::write(since.length);
        let sums = if since == whole {
            whole
        } else {
            format!("{since} since the last total, {whole} in all")
        };
        Some(format!(
            "it says {said}, and the rows above add up to {sums}"
        ))
    }
}

/// Whether a row is a total: labelled so, and without what a run is made from.
#[must_use]
pub fn is_total(row: &SheetRow, columns: &Columns) -> bool {
    let labelled = row.filled().next().is_some_and(|(_, text)| {
        let low = text.to_lowercase();
        LABELS.iter().any(|label| {
            low.strip_prefix(label)
                .is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
        })
    });
    let made_from = ["strip", "to_start", "to_end", "cupboard"];
    let of_a_run = made_from.iter().any(|key| {
        columns.of(key).is_some_and(|column| {
            let text = row.cell(column.at);
            let first = row.filled().next().map(|(at, _)| at);
            !text.is_empty() && first != Some(column.at)
        })
    });
    labelled && !of_a_run
}

/// The length that a total gives.
#[must_use]
pub fn said(row: &SheetRow, columns: &Columns, numbers: Numbers) -> Option<Length> {
    let column = columns.of("length")?;
    let text = cell::read(row.cell(column.at), column.field, numbers).ok()??;
    Extent::read(&text).ok()
}

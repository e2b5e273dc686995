//! Two jobs held against each other: their figures side by side, what was added, removed and moved,
//! and the difference of price line by line. A pure function of the two.

pub mod figures;
pub mod lines;
mod placed;
pub mod places;

use super::job::Job;
use figures::Pair;
use lines::LineChange;
use places::PlaceChange;
use rust_decimal::Decimal;

/// What became of something from one job to the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Change {
    /// Only the new job has it.
    Added,
    /// Only the old job has it.
    Removed,
    /// Both have it, in another place: another cupboard, loop, address or circuit.
    Moved,
    /// Both have it, under another number; labels must be replaced.
    Renumbered,
    /// Both have it, otherwise than it was.
    Changed,
}

impl Change {
    /// The word used in tables and JSON.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Change::Added => "added",
            Change::Removed => "removed",
            Change::Moved => "moved",
            Change::Renumbered => "renumbered",
            Change::Changed => "changed",
        }
    }
}

/// How many of a kind of thing both jobs have alike, and how many there are in the new one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Untouched {
    /// What is counted: `runs`, `drivers`, `material lines`.
    pub what: &'static str,
    /// Alike in both.
    pub alike: usize,
    /// In the new job.
    pub of: usize,
}

/// What the differences of all lines come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Difference {
    /// Lines that only the new job has.
    pub added: Decimal,
    /// Lines that only the old job has, as an amount below zero.
    pub omitted: Decimal,
    /// Lines that both have at another price.
    pub changed: Decimal,
    /// All together: new net total less old.
    pub net: Decimal,
    /// Lines that have no price in one job or the other and are in none of these.
    pub lines_without_price: usize,
}

/// Two jobs held against each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison<'a> {
    /// The job as it was.
    pub old: &'a Job,
    /// The job as it is now.
    pub new: &'a Job,
    /// Figures side by side.
    pub figures: Vec<Pair>,
    /// Runs, drivers, devices, loops and circuits that differ.
    pub places: Vec<PlaceChange>,
    /// Lines of the price that differ, the greatest effect first.
    pub lines: Vec<LineChange>,
    /// What those come to.
    pub difference: Difference,
    /// What is alike.
    pub untouched: Vec<Untouched>,
}

/// Why two jobs can't be compared.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CompareError {
    /// Prices in different currencies have no difference.
    #[error(
        "the old project is priced in {old} and the new one in {new}: amounts can't be \
         subtracted; use catalogues of one currency"
    )]
    Currencies {
        /// Currency of the old job.
        old: String,
        /// Currency of the new job.
        new: String,
    },
}

impl<'a> Comparison<'a> {
    /// Compares two jobs.
    ///
    /// # Errors
    /// When they are priced in different currencies.
    pub fn of(old: &'a Job, new: &'a Job) -> Result<Self, CompareError> {
        if old.quote.currency != new.quote.currency {
            return Err(CompareError::Currencies {
                old: old.quote.currency.clone(),
                new: new.quote.currency.clone(),
            });
        }
        let places = places::compare(old, new);
        let touched_runs = places.touched_runs();
        let lines = lines::compare(old, new, &touched_runs);
        let mut untouched = places.untouched;
        untouched.extend(lines.untouched);
        Ok(Comparison {
            old,
            new,
            figures: figures::pairs(old, new),
            places: places.changes,
            difference: difference(&lines.changes, old, new),
            lines: lines.changes,
            untouched,
        })
    }
}

fn difference(lines: &[LineChange], old: &Job, new: &Job) -> Difference {
    let sum = |change: Change| -> Decimal {
        let of = lines.iter().filter(|line| line.change == change);
        of.filter_map(|line| line.difference).sum()
    };
    Difference {
        added: sum(Change::Added),
        omitted: sum(Change::Removed),
        changed: sum(Change::Changed),
        net: new.quote.totals.net - old.quote.totals.net,
        lines_without_price: lines
            .iter()
            .filter(|line| line.difference.is_none())
            .count(),
    }
}

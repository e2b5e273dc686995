//! Options that were solved, the cheapest of which are kept.

use super::candidate::Candidate;
use super::trial::Trial;
use rust_decimal::Decimal;

/// An option that was solved, with what it costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The option.
    pub candidate: Candidate,
    /// What was solved.
    pub trial: Trial,
    /// What it costs; `None` when a price is missing.
    pub cost: Option<Decimal>,
}

/// Adds one more, and keeps the two cheapest, the cheapest first.
pub(super) fn keep_two(found: &mut Vec<Found>, more: Found) {
    found.push(more);
    found.sort_by(|a, b| a.candidate.compare(a.cost, &b.candidate, b.cost));
    found.truncate(2);
}

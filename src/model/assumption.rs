//! What the program took for granted because no figure was given.

/// A figure that was missing and what was used in its place.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Assumption {
    /// What it is about: `strip white-24`, `run hall-cove`, `project`.
    pub subject: String,
    /// What was assumed, with the figure: "light starts at 21.12 V (0.88 of nominal)".
    pub statement: String,
    /// The missing key and where it belongs: "`light_starts_at` in strip `white-24`".
    pub missing: String,
    /// Who or what would supply it: "the datasheet, or a bench reading".
    pub supplied_by: String,
}

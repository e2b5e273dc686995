//! How the checks ended, in numbers.

use crate::judge::verdict::{Outcome, Verdict};
use crate::model::project::Severity;

/// How many verdicts of each kind there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counts {
    /// Rules kept.
    pub holds: usize,
    /// Rules broken, of any severity.
    pub broken: usize,
    /// Of those, faults.
    pub broken_faults: usize,
    /// Of those, cautions.
    pub broken_cautions: usize,
    /// Of those, notes.
    pub broken_notes: usize,
    /// Rules that a missing figure leaves open.
    pub cannot_tell: usize,
    /// Rules with nothing to say.
    pub not_here: usize,
}

impl Counts {
    /// Counts the verdicts.
    #[must_use]
    pub fn of(verdicts: &[Verdict]) -> Counts {
        let mut counts = Counts::default();
        for verdict in verdicts {
            match &verdict.outcome {
                Outcome::Holds => counts.holds += 1,
                Outcome::CannotTell { .. } => counts.cannot_tell += 1,
                Outcome::NotHere { .. } => counts.not_here += 1,
                Outcome::Broken => {
                    counts.broken += 1;
                    match verdict.severity {
                        Severity::Fault => counts.broken_faults += 1,
                        Severity::Caution => counts.broken_cautions += 1,
                        Severity::Note => counts.broken_notes += 1,
                    }
                }
            }
        }
        counts
    }
}

impl std::fmt::Display for Counts {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} broken", self.broken)?;
        if self.broken > 0 {
            let kinds = [
                (self.broken_faults, "fault"),
                (self.broken_cautions, "caution"),
                (self.broken_notes, "note"),
            ];
            let shown: Vec<String> = kinds
                .iter()
                .filter(|(count, _)| *count > 0)
                .map(|(count, word)| counted(*count, word))
                .collect();
            write!(f, " ({})", shown.join(", "))?;
        }
        write!(f, ", {} cannot tell, {} kept", self.cannot_tell, self.holds)
    }
}

/// A count with its word, in the plural where there is not one.
#[must_use]
pub fn counted(count: usize, word: &str) -> String {
    if count == 1 {
        format!("1 {word}")
    } else {
        format!("{count} {word}s")
    }
}

//! Rules: one file a rule in `rules/`, a table of them here; verdicts.
//!
//! Knows nothing of how verdicts look.

pub mod verdict;

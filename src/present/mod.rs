//! Documents as typed cells first, then one writer per format.
//!
//! Knows nothing of where numbers came from.

pub mod along;
pub mod cautions;
pub mod counts;
pub mod csv;
pub mod date;
pub mod document;
pub mod drawing;
pub mod file_name;
pub mod issued;
pub mod job;
pub mod json;
pub mod measured;
pub mod money;
pub mod pdf;
pub mod printable;
pub mod report;
pub mod rule_text;
pub mod shown;
pub mod svg;
pub mod terminal;
pub mod wrap;

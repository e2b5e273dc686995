//! Documents as typed cells first, then one writer per format.
//!
//! Knows nothing of where numbers came from.

pub mod along;
pub mod cable_size;
pub mod cautions;
pub mod comparison;
pub mod counts;
pub mod csv;
pub mod date;
pub mod document;
pub mod drawing;
pub mod file_name;
pub mod html;
pub mod issued;
pub mod job;
pub mod joints;
pub mod json;
pub mod measured;
pub mod money;
pub mod pdf;
pub mod printable;
pub mod reading_order;
pub mod readings;
pub mod report;
pub mod rule_text;
pub mod shown;
pub mod svg;
pub mod takeoff;
pub mod terminal;
pub mod wrap;
pub mod xlsx;

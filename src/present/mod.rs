//! Documents as typed cells first, then one writer per format.
//!
//! Knows nothing of where numbers came from.

pub mod document;
pub mod job;

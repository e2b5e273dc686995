//! Published limits and tables, one file per standard, each value beside its source.
//!
//! Knows nothing of projects.

pub mod defaults;
pub mod limit;
pub mod region;

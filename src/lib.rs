//! Sizes LED strip lighting and prices it.
//!
//! Data flows one way, down the list of modules below; `tests/architecture.rs` fails on any
//! other edge. The whole job on one page is [`pipeline`].
//!
//! ```
//! use feedpoint::{judge, pipeline, quantity};
//!
//! let demo = "catalogue-examples/millrace-library.yaml";
//! let (job, _warnings) = pipeline::job(demo, true).map_err(|told| told.to_string())?;
//! for sized in &job.sizing.runs {
//!     let least = quantity::ratio::write(sized.figures.light_least);
//!     println!("{}: light at its darkest place {least}", sized.run.name);
//! }
//! let counts = judge::Counts::of(&job.verdicts);
//! println!("{} faults, {} cannot tell", counts.broken_faults, counts.cannot_tell);
//! assert!(!job.sizing.runs.is_empty() && counts.holds > 0);
//! # Ok::<(), String>(())
//! ```
#![cfg_attr(
    not(test),
    deny(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::indexing_slicing,
        clippy::as_conversions,
        clippy::todo,
        clippy::unimplemented
    )
)]

#[cfg(test)]
#[path = "../tests/made/cases.rs"]
mod cases;

pub mod quantity;

pub mod diagnostic;

pub mod norms;

pub mod model;

pub mod load;

pub mod solve;

pub mod choose;

pub mod allocate;

pub mod price;

pub mod judge;

pub mod present;

pub mod pipeline;

pub mod command;

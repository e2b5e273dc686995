//! Sizes LED strip lighting and prices it.
//!
//! Data flows one way, down the list of modules below; `tests/architecture.rs` fails on any
//! other edge. The whole job on one page is [`pipeline`].
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

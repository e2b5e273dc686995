//! Loops, addresses, circuits.
//!
//! Knows nothing of prices.

pub mod allocated;

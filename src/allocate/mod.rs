//! Loops, addresses, circuits.
//!
//! Knows nothing of prices.

pub mod allocated;
pub mod circuit;
pub mod packing;

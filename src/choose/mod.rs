//! Feed arrangement, cable, driver packing, cutting: the cheapest that the limits allow, with a
//! proof or a bound.
//!
//! Knows nothing of loops or documents.

pub mod cutting;
pub mod filling;
pub mod packing;
pub mod sized;
pub mod splitting;

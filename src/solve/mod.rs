//! The electrical and optical side: the ladder of one strip, cable drop, the bus tree, mixed
//! whites. Pure functions of numbers.
//!
//! Knows nothing of prices or rules.

pub mod strip;

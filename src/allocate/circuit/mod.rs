//! Mains circuits: which drivers, controllers and bus supplies share a breaker.

pub mod fill;

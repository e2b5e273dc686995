//! The electrical and optical side: the ladder of one strip, cable drop, the bus tree, mixed
//! whites. Pure functions of numbers.
//!
//! Knows nothing of prices or rules.

pub mod ampacity;
mod balance;
mod block;
mod block_three;
mod block_two;
pub mod bus;
pub mod cable;
pub mod case;
mod cie_1931;
pub mod colour;
pub mod diagnose;
pub mod dimming;
pub mod expected;
pub mod extremes;
pub mod law;
pub mod longest;
pub mod mix;
mod network;
mod newton;
pub mod planck;
pub mod rails;
#[cfg(test)]
mod rails_tests;
pub mod route;
pub mod rows;
#[cfg(test)]
mod sample;
pub mod strip;
#[cfg(test)]
mod strip_laws;
pub mod strip_model;
mod summary;
pub mod tolerance;
pub mod tried;

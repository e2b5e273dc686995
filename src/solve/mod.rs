//! The electrical and optical side: the ladder of one strip, cable drop, the bus tree, mixed
//! whites. Pure functions of numbers.
//!
//! Knows nothing of prices or rules.

mod balance;
mod block;
mod block_three;
mod block_two;
pub mod bus;
mod law;
mod network;
mod newton;
pub mod route;
pub mod strip;
#[cfg(test)]
mod strip_laws;

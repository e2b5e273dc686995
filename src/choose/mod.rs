//! Feed arrangement, cable, driver packing, cutting: the cheapest that the limits allow, with a
//! proof or a bound.
//!
//! Knows nothing of loops or documents.

mod alike;
pub mod arrangement;
mod assumed;
pub mod buying;
pub mod by_name;
pub mod cable_place;
pub mod candidate;
pub mod cost;
mod cupboard;
pub mod cutting;
pub mod demand;
pub mod derating;
pub mod driver;
mod drivers;
pub mod error;
mod exhaustive;
pub mod feed;
pub mod feeding;
pub mod field;
mod figures;
pub mod filling;
pub mod found;
mod held;
mod layout;
pub mod limits;
mod loading;
mod number;
pub mod packing;
mod pairs;
pub mod places;
pub mod placing;
pub mod reach;
pub mod sharing;
pub mod shift;
pub mod sized;
mod sizing;
mod stretches;
pub mod suited;
pub mod trial;
pub mod unit;
mod unmet;
pub mod what_if;

pub use alike::Known;
pub use error::ChooseError;
pub use sizing::{size, size_beside};
pub use what_if::{limits_table, remedy, try_feed};

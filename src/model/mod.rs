//! The project and the catalogue as checked, unit-carrying types: ids resolved, nothing left to
//! interpret. Unknown is an `Option` or an enum with a reason, never a zero.
//!
//! Knows nothing of YAML or files.

pub mod alternate;
pub mod assumption;
pub mod bus;
pub mod by_name;
pub mod cable;
pub mod catalogue;
pub mod driver;
pub mod extra;
pub mod house_rule;
pub mod issued;
pub mod limits;
pub mod offer;
pub mod pricing;
pub mod project;
pub mod protection;
pub mod reading;
pub mod run;
#[cfg(test)]
pub(crate) mod sample;
pub mod scene;
pub mod site;
pub mod strip;
pub mod wiring;

/// What the user asked for: a given thing, or the program's choice.
#[derive(Debug, Clone, PartialEq)]
pub enum Choice<T> {
    /// The program chooses.
    Auto,
    /// The user chose; the program checks.
    Given(T),
}

impl<T> Choice<T> {
    /// What was given, if it was.
    pub fn given(&self) -> Option<&T> {
        match self {
            Choice::Auto => None,
            Choice::Given(value) => Some(value),
        }
    }
}

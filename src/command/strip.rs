//! `feedpoint strip`: one strip without a project.

pub mod json;

use crate::solve::case::Laid;
use crate::solve::strip::{Lit, State, solve};

/// Every state of a case.
#[must_use]
pub fn states(laid: &Laid) -> Vec<(Lit, Option<State>)> {
    Lit::states(laid.ladder.channels.len())
        .iter()
        .map(|lit| (*lit, solve(&laid.ladder, *lit)))
        .collect()
}

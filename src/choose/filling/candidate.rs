//! A filling that may be in an answer.

use super::relaxation::Relaxation;
use super::{Container, Contents};

/// A filling of a kind of container.
pub(super) struct Candidate {
    /// Index of the kind.
    pub kind: usize,
    /// What it holds.
    pub contents: Contents,
    /// The part of its container's cost that it leaves unused: what its things are not worth.
    pub unused: f64,
}

impl Candidate {
    /// A filling of a kind that costs so much, its rent included.
    pub fn new(relaxation: &Relaxation, kind: usize, cost: f64, contents: Contents) -> Candidate {
        Candidate {
            kind,
            unused: cost - relaxation.worth(&contents),
            contents,
        }
    }

    /// A container filled so.
    pub fn container(&self) -> Container {
        Container {
            kind: self.kind,
            contents: self.contents.clone(),
        }
    }
}

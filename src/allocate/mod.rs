//! Loops, addresses, circuits.
//!
//! Knows nothing of prices.

pub mod allocated;
pub mod circuit;
mod loops;
pub mod packing;

use crate::choose::sized::Sizing;
use crate::model::project::Project;
use crate::solve::route::Routes;
use allocated::Allocation;

/// Puts the drivers and control devices of a sized project on loops and circuits.
#[must_use]
pub fn allocate(project: &Project, sizing: &Sizing) -> Allocation {
    let routes = Routes::new(&project.site);
    let loops = loops::lay_out(project, sizing, &routes);
    let circuits = circuit::lay_out(project, sizing, &loops.loops, &routes);
    let mut notes = loops.notes;
    notes.extend(circuits.notes);
    Allocation {
        loops: loops.loops,
        circuits: circuits.circuits,
        notes,
        loops_proved: loops.proved,
        circuits_proved: circuits.proved,
    }
}

//! Loops, addresses, circuits.
//!
//! Knows nothing of prices.

pub mod allocated;
pub mod by_name;
pub mod circuit;
pub mod issued;
mod loops;
pub mod packing;
pub mod places;

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
    let mut released = sizing.released.clone();
    released.extend(loops.released);
    released.extend(circuits.released);
    let now = issued::snapshot(project, sizing, &loops.loops, &circuits.circuits);
    let changes = project.issued.record.as_deref();
    let changes = changes.map(|was| issued::between(was, &now, &released));
    Allocation {
        loops: loops.loops,
        circuits: circuits.circuits,
        changes,
        notes,
        loops_proved: loops.proved,
        circuits_proved: circuits.proved,
        ..Allocation::default()
    }
}

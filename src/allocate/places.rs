//! Places by name, for `by_name`.

use std::collections::HashMap;

/// Where units stand in an [`Allocation`](super::allocated::Allocation), by name.
#[derive(Debug, Default)]
pub struct Places {
    /// Loop, and member of it.
    pub(super) members: HashMap<String, (usize, usize)>,
    pub(super) circuits: HashMap<String, usize>,
    pub(super) circuits_of_supplies: HashMap<String, usize>,
    pub(super) loops_of_group: HashMap<String, Vec<usize>>,
}

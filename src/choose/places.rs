//! Places by name, for `by_name`.

use std::collections::HashMap;

/// Where runs, drivers and feed cables stand in a [`Sizing`](super::sized::Sizing), by the names that
/// others call them by.
#[derive(Debug, Default)]
pub struct Places {
    pub(super) runs: HashMap<String, usize>,
    pub(super) drivers: HashMap<String, usize>,
    pub(super) drivers_of_run: HashMap<String, Vec<usize>>,
    pub(super) drivers_of_group: HashMap<String, Vec<usize>>,
    pub(super) cables_of_driver: HashMap<String, Vec<usize>>,
    pub(super) cables_of_run: HashMap<String, Vec<usize>>,
}

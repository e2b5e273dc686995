//! What one feed lights by itself, kept for all runs of a project as far as it was asked for.

use super::sharing::Sharing;
use std::collections::HashMap;
use std::sync::{PoisonError, RwLock};

/// What a feed lights, in segments.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stretch {
    /// To one side, standing at an end.
    pub side: usize,
    /// In all, standing in the middle.
    pub whole: usize,
}

/// What a stretch depends on. Strips and cables are told apart by where they are kept: they stay
/// there while the runs of a project are worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Key {
    /// The strip's network.
    pub strip: usize,
    /// The feed cable.
    pub cable: usize,
    /// What its driver has on at once.
    pub sharing: Sharing,
    /// What the driver gives, and the limits on light and volts: the bits of each.
    pub figures: [u64; 3],
    /// How many times the cable's length rises from the first; `None`: shorter than that.
    pub rung: Option<i32>,
    /// Segments beyond which nobody asks, a power of two.
    pub most: usize,
}

/// Stretches of a project.
#[derive(Debug, Default)]
pub struct Stretches(RwLock<HashMap<Key, Stretch>>);

impl Stretches {
    /// A stretch, worked out when it is asked for the first time.
    pub(super) fn of(&self, key: Key, work_out: impl FnOnce() -> Stretch) -> Stretch {
        let known = self.0.read().unwrap_or_else(PoisonError::into_inner);
        if let Some(stretch) = known.get(&key) {
            return *stretch;
        }
        drop(known);
        let stretch = work_out();
        let mut known = self.0.write().unwrap_or_else(PoisonError::into_inner);
        known.insert(key, stretch);
        stretch
    }
}

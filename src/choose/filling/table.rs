//! The most valuable filling of a container by a table over its room (Bellman, "Some applications
//! of the theory of dynamic programming", Operations Research 2, 1954): exact however alike the
//! things are, where branching runs long.

use super::Size;
use num_traits::ToPrimitive;

/// Entries of all tables together, at most.
const ENTRIES: usize = 8_000_000;

/// Things of one size that may go in.
pub(super) struct Entry {
    /// Room that one takes.
    pub size: Size,
    /// How many may go in.
    pub most: usize,
    /// What one is worth.
    pub value: f64,
}

/// The same thing, so many at a time.
struct Bundle {
    entry: usize,
    times: usize,
    size: [usize; 2],
    value: f64,
}

/// The value of the most valuable filling and how many of each entry are in it; `None` when the
/// tables would be too large.
pub(super) fn best(room: Size, entries: &[Entry]) -> Option<(f64, Vec<usize>)> {
    let room = [0, 1].map(|side| needed(room, entries, side));
    let [long, short] = [room[0]?, room[1]?];
    let width = short.checked_add(1)?;
    let cells = long.checked_add(1)?.checked_mul(width)?;
    let bundles = bundles(entries)?;
    if cells.checked_mul(bundles.len())? > ENTRIES {
        return None;
    }
    let mut values = vec![0.0_f64; cells];
    let mut taken = Vec::with_capacity(bundles.len());
    for bundle in &bundles {
        let [along, across] = bundle.size;
        let mut takes = vec![false; cells];
        let back = along * width + across;
        // From the end, so that what is read is without this bundle.
        for cell in (back..cells).rev() {
            if cell % width < across {
                continue;
            }
            let with = values.get(cell - back)? + bundle.value;
            let value = values.get_mut(cell)?;
            if with > *value {
                *value = with;
                *takes.get_mut(cell)? = true;
            }
        }
        taken.push(takes);
    }
    let mut cell = cells - 1;
    let most = *values.get(cell)?;
    let mut counts = vec![0; entries.len()];
    for (bundle, takes) in bundles.iter().zip(&taken).rev() {
        if *takes.get(cell)? {
            *counts.get_mut(bundle.entry)? += bundle.times;
            cell -= bundle.size[0] * width + bundle.size[1];
        }
    }
    Some((most, counts))
}

/// Room on one side, no more than everything takes.
fn needed(room: Size, entries: &[Entry], side: usize) -> Option<usize> {
    let all = entries.iter().try_fold(0_u64, |sum, entry| {
        let size = *entry.size.get(side)?;
        sum.checked_add(size.checked_mul(entry.most.to_u64()?)?)
    })?;
    all.min(*room.get(side)?).to_usize()
}

/// Every count up to `most` as a sum of bundles of 1, 2, 4, … and the rest.
fn bundles(entries: &[Entry]) -> Option<Vec<Bundle>> {
    let mut bundles = Vec::new();
    for (index, entry) in entries.iter().enumerate() {
        let (mut left, mut times) = (entry.most, 1);
        while left > 0 {
            let now = times.min(left);
            let size = |side: u64| side.to_usize()?.checked_mul(now);
            bundles.push(Bundle {
                entry: index,
                times: now,
                size: [size(entry.size[0])?, size(entry.size[1])?],
                value: entry.value * crate::quantity::number::real(now),
            });
            left -= now;
            times = times.saturating_mul(2);
        }
    }
    Some(bundles)
}

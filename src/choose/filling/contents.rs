//! How many of each thing are held together. A container holds a few of what can be thousands of
//! different things, so that only those are kept of which there are any.

use std::cmp::{Ordering, Reverse};

/// How many of each thing, by its place in the list of things.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Contents(Vec<(usize, usize)>);

impl Contents {
    /// So many of one thing.
    pub(super) fn of(place: usize, count: usize) -> Contents {
        [(place, count)].into_iter().collect()
    }

    /// Each thing of which there are any, with how many there are; places rise.
    pub fn each(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        self.0.iter().copied()
    }

    /// How many there are of the thing at a place.
    #[must_use]
    pub fn at(&self, place: usize) -> usize {
        let found = self.0.binary_search_by_key(&place, |(there, _)| *there);
        found.map_or(0, |index| self.0.get(index).map_or(0, |(_, count)| *count))
    }

    /// Whether there are none of anything.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Puts so many more of a thing to them.
    pub(super) fn add(&mut self, place: usize, more: usize) {
        match self.0.binary_search_by_key(&place, |(there, _)| *there) {
            Ok(index) => {
                if let Some((_, count)) = self.0.get_mut(index) {
                    *count += more;
                }
            }
            Err(index) if more > 0 => self.0.insert(index, (place, more)),
            Err(_) => {}
        }
    }

    /// Takes what is held from what is there, as far as that goes.
    pub(super) fn take_from(&self, there: &mut [usize]) {
        for (place, count) in self.each() {
            if let Some(there) = there.get_mut(place) {
                *there = there.saturating_sub(count);
            }
        }
    }

    /// Puts what is held to what is there.
    pub(super) fn give_to(&self, there: &mut [usize]) {
        for (place, count) in self.each() {
            if let Some(there) = there.get_mut(place) {
                *there += count;
            }
        }
    }
}

/// Places in any order; what comes twice is added up.
impl FromIterator<(usize, usize)> for Contents {
    fn from_iter<T: IntoIterator<Item = (usize, usize)>>(each: T) -> Contents {
        let mut each: Vec<(usize, usize)> =
            each.into_iter().filter(|(_, count)| *count > 0).collect();
        each.sort_unstable();
        each.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            if same {
                kept.1 += next.1;
            }
            same
        });
        each.shrink_to_fit();
        Contents(each)
    }
}

/// In the order of the lists of how many there are of every thing, those of which there are none
/// too.
impl Ord for Contents {
    fn cmp(&self, other: &Contents) -> Ordering {
        let key = |(place, count): (usize, usize)| (Reverse(place), count);
        self.each().map(key).cmp(other.each().map(key))
    }
}

impl PartialOrd for Contents {
    fn partial_cmp(&self, other: &Contents) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(crate::cases::cases(300))]
        #[test]
        fn they_are_what_lists_of_everything_are(
            a in prop::collection::vec(0_usize..3, 5),
            b in prop::collection::vec(0_usize..3, 5),
        ) {
            let held = |all: &[usize]| -> Contents { all.iter().copied().enumerate().collect() };
            let (one, other) = (held(&a), held(&b));
            prop_assert_eq!(one.cmp(&other), a.cmp(&b));
            prop_assert_eq!(one.is_empty(), a.iter().all(|count| *count == 0));
            let again: Vec<usize> = (0..5).map(|place| one.at(place)).collect();
            prop_assert_eq!(&again, &a);
            let sum: Vec<usize> = a.iter().zip(&b).map(|(a, b)| a + b).collect();
            prop_assert_eq!(&one.each().chain(other.each()).collect::<Contents>(), &held(&sum));
            let mut added = one.clone();
            for (place, count) in b.iter().enumerate() {
                added.add(place, *count);
            }
            prop_assert_eq!(&added, &held(&sum));
            let mut there = b.clone();
            one.give_to(&mut there);
            prop_assert_eq!(&there, &sum);
            other.take_from(&mut there);
            prop_assert_eq!(&there, &a);
        }
    }
}

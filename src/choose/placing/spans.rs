//! The least cable that so many feeds of a run take, wherever they are.
//!
//! Between two feeds there is a place past which no current flows, so that each lights a stretch by
//! itself: no longer than what it lights standing in the middle, and to either side no further than
//! what it lights standing at an end. Covering the run with such stretches leaves out what stands
//! between feeds and limit in truth, so that no real arrangement takes less cable.

use super::stretch::stretch;
use crate::choose::field::Field;
use crate::choose::sharing::Sharing;
use crate::choose::stretches::Stretch;
use crate::model::cable::Cable;
use crate::quantity::Length;
use crate::quantity::number::real;
use std::sync::Arc;

/// Cells into which a run is divided at most.
const CELLS: usize = 160;
/// Numbers of feeds for which the least cable is worked out in full.
const MOST_FEEDS: usize = 10;
/// The least cable by number of feeds.
pub(super) struct Spans {
    /// Of each cell the shortest cable, with what that lights, in cells.
    places: Vec<Option<(Length, Stretch)>>,
    /// The least cable that covers the run to the end of each cell, by all feeds so far.
    covered: Vec<Option<Length>>,
    /// The least cable of the whole run by one feed, by two and so on, as far as was asked.
    least: Vec<Option<Length>>,
    nearest: Length,
}

impl Spans {
    /// That of a run over a cable; `None` when no cable reaches the run.
    pub fn of(field: &Field, sharing: Sharing, cable: &Arc<Cable>) -> Option<Spans> {
        let feeding = field.feeding;
        let last = feeding.segments;
        let reached = |cut: usize| feeding.reach.to(cut);
        let all = || (0..=last).filter_map(reached);
        let nearest = all().reduce(Length::min)?;
        let cell = last.div_ceil(CELLS);
        let cells = last.div_ceil(cell);
        let places: Vec<Option<(Length, Stretch)>> = (0..=cells)
            .map(|index| {
                let cuts = index * cell..(index + 1) * cell;
                let length = cuts.filter_map(reached).reduce(Length::min)?;
                let own = stretch(feeding, sharing, cable, length);
                let in_cells = Stretch {
                    side: own.side.min(last).div_ceil(cell) + 1,
                    whole: own.whole.min(last).div_ceil(cell) + 1,
                };
                Some((length, in_cells))
            })
            .collect();
        let mut covered: Vec<Option<Length>> = vec![None; cells + 1];
        if let Some(none) = covered.first_mut() {
            *none = Some(Length::default());
        }
        Some(Spans {
            places,
            covered,
            least: Vec::new(),
            nearest,
        })
    }

    /// A length than which the cables of so many feeds are no shorter; `None` where so many can't
    /// light the run.
    pub fn least_cable(&mut self, feeds: usize) -> Option<Length> {
        while self.least.len() < feeds.min(MOST_FEEDS) {
            self.covered = with_one_more(&self.covered, &self.places);
            self.least.push(self.covered.last().copied().flatten());
        }
        match feeds.checked_sub(1).and_then(|one| self.least.get(one)) {
            Some(least) => *least,
            None => Some(self.nearest * real(feeds)),
        }
    }
}

/// The least cable that covers the run from its start to the end of each cell, by one feed more.
fn with_one_more(
    covered: &[Option<Length>],
    places: &[Option<(Length, Stretch)>],
) -> Vec<Option<Length>> {
    let last = covered.len().saturating_sub(1);
    let mut more: Vec<Option<Length>> = vec![None; covered.len()];
    for (from, before) in covered.iter().enumerate() {
        let Some(before) = before else { continue };
        for (place, own) in places.iter().enumerate().skip(from) {
            let Some((cable, own)) = own.filter(|(_, own)| place <= from + own.side) else {
                continue;
            };
            let end = (from + own.whole).min(place + own.side).min(last);
            let length = *before + cable;
            if let Some(slot) = more.get_mut(end)
                && slot.is_none_or(|known| length < known)
            {
                *slot = Some(length);
            }
        }
    }
    // What covers more covers less.
    let mut least = None;
    for slot in more.iter_mut().rev() {
        least = match (*slot, least) {
            (Some(a), Some(b)) if b < a => Some(b),
            (Some(a), _) => Some(a),
            (None, b) => b,
        };
        *slot = least;
    }
    more
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use uom::si::length::meter;

    /// Cells that one lights to a side and in all, and the metres of its cable.
    type Place = Option<(u32, usize, usize)>;

    /// The least cable from a cell on, by trying every place for the next feed, and every cell up to
    /// which it may then count.
    fn by_trying(from: usize, feeds: usize, places: &[Place]) -> Option<u32> {
        let last = places.len() - 1;
        let Some(rest) = feeds.checked_sub(1) else {
            return (from >= last).then_some(0);
        };
        let reaching = |place: usize| {
            let (metres, side, whole) = places[place]?;
            let end = (from + whole).min(place + side).min(last);
            let on = (0..=end).filter_map(|end| by_trying(end, rest, places));
            (place <= from + side).then(|| on.min().map(|more| more + metres))?
        };
        (from..=last).filter_map(reaching).min()
    }

    proptest! {
        #![proptest_config(crate::cases::cases(200))]
        #[test]
        fn no_places_for_so_many_feeds_take_less_cable(
            drawn in prop::collection::vec(
                prop::option::weighted(0.8, (1_u32..20, 0_usize..4, 1_usize..6)), 2..7),
        ) {
            let metres = |metres: u32| Length::new::<meter>(f64::from(metres));
            let place = |place: &Place| {
                place.map(|(length, side, whole)| (metres(length), Stretch { side, whole }))
            };
            let places: Vec<_> = drawn.iter().map(place).collect();
            let mut covered = vec![None; places.len()];
            covered[0] = Some(Length::default());
            for feeds in 1..4 {
                covered = with_one_more(&covered, &places);
                let found = covered[places.len() - 1];
                prop_assert_eq!(found, by_trying(0, feeds, &drawn).map(metres), "{} feeds", feeds);
            }
        }
    }
}

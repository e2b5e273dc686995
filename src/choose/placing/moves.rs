//! Small moves of an arrangement: one feed or cut, everything from one on, or two against each
//! other.

use crate::choose::arrangement::{Arrangement, Piece};
use crate::choose::reach::Reach;

/// A feed that comes nearer to an end of its piece than this part of the piece goes to the end
/// itself: a feed a hand's width from it saves nothing on site. Common practice, no source.
const NEAR_END: usize = 20;

/// What can be moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Handle {
    /// The cut at which a piece begins, with the feeds that stand on it.
    Cut(usize),
    /// One feed of a piece.
    Feed(usize, usize),
}

/// Every arrangement that comes of moving feeds and cuts of this one by `step` segments, in a
/// fixed order, as far as cable reaches the feeds.
pub(super) fn moved(way: &Arrangement, step: usize, reach: &Reach) -> Vec<Arrangement> {
    let handles = handles(way);
    let Ok(step) = isize::try_from(step) else {
        return Vec::new();
    };
    let mut moves: Vec<Vec<(Handle, isize)>> = Vec::new();
    for (index, handle) in handles.iter().enumerate() {
        for by in [-step, step] {
            moves.push(vec![(*handle, by)]);
            let on = handles.iter().skip(index);
            moves.push(on.map(|handle| (*handle, by)).collect());
            if let Some(next) = handles.get(index + 1) {
                moves.push(vec![(*handle, by), (*next, -2 * by)]);
                moves.push(vec![(*handle, 2 * by), (*next, -by)]);
            }
        }
    }
    let mut ways: Vec<Arrangement> = Vec::new();
    for by in &moves {
        if let Some(next) = apply(way, by, reach)
            && next.pieces != way.pieces
            && !ways.iter().any(|known| known.pieces == next.pieces)
        {
            ways.push(next);
        }
    }
    ways
}

/// Cuts and feeds in the order in which they lie along the run.
fn handles(way: &Arrangement) -> Vec<Handle> {
    let mut all = Vec::new();
    for (index, piece) in way.pieces.iter().enumerate() {
        if index > 0 {
            all.push(Handle::Cut(index));
        }
        all.extend((0..piece.feeds.len()).map(|feed| Handle::Feed(index, feed)));
    }
    all
}

/// `None`: a piece or the order of its feeds would be lost, or no cable leads to a feed.
fn apply(way: &Arrangement, moves: &[(Handle, isize)], reach: &Reach) -> Option<Arrangement> {
    let by = |handle: Handle| {
        moves
            .iter()
            .find(|(it, _)| *it == handle)
            .map(|(_, by)| *by)
    };
    let ends = |piece: &Piece| (piece.start, piece.start + piece.segments);
    let count = way.pieces.len();
    let mut pieces = Vec::with_capacity(count);
    for (index, piece) in way.pieces.iter().enumerate() {
        let (from, to) = ends(piece);
        let shift = |cut: usize| by(Handle::Cut(cut)).unwrap_or(0);
        let (left, right) = (shift(index), shift(index + 1));
        let start = from.checked_add_signed(left)?;
        let end = to.checked_add_signed(right)?;
        let mut feeds = Vec::with_capacity(piece.feeds.len());
        for (place, feed) in piece.feeds.iter().enumerate() {
            let carried = if *feed == from {
                left
            } else if *feed == to {
                right
            } else {
                0
            };
            let feed =
                feed.checked_add_signed(by(Handle::Feed(index, place)).unwrap_or(carried))?;
            let feed = to_end(feed, start, end);
            let ahead = feeds.last().is_none_or(|last| *last < feed);
            if !ahead || feed < start || feed > end || reach.to(feed).is_none() {
                return None;
            }
            feeds.push(feed);
        }
        pieces.push(Piece {
            start,
            segments: end.checked_sub(start).filter(|segments| *segments > 0)?,
            feeds,
        });
    }
    let feeds = way.feeds();
    let words = match (count, feeds) {
        (1, 1) => "1 feed, where cheapest".to_owned(),
        (1, _) => format!("{feeds} feeds, where cheapest"),
        _ => format!("{count} sections, where cheapest"),
    };
    Some(Arrangement { words, pieces })
}

/// A feed, or the end of its piece from `start` to `end` that it is near to.
fn to_end(feed: usize, start: usize, end: usize) -> usize {
    let near = end.saturating_sub(start) / NEAR_END;
    if feed >= start && feed - start <= near {
        start
    } else if feed <= end && end - feed <= near {
        end
    } else {
        feed
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Length;
    use uom::si::length::meter;

    fn reach(along: bool) -> Reach {
        let metres = Length::new::<meter>;
        Reach::of(
            Some(metres(3.0)),
            Some(metres(5.0)),
            along,
            metres(0.05),
            40,
        )
    }

    fn way(pieces: &[(usize, usize, &[usize])]) -> Arrangement {
        let piece = |(start, segments, feeds): &(usize, usize, &[usize])| Piece {
            start: *start,
            segments: *segments,
            feeds: feeds.to_vec(),
        };
        Arrangement {
            words: String::new(),
            pieces: pieces.iter().map(piece).collect(),
        }
    }

    #[test]
    fn pieces_still_cover_the_run_and_feeds_stay_on_them() {
        let sections = way(&[(0, 20, &[0, 20]), (20, 20, &[30])]);
        let uncut = way(&[(0, 40, &[5, 20, 39])]);
        for (from, step) in [(&sections, 7), (&sections, 1), (&uncut, 4), (&uncut, 1)] {
            let all = moved(from, step, &reach(true));
            assert!(all.len() > 4);
            for way in all {
                assert_ne!(way.pieces, from.pieces);
                let mut at = 0;
                for piece in &way.pieces {
                    assert_eq!(piece.start, at);
                    at += piece.segments;
                    assert!(
                        piece
                            .feeds
                            .iter()
                            .all(|feed| (piece.start..=at).contains(feed))
                    );
                    assert!(piece.feeds.is_sorted_by(|a, b| a < b));
                }
                assert_eq!(at, 40);
            }
        }
    }

    #[test]
    fn a_feed_near_an_end_goes_to_it() {
        let all = moved(&way(&[(0, 40, &[4, 37])]), 2, &reach(true));
        let wanted = way(&[(0, 40, &[0, 37])]);
        assert!(all.iter().any(|way| way.pieces == wanted.pieces));
        let near = |feed: &usize| (1..3).contains(feed) || (38..40).contains(feed);
        let feeds = || all.iter().flat_map(|way| &way.pieces[0].feeds);
        assert!(feeds().count() > 8 && !feeds().any(near));
    }

    #[test]
    fn a_cut_takes_the_feed_on_it_along() {
        let all = moved(&way(&[(0, 20, &[0]), (20, 20, &[20])]), 3, &reach(true));
        let wanted = way(&[(0, 17, &[0]), (17, 23, &[17])]);
        assert!(all.iter().any(|way| way.pieces == wanted.pieces));
    }

    #[test]
    fn without_cable_along_feeds_stay_at_the_ends_and_cuts_move() {
        let all = moved(&way(&[(0, 20, &[0]), (20, 20, &[40])]), 3, &reach(false));
        assert_eq!(all.len(), 2, "the cut, one way and the other");
    }
}

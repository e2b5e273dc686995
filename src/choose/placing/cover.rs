//! Whether feeds could light a piece, told from what each lights by itself, without solving it.

use crate::choose::arrangement::Piece;
use crate::choose::stretches::Stretch;

/// Whether the stretches of its feeds cover a piece; `own` gives that of a feed at a cut point. The
/// segment in which two of them meet may be lit by both.
pub(super) fn is_covered(piece: &Piece, own: impl Fn(usize) -> Option<Stretch>) -> bool {
    let end = piece.start + piece.segments;
    let mut lit = piece.start;
    for &feed in &piece.feeds {
        let Some(Stretch { side, whole }) = own(feed) else {
            return false;
        };
        if feed > lit + side + 1 {
            return false;
        }
        lit = (lit + whole + 1).min(feed + side + 1);
    }
    lit >= end
}

#[cfg(test)]
mod tests {
    use super::*;

    fn covers(segments: usize, feeds: &[usize], side: usize, whole: usize) -> bool {
        let piece = Piece {
            start: 100,
            segments,
            feeds: feeds.iter().map(|feed| 100 + feed).collect(),
        };
        is_covered(&piece, |_| Some(Stretch { side, whole }))
    }

    #[test]
    fn a_feed_covers_what_it_lights_to_each_side_and_in_all() {
        assert!(covers(30, &[0], 30, 50) && covers(31, &[0], 30, 50));
        assert!(!covers(32, &[0], 30, 50), "too far to one side");
        assert!(covers(50, &[25], 30, 50));
        assert!(!covers(56, &[28], 30, 50), "too long in all");
        assert!(!covers(50, &[33], 30, 50), "too far from the start");
    }

    #[test]
    fn feeds_share_what_lies_between_them() {
        assert!(covers(60, &[0, 60], 30, 50));
        assert!(!covers(70, &[0, 70], 30, 50));
        assert!(covers(100, &[25, 75], 30, 50));
        assert!(!covers(110, &[25, 85], 30, 50), "dark in the middle");
    }

    #[test]
    fn a_feed_that_no_cable_reaches_lights_nothing() {
        let piece = Piece {
            start: 0,
            segments: 1,
            feeds: vec![0],
        };
        assert!(!is_covered(&piece, |_| None));
    }
}

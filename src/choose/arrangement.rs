//! The ways in which a run can be fed: uncut with one or more feeds, or cut into sections.
//!
//! Places are cut points of the run, 0 to its number of segments.

use super::reach::Reach;
use crate::model::run::FeedWish;
use crate::quantity::Length;
use crate::quantity::number::{real, whole};
use uom::si::ratio::ratio;

/// Feeds of an uncut run that are tried: one every 2.5 m still feeds 60 m.
pub const MOST_FEEDS: usize = 24;
/// Sections that are tried: every 2 m on a run of 60 m.
pub const MOST_SECTIONS: usize = 30;

/// An uncut piece of the run with its feeds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Cut point at which it begins.
    pub start: usize,
    /// Its segments, at least 1.
    pub segments: usize,
    /// Its feeds: cut points of the run, rising, at least one.
    pub feeds: Vec<usize>,
}

/// A way to feed a run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Arrangement {
    /// In words: "both ends", "3 feeds", "2 sections, each fed at its start".
    pub words: String,
    /// Its pieces, in order along the run.
    pub pieces: Vec<Piece>,
}

/// What an arrangement costs depends on this alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Sections.
    pub sections: usize,
    /// Feeds in all.
    pub feeds: usize,
    /// Cable to all feeds from the cupboard.
    pub cable_length: Length,
    /// Segments of its pieces, and how many pieces have so many.
    pub pieces: Vec<(usize, usize)>,
}

impl Shape {
    /// Segments of its longest piece.
    #[must_use]
    pub fn longest(&self) -> usize {
        let segments = self.pieces.iter().map(|(segments, _)| *segments);
        segments.max().unwrap_or(0)
    }
}

impl Arrangement {
    /// Feeds in all.
    #[must_use]
    pub fn feeds(&self) -> usize {
        self.pieces.iter().map(|piece| piece.feeds.len()).sum()
    }

    /// What its cost depends on, whatever cable and drivers.
    #[must_use]
    pub fn shape(&self, reach: &Reach) -> Shape {
        let mut pieces: Vec<(usize, usize)> = Vec::new();
        for piece in &self.pieces {
            let known = pieces
                .iter_mut()
                .find(|(segments, _)| *segments == piece.segments);
            match known {
                Some((_, count)) => *count += 1,
                None => pieces.push((piece.segments, 1)),
            }
        }
        Shape {
            sections: self.pieces.len(),
            feeds: self.feeds(),
            cable_length: self.cable_length(reach),
            pieces,
        }
    }

    /// Cable to all feeds from the cupboard.
    #[must_use]
    pub fn cable_length(&self, reach: &Reach) -> Length {
        let feeds = self.pieces.iter().flat_map(|piece| &piece.feeds);
        feeds.filter_map(|feed| reach.to_asked(*feed)).sum()
    }

    /// An uncut run with these feeds.
    fn uncut(words: &str, segments: usize, mut feeds: Vec<usize>) -> Arrangement {
        feeds.sort_unstable();
        feeds.dedup();
        Arrangement {
            words: words.to_owned(),
            pieces: vec![Piece {
                start: 0,
                segments,
                feeds,
            }],
        }
    }
}

/// Every way that is tried for a run of `segments` that the program may feed as it likes, simplest
/// first: by sections, then by feeds.
#[must_use]
pub fn candidates(segments: usize, reach: &Reach) -> Vec<Arrangement> {
    let mut all = uncut(segments, reach);
    all.extend(cut(segments, reach));
    all.retain(|way| {
        let mut feeds = way.pieces.iter().flat_map(|piece| &piece.feeds);
        feeds.all(|feed| reach.to(*feed).is_some())
    });
    let mut unlike: Vec<Arrangement> = Vec::new();
    for way in all {
        if !unlike.iter().any(|other| other.pieces == way.pieces) {
            unlike.push(way);
        }
    }
    unlike.sort_by_key(|way| (way.pieces.len(), way.feeds()));
    unlike
}

fn uncut(segments: usize, reach: &Reach) -> Vec<Arrangement> {
    let one = |words: &str, feeds| Arrangement::uncut(words, segments, feeds);
    let mut ways = vec![
        one("start", vec![0]),
        one("end", vec![segments]),
        one("middle", vec![segments / 2]),
        one("both ends", vec![0, segments]),
    ];
    if !reach.along {
        return ways;
    }
    for count in 2..=MOST_FEEDS.min(segments) {
        let between = (0..count).map(|k| (2 * k + 1) * segments / (2 * count));
        ways.push(one(&format!("{count} feeds"), between.collect()));
        if count > 2 {
            let spread = (0..count).map(|k| k * segments / (count - 1));
            let words = format!("{count} feeds, two of them at the ends");
            ways.push(one(&words, spread.collect()));
        }
    }
    ways
}

fn cut(segments: usize, reach: &Reach) -> Vec<Arrangement> {
    let most = if reach.along { MOST_SECTIONS } else { 2 };
    let mut ways = Vec::new();
    for count in 2..=most.min(segments) {
        let bounds: Vec<usize> = (0..=count).map(|k| k * segments / count).collect();
        let way = |how: &str, feeds: fn(usize, usize) -> Vec<usize>| Arrangement {
            words: format!("{count} sections, {how}"),
            pieces: bounds
                .windows(2)
                .filter_map(|pair| match pair {
                    [from, to] => Some(piece(*from, *to, feeds(*from, *to))),
                    _ => None,
                })
                .collect(),
        };
        ways.push(way("each fed at its start", |from, _| vec![from]));
        ways.push(way("each fed at its end", |_, to| vec![to]));
        ways.push(way("each fed in its middle", |from, to| {
            vec![from + (to - from) / 2]
        }));
        ways.push(way("each fed at both ends", |from, to| vec![from, to]));
        if count == 2 {
            let middle = segments / 2;
            ways.push(Arrangement {
                words: "2 sections, each fed at the end of the run".to_owned(),
                pieces: vec![
                    piece(0, middle, vec![0]),
                    piece(middle, segments, vec![segments]),
                ],
            });
        }
    }
    ways
}

fn piece(from: usize, to: usize, feeds: Vec<usize>) -> Piece {
    Piece {
        start: from,
        segments: to - from,
        feeds,
    }
}

/// The way that was asked for; `None` when the program chooses. Places are moved to the nearest cut
/// point; the last of given sections takes what is left of the run.
#[must_use]
pub fn given(wish: &FeedWish, segments: usize, segment: Length) -> Option<Arrangement> {
    let one = |words: &str, feeds| Some(Arrangement::uncut(words, segments, feeds));
    let cuts = |length: Length| nearest(length, segment).min(segments);
    match wish {
        FeedWish::Auto => None,
        FeedWish::Start => one("start", vec![0]),
        FeedWish::End => one("end", vec![segments]),
        FeedWish::BothEnds => one("both ends", vec![0, segments]),
        FeedWish::Middle => one("middle", vec![segments / 2]),
        FeedWish::Every(spacing) => {
            let step = nearest(*spacing, segment).max(1);
            counted(one("", (0..=segments).step_by(step).collect())?)
        }
        FeedWish::At(places) if places.is_empty() => one("start", vec![0]),
        FeedWish::At(places) => {
            counted(one("", places.iter().map(|place| cuts(*place)).collect())?)
        }
        FeedWish::Sections(lengths) => Some(sections(lengths, segments, segment)),
    }
}

/// An uncut arrangement named by its number of feeds.
fn counted(mut way: Arrangement) -> Option<Arrangement> {
    way.words = match way.feeds() {
        1 => "1 feed".to_owned(),
        feeds => format!("{feeds} feeds"),
    };
    Some(way)
}

fn sections(lengths: &[Length], segments: usize, segment: Length) -> Arrangement {
    let mut pieces = Vec::new();
    let mut from = 0;
    for (index, length) in lengths.iter().enumerate() {
        let to = if index + 1 == lengths.len() {
            segments
        } else {
            (from + nearest(*length, segment)).min(segments)
        };
        if to > from {
            pieces.push(piece(from, to, vec![from]));
            from = to;
        }
    }
    if pieces.is_empty() {
        pieces.push(piece(0, segments, vec![0]));
    }
    Arrangement {
        words: match pieces.len() {
            1 => "1 section, fed at its start".to_owned(),
            count => format!("{count} sections, each fed at its start"),
        },
        pieces,
    }
}

/// The number of segments nearest to a length.
fn nearest(length: Length, segment: Length) -> usize {
    whole((length / segment).get::<ratio>() + 0.5).unwrap_or(0)
}

/// Whole segments that fit a length, and their length. A millionth of a segment that is missing
/// counts as rounding.
#[must_use]
pub fn fitted(length: Length, segment: Length) -> (usize, Length) {
    let segments = whole((length / segment).get::<ratio>() + 1e-6).unwrap_or(0);
    (segments, segment * real(segments))
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::length::meter;

    fn metres(value: f64) -> Length {
        Length::new::<meter>(value)
    }

    fn feeds(way: &Arrangement) -> Vec<usize> {
        way.pieces
            .iter()
            .flat_map(|piece| piece.feeds.clone())
            .collect()
    }

    #[test]
    fn a_length_is_fitted_down_to_whole_segments() {
        assert_eq!(fitted(metres(18.4), metres(0.05)).0, 368);
        assert_eq!(fitted(metres(0.149), metres(0.05)).0, 2);
        assert_eq!(fitted(metres(0.049), metres(0.05)).0, 0);
    }

    #[test]
    fn what_was_asked_for_moves_to_the_nearest_cut() {
        let segment = metres(0.05);
        let ask = |wish: FeedWish| given(&wish, 100, segment).map(|way| feeds(&way));
        assert_eq!(ask(FeedWish::Auto), None);
        assert_eq!(ask(FeedWish::End), Some(vec![100]));
        assert_eq!(ask(FeedWish::BothEnds), Some(vec![0, 100]));
        assert_eq!(ask(FeedWish::Middle), Some(vec![50]));
        assert_eq!(ask(FeedWish::Every(metres(2.0))), Some(vec![0, 40, 80]));
        let places = FeedWish::At(vec![metres(4.01), metres(0.0), metres(9.0)]);
        assert_eq!(ask(places), Some(vec![0, 80, 100]));
    }

    #[test]
    fn sections_cover_the_run_without_gap_or_overlap() {
        let wish = FeedWish::Sections(vec![metres(2.0), metres(2.0)]);
        let way = given(&wish, 100, metres(0.05)).expect("asked for");
        let spans: Vec<_> = way.pieces.iter().map(|p| (p.start, p.segments)).collect();
        assert_eq!(spans, [(0, 40), (40, 60)]);
        for way in cut(37, &reach(true)) {
            let mut at = 0;
            for piece in &way.pieces {
                assert_eq!(piece.start, at);
                assert!(
                    piece
                        .feeds
                        .iter()
                        .all(|f| (at..=at + piece.segments).contains(f))
                );
                at += piece.segments;
            }
            assert_eq!(at, 37, "{}", way.words);
        }
    }

    fn reach(along: bool) -> Reach {
        Reach::of(
            Some(metres(3.0)),
            Some(metres(5.0)),
            along,
            metres(0.05),
            37,
        )
    }

    #[test]
    fn without_cable_along_only_the_ends_are_fed() {
        let ways = candidates(37, &reach(false));
        assert!(
            ways.iter()
                .flat_map(feeds)
                .all(|feed| feed == 0 || feed == 37)
        );
        let words: Vec<&str> = ways.iter().map(|way| way.words.as_str()).collect();
        let expected = [
            "start",
            "end",
            "both ends",
            "2 sections, each fed at the end of the run",
        ];
        assert_eq!(words, expected);
    }
}

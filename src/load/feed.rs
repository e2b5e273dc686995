//! How a run is to be fed, as people write it: `both ends`, `every 5 m`, `at [0 m, 6 m]`.

use super::measure::{Distance, Extent};
use super::nearest::nearest;
use super::written::{Reads, Unread};
use crate::model::run::FeedWish;
use crate::quantity::{Length, length};
use schemars::{Schema, json_schema};
use uom::si::length::millimeter;

/// Sections must sum to their run within this, in mm: they are written to the millimetre.
const SECTIONS_MM: f64 = 1.0;

/// The value of `feed`.
#[derive(Debug)]
pub struct Feed;

const WORDS: [(&str, FeedWish); 5] = [
    ("auto", FeedWish::Auto),
    ("start", FeedWish::Start),
    ("end", FeedWish::End),
    ("both ends", FeedWish::BothEnds),
    ("middle", FeedWish::Middle),
];

const FORMS: &str =
    "auto, start, end, both ends, middle, every 5 m, at [0 m, 6 m], sections [9 m, 9.4 m]";

impl Reads for Feed {
    type Value = FeedWish;
    const NAME: &'static str = "Feed";

    fn what() -> String {
        "a way of feeding".to_owned()
    }

    fn schema() -> Schema {
        let words = WORDS.map(|(word, _)| word);
        let forms = ["every 5 m", "at [0 m, 6 m]", "sections [9 m, 9.4 m]"];
        let examples: Vec<_> = words.into_iter().chain(forms).collect();
        json_schema!({
            "type": "string",
            "pattern": "^(auto|start|end|both ends|middle|every .+|(at|sections) *\\[.+\\])$",
            "examples": examples
        })
    }

    fn read(text: &str) -> Result<FeedWish, Unread> {
        if let Some((_, wish)) = WORDS.into_iter().find(|(word, _)| *word == text) {
            return Ok(wish);
        }
        let (word, rest) = text.split_once([' ', '[']).unwrap_or((text, ""));
        match word {
            "every" => {
                let at = text.len() - rest.len();
                let spacing = Extent::read(rest).map_err(|unread| moved(unread, at))?;
                Ok(FeedWish::Every(spacing))
            }
            "at" => places::<Distance>(text).map(FeedWish::At),
            "sections" => places::<Extent>(text).map(FeedWish::Sections),
            _ => {
                let near = nearest(text, WORDS.iter().map(|(word, _)| *word));
                let near = near.map_or(String::new(), |near| format!(" (did you mean `{near}`?)"));
                let message =
                    format!("`{text}` is not a way of feeding{near}: it is one of {FORMS}");
                Err(Unread::new("unknown-word", message))
            }
        }
    }
}

/// The lengths between the brackets.
fn places<K: Reads<Value = Length>>(text: &str) -> Result<Vec<Length>, Unread> {
    let open = text.find('[').map(|at| at + 1);
    let inside = open.and_then(|open| text.get(open..)?.strip_suffix(']'));
    let (Some(mut at), Some(inside)) = (open, inside) else {
        let message = format!("`{text}` needs its lengths in brackets, as in `at [0 m, 6 m]`");
        return Err(Unread::new("bad-feed", message));
    };
    let mut lengths = Vec::new();
    for piece in inside.split(',') {
        lengths.push(K::read(piece).map_err(|unread| moved(unread, at))?);
        at += piece.len() + 1;
    }
    Ok(lengths)
}

/// A fault in a part that begins `by` bytes into the whole.
fn moved(unread: Unread, by: usize) -> Unread {
    let at = unread.at.map(|at| at.start + by..at.end + by);
    Unread { at, ..unread }
}

/// Whether a feed fits the run's length; when not, what is wrong.
#[must_use]
pub fn misfit(wish: &FeedWish, run: Length, cut: Option<Length>) -> Option<String> {
    let shown = length::write;
    let slack = Length::new::<millimeter>(SECTIONS_MM);
    match wish {
        FeedWish::Every(spacing) if *spacing > run => Some(format!(
            "feeds every {} don't fit a run of {}",
            shown(*spacing),
            shown(run)
        )),
        FeedWish::At(places) => beyond(places, run).or_else(|| disorder(places)),
        FeedWish::Sections(sections) => {
            let sum: Length = sections.iter().copied().sum();
            let apart = if sum > run { sum - run } else { run - sum };
            if apart > slack {
                return Some(format!(
                    "the sections sum to {}, and the run is {}",
                    shown(sum),
                    shown(run)
                ));
            }
            let short = sections
                .iter()
                .find(|one| cut.is_some_and(|cut| **one < cut))?;
            Some(format!(
                "a section of {} is shorter than one cut of the strip, {}",
                shown(*short),
                shown(cut?)
            ))
        }
        _ => None,
    }
}

fn beyond(places: &[Length], run: Length) -> Option<String> {
    let far = places.iter().find(|place| **place > run)?;
    let (far, run) = (length::write(*far), length::write(run));
    Some(format!("a feed at {far} is beyond the run's end at {run}"))
}

fn disorder(places: &[Length]) -> Option<String> {
    let pairs = places.iter().zip(places.iter().skip(1));
    let (before, after) = pairs.into_iter().find(|(before, after)| before >= after)?;
    let (before, after) = (length::write(*before), length::write(*after));
    Some(format!(
        "feeds go from the start on: {after} comes after {before}"
    ))
}

//! What documents say of the places where drivers stand: whether they can be isolated and reached.

use super::Cell;
use crate::model::site::Point;

/// Whether drivers there can be isolated there.
pub(super) fn isolator(place: &Point) -> Cell {
    said(place.isolator, isolator_word(place), || {
        format!("whether {} has an isolator", place.title)
    })
}

/// The same with the place's name: `Cupboard A: yes`.
pub(super) fn named_isolator(place: &Point) -> String {
    format!("{}: {}", place.title, isolator_word(place))
}

/// Whether what stands there can be reached without breaking the fabric.
pub(super) fn access(place: &Point) -> Cell {
    let word = match place.accessible {
        Some(true) => "yes",
        Some(false) | None => "none",
    };
    said(place.accessible, word, || {
        format!("whether {} can be reached", place.title)
    })
}

fn isolator_word(place: &Point) -> &'static str {
    match place.isolator {
        Some(true) => "yes",
        Some(false) => "none",
        None => "not known, look",
    }
}

fn said(known: Option<bool>, word: &'static str, what: impl Fn() -> String) -> Cell {
    match known {
        Some(_) => Cell::text(word),
        None => Cell::unknown(format!("the project does not say {}", what())),
    }
}

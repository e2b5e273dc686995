//! Names read from right to left beside figures and words read from left to right: each such name is
//! kept apart, so that a figure after it stays after it. By the isolates of UAX #9.

use std::borrow::Cow;
use unicode_bidi::{BidiClass, BidiInfo, Level, bidi_class};

/// Opens a stretch that has a direction of its own.
const OPEN: char = '\u{2068}';
/// Closes it.
const CLOSE: char = '\u{2069}';

/// A piece of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch<'a> {
    /// What it says.
    pub text: &'a str,
    /// Whether it has a direction of its own.
    pub own_direction: bool,
}

/// The pieces of a text. A text of nothing but such names and whole numbers is one piece: the number
/// belongs to the name.
#[must_use]
pub fn stretches(text: &str) -> Vec<Stretch<'_>> {
    let right_to_left = has_right_to_left(text);
    if right_to_left && !text.chars().all(is_of_a_name) {
        return names(text);
    }
    vec![Stretch {
        text,
        own_direction: right_to_left,
    }]
}

/// A line of cells or words with each such name isolated.
#[must_use]
pub fn isolated_line(line: &str) -> Cow<'_, str> {
    joined(line, names)
}

/// A text of its own, such as a label, with each such name isolated.
#[must_use]
pub fn isolated(text: &str) -> Cow<'_, str> {
    joined(text, stretches)
}

/// The text with its characters in the order in which they are seen from left to right, brackets
/// turned where they must be.
#[must_use]
pub fn as_seen(text: &str) -> Cow<'_, str> {
    if !has_right_to_left(text) {
        return Cow::Borrowed(text);
    }
    let isolated = isolated(text);
    let info = BidiInfo::new(&isolated, Some(Level::ltr()));
    let mut seen = String::with_capacity(text.len());
    for paragraph in &info.paragraphs {
        let (levels, runs) = info.visual_runs(paragraph, paragraph.range.clone());
        for run in runs {
            let piece = isolated.get(run.clone()).unwrap_or_default();
            let kept = piece.chars().filter(|c| !matches!(*c, OPEN | CLOSE));
            match levels.get(run.start) {
                Some(level) if level.is_rtl() => push_reversed(&mut seen, kept),
                _ => seen.extend(kept),
            }
        }
    }
    Cow::Owned(seen)
}

/// Backwards, but each mark still after the letter that it is on.
fn push_reversed(out: &mut String, text: impl Iterator<Item = char>) {
    let mut letters: Vec<String> = Vec::new();
    for c in text {
        match letters.last_mut() {
            Some(letter) if bidi_class(c) == BidiClass::NSM => letter.push(c),
            _ => letters.push(turned(c).to_string()),
        }
    }
    out.extend(letters.into_iter().rev());
}

/// The bracket that looks as this one does from the other side.
fn turned(c: char) -> char {
    match c {
        '(' => ')',
        ')' => '(',
        '[' => ']',
        ']' => '[',
        '{' => '}',
        '}' => '{',
        '<' => '>',
        '>' => '<',
        '«' => '»',
        '»' => '«',
        _ => c,
    }
}

fn joined<'a>(text: &'a str, pieces: fn(&'a str) -> Vec<Stretch<'a>>) -> Cow<'a, str> {
    if !has_right_to_left(text) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 6);
    for piece in pieces(text) {
        if piece.own_direction {
            out.extend([OPEN]);
            out.push_str(piece.text);
            out.push(CLOSE);
        } else {
            out.push_str(piece.text);
        }
    }
    Cow::Owned(out)
}

fn has_right_to_left(text: &str) -> bool {
    !text.is_ascii() && text.chars().any(is_right_to_left)
}

fn is_right_to_left(c: char) -> bool {
    // No letter before those of Hebrew is.
    c >= '\u{0590}' && matches!(bidi_class(c), BidiClass::R | BidiClass::AL)
}

/// What a name and its number are made of; a point or a sign makes a number a figure.
fn is_of_a_name(c: char) -> bool {
    is_right_to_left(c)
        || bidi_class(c) == BidiClass::NSM
        || c.is_ascii_digit()
        || matches!(c, ' ' | '-' | '\'' | '"' | ',')
}

/// Each stretch from a letter read from right to left to the last one that is joined to it by what
/// stands inside names.
fn names(text: &str) -> Vec<Stretch<'_>> {
    let mut found = Vec::new();
    let mut rest = text;
    while let Some((before, name, after)) = next_name(rest) {
        for (text, own_direction) in [(before, false), (name, true)] {
            if !text.is_empty() {
                found.push(Stretch {
                    text,
                    own_direction,
                });
            }
        }
        rest = after;
    }
    if !rest.is_empty() {
        found.push(Stretch {
            text: rest,
            own_direction: false,
        });
    }
    found
}

/// What stands before the first name, the name, what stands after it.
fn next_name(text: &str) -> Option<(&str, &str, &str)> {
    let start = text.find(is_right_to_left)?;
    let (before, from) = text.split_at(start);
    let mut end = 0;
    let mut last = None;
    for (at, c) in from.char_indices() {
        let belongs = is_right_to_left(c) || (end == at && bidi_class(c) == BidiClass::NSM);
        // Two spaces stand between cells, not inside a name.
        let cells_apart = c == ' ' && last == Some(' ');
        if belongs {
            end = at + c.len_utf8();
        } else if !is_of_a_name(c) || c == ',' || cells_apart {
            break;
        }
        last = Some(c);
    }
    let (name, after) = from.split_at(end);
    Some((before, name, after))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_after_a_name_stays_after_it() {
        // UAX #9 without isolates would set the figure before the name: rule N1 takes digits for
        // letters of the name's direction.
        assert_eq!(as_seen("אבג: 12.40 m"), "גבא: 12.40 m");
        assert_eq!(as_seen("at אבג, 3 drivers"), "at גבא, 3 drivers");
        assert_eq!(as_seen("אבג 12.40 m"), "גבא 12.40 m");
        assert_eq!(as_seen("أبج 2.5 mm²"), "جبأ 2.5 mm²");
    }

    #[test]
    fn names_in_a_list_stay_in_its_order() {
        assert_eq!(as_seen("lights אב, גד"), "lights בא, דג");
    }

    #[test]
    fn a_number_that_belongs_to_a_name_goes_with_it() {
        assert_eq!(as_seen("אבג 12"), "12 גבא");
        assert_eq!(as_seen("in אב 2 גד"), "in דג 2 בא");
    }

    #[test]
    fn brackets_of_a_name_still_enclose() {
        assert_eq!(as_seen("אב (גד)"), "בא (דג)");
        let mut reversed = String::new();
        push_reversed(&mut reversed, "(אב)".chars());
        assert_eq!(reversed, "(בא)");
    }

    #[test]
    fn marks_stay_on_their_letters() {
        assert_eq!(as_seen("ב\u{05B0}ג"), "גב\u{05B0}");
    }

    #[test]
    fn cells_of_a_line_are_not_taken_for_one_name() {
        let line = "חדר קריאה  ארכיון  12.40  3";
        assert_eq!(
            isolated_line(line),
            "\u{2068}חדר קריאה\u{2069}  \u{2068}ארכיון\u{2069}  12.40  3"
        );
        assert_eq!(isolated_line("hall 2 Ω"), "hall 2 Ω");
    }

    #[test]
    fn nothing_is_lost() {
        for text in ["", "אב", "a אב b גד 1.5", "אב  ", "1 אב\u{05B0} (x)"] {
            for pieces in [names(text), stretches(text)] {
                let whole: String = pieces.iter().map(|piece| piece.text).collect();
                assert_eq!(whole, text);
            }
        }
    }
}

//! How wide each column of a table on a terminal is.

use crate::present::document::{Align, Column, Showing};
use unicode_width::UnicodeWidthStr;

/// Between two columns; half of that where room is short.
const GAP: usize = 2;
/// Names up to this are kept on one line as long as there is room.
const LONGEST_NAME: usize = 24;
/// Text up to this is not broken.
const WHOLE: usize = 17;
/// A column of text is not made narrower than this to make room, unless nothing else helps.
const LEAST_TEXT: usize = 10;
/// The same for a column of sentences.
const LEAST_SENTENCE: usize = 20;
/// Below this nothing can be read.
const LEAST: usize = 5;

/// What a column needs.
#[derive(Debug, Clone)]
pub(super) struct Need {
    /// Narrower than this it is not shown willingly.
    pub least: usize,
    /// With this no cell takes a second line.
    pub most: usize,
    /// Whether its cells may take several lines.
    pub breaks: bool,
    /// Whether it may be left out.
    pub may_go: bool,
}

impl Need {
    /// What a column with these texts needs, its heading (in lines) among them.
    pub(super) fn of<'a>(
        column: &Column,
        heading: &str,
        texts: impl Iterator<Item = &'a str> + Clone,
    ) -> Need {
        let heading_width = heading.lines().map(UnicodeWidthStr::width).max();
        let heading_width = heading_width.unwrap_or(0);
        let most = texts.clone().map(UnicodeWidthStr::width).max();
        let most = most.unwrap_or(0).max(heading_width);
        let breaks = column.align == Align::Left;
        let words = texts.map(least_of).max().unwrap_or(0);
        let least_text = if column.stretch > 0 {
            LEAST_SENTENCE
        } else {
            LEAST_TEXT
        };
        let words = words.clamp(least_text, LONGEST_NAME);
        Need {
            least: if breaks {
                most.min(words.max(heading_width))
            } else {
                most
            },
            most,
            breaks,
            may_go: column.showing == Showing::WhenWide,
        }
    }
}

/// Short text stays whole; of longer text, its longest piece.
fn least_of(text: &str) -> usize {
    if text.width() <= WHOLE {
        return text.width();
    }
    pieces(text).map(UnicodeWidthStr::width).max().unwrap_or(0)
}

/// What a name can be broken into without looking broken.
fn pieces(text: &str) -> impl Iterator<Item = &str> {
    text.split(' ')
        .flat_map(|word| word.split_inclusive(['-', '/', '_', ',']))
}

/// Which columns are shown, how wide, and what is between them.
#[derive(Debug)]
pub(super) struct Widths {
    /// The width of each column; `None`: it is left out.
    pub columns: Vec<Option<usize>>,
    /// Between two columns.
    pub gap: usize,
}

/// Fits columns into `room`: leaves out what may go, the last first; then narrows the gaps; then
/// breaks text where it must be broken. Numbers are never broken.
pub(super) fn fit(needs: &[Need], room: usize) -> Widths {
    let mut shown: Vec<bool> = vec![true; needs.len()];
    while total(needs, &shown, GAP) > room {
        let last = needs
            .iter()
            .zip(&shown)
            .rposition(|(need, shown)| need.may_go && *shown);
        match last.and_then(|at| shown.get_mut(at)) {
            Some(shown) => *shown = false,
            None => break,
        }
    }
    let gap = if total(needs, &shown, GAP) > room {
        GAP / 2
    } else {
        GAP
    };
    let mut columns: Vec<Option<usize>> = needs
        .iter()
        .zip(&shown)
        .map(|(need, shown)| shown.then_some(need.least))
        .collect();
    let gaps = gap * columns.iter().flatten().count().saturating_sub(1);
    let room = room.saturating_sub(gaps);
    shrink(&mut columns, needs, room);
    grow(&mut columns, needs, room);
    Widths { columns, gap }
}

fn total(needs: &[Need], shown: &[bool], gap: usize) -> usize {
    let kept = needs.iter().zip(shown).filter(|(_, shown)| **shown);
    let widths: usize = kept.map(|(need, _)| need.least + gap).sum();
    widths.saturating_sub(gap)
}

/// Takes from the widest column of text, one at a time.
fn shrink(columns: &mut [Option<usize>], needs: &[Need], room: usize) {
    while columns.iter().flatten().sum::<usize>() > room {
        let widest = columns
            .iter_mut()
            .zip(needs)
            .filter(|(_, need)| need.breaks)
            .filter_map(|(width, _)| width.as_mut())
            .filter(|width| **width > LEAST)
            .max();
        match widest {
            Some(width) => *width -= 1,
            None => return,
        }
    }
}

/// Gives what is left to the columns that still break lines, the one that lacks most first.
fn grow(columns: &mut [Option<usize>], needs: &[Need], room: usize) {
    while columns.iter().flatten().sum::<usize>() < room {
        let lacking = columns
            .iter_mut()
            .zip(needs)
            .filter_map(|(width, need)| width.as_mut().map(|width| (need.most - *width, width)))
            .max_by_key(|(lack, _)| *lack);
        match lacking {
            Some((lack, width)) if lack > 0 => *width += 1,
            _ => return,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn need(least: usize, most: usize, breaks: bool, may_go: bool) -> Need {
        Need {
            least,
            most,
            breaks,
            may_go,
        }
    }

    #[test]
    fn what_may_go_goes_before_text_is_broken() {
        let needs = [
            need(10, 30, true, false),
            need(8, 8, false, true),
            need(6, 6, false, false),
        ];
        let wide = fit(&needs, 80);
        assert_eq!(wide.columns, [Some(30), Some(8), Some(6)]);
        let narrow = fit(&needs, 20);
        assert_eq!(narrow.columns, [Some(12), None, Some(6)]);
    }

    #[test]
    fn numbers_are_never_narrowed() {
        let needs = [need(24, 24, true, false), need(8, 8, false, false)];
        let widths = fit(&needs, 20);
        assert_eq!(widths.columns, [Some(11), Some(8)]);
        assert_eq!(widths.gap, 1);
    }
}

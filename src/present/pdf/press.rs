//! Setting text: made fit for the font, measured, broken into lines.

use super::font::{Face, Fonts};
use super::mark::{Block, Mark};
use super::paper::leading;
use crate::present::printable::{REPLACEMENT, printable};
use crate::present::reading_order::as_seen;
use crate::present::wrap::wrap;
use std::collections::BTreeSet;

/// Printed in place of what can't be: the font has no sign of its own for that.
pub(super) const STAND_IN: char = '□';

/// The fonts, and what was asked of them in vain.
pub(super) struct Press<'a> {
    fonts: &'a Fonts,
    missing: BTreeSet<char>,
}

impl<'a> Press<'a> {
    pub(super) fn new(fonts: &'a Fonts) -> Press<'a> {
        Press {
            fonts,
            missing: BTreeSet::new(),
        }
    }

    /// Characters that could not be printed, met since this was last asked.
    pub(super) fn take_missing(&mut self) -> BTreeSet<char> {
        std::mem::take(&mut self.missing)
    }

    /// Text as it can be printed: no control characters, one code for each of the trade's signs,
    /// and [`STAND_IN`] for what can't be printed or what the font lacks. Nothing vanishes.
    pub(super) fn fit(&mut self, text: &str) -> String {
        text.chars()
            .zip(printable(text).chars())
            .map(|(written, shown)| {
                let c = one_code(shown);
                if c != REPLACEMENT && self.fonts.have(c) {
                    c
                } else {
                    self.missing.insert(written);
                    STAND_IN
                }
            })
            .collect()
    }

    pub(super) fn width(&self, face: Face, size: f64, text: &str) -> f64 {
        self.fonts.width(face, size, text)
    }

    /// Lines no wider than `limit`.
    pub(super) fn lines(&self, face: Face, size: f64, text: &str, limit: f64) -> Vec<String> {
        wrap(text, limit, &|part: &str| {
            self.fonts.width(face, size, part)
        })
    }

    /// A paragraph, its lines after the first set in by `hanging`.
    pub(super) fn paragraph(
        &mut self,
        face: Face,
        size: f64,
        text: &str,
        room: f64,
        hanging: f64,
    ) -> Block {
        let text = self.fit(text);
        let mut block = Block::default();
        for (index, line) in self
            .lines(face, size, &text, room - hanging)
            .iter()
            .enumerate()
        {
            let x = if index == 0 { 0.0 } else { hanging };
            block
                .marks
                .push(line_mark(x, block.height + size, size, face, line));
            block.height += leading(size);
        }
        block
    }
}

/// A line of text in the order in which it is read from left to right.
pub(super) fn line_mark(x: f64, y: f64, size: f64, face: Face, text: &str) -> Mark {
    Mark::Text {
        x,
        y,
        size,
        face,
        text: as_seen(text).into_owned(),
    }
}

/// Signs that have two codes, under the one that the font's glyph is found by again.
fn one_code(c: char) -> char {
    match c {
        '\u{2126}' => 'Ω',
        '\u{03BC}' => 'µ',
        '\u{2206}' => 'Δ',
        '\u{00A0}' | '\u{202F}' | '\u{2009}' => ' ',
        '\u{00AD}' | '\u{2010}' | '\u{2011}' => '-',
        _ => c,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_ohms_and_both_micros_are_one() {
        let fonts = Fonts::load().unwrap();
        assert_eq!(
            Press::new(&fonts).fit("\u{2126}\u{03A9}\u{00B5}\u{03BC}"),
            "ΩΩµµ"
        );
    }

    #[test]
    fn what_the_font_lacks_is_replaced_and_remembered() {
        let fonts = Fonts::load().unwrap();
        let mut press = Press::new(&fonts);
        assert_eq!(press.fit("hall 日"), "hall □");
        assert_eq!(press.take_missing(), BTreeSet::from(['日']));
        assert!(press.take_missing().is_empty());
    }

    #[test]
    fn lines_are_no_wider_than_asked() {
        let fonts = Fonts::load().unwrap();
        let press = Press::new(&fonts);
        let text = "a paragraph of some words which takes several lines";
        for line in press.lines(Face::Regular, 8.0, text, 60.0) {
            assert!(press.width(Face::Regular, 8.0, &line) <= 60.0, "{line}");
        }
    }
}

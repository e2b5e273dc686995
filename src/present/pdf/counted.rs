//! Documents set a first time, to know what stands on every sheet before the first is drawn: how many
//! sheets there are, what the bookmarks lead to, which characters are used.

use super::Paper;
use super::flow::{self, Sheet};
use super::font::{Face, Fonts};
use super::frame;
use super::mark::Mark;
use super::press::Press;
use crate::present::document::Document;
use std::collections::{BTreeMap, BTreeSet};

/// Sheets of a document that are kept from the first setting. Those of a longer one are set again
/// when they are drawn: that costs less than the memory that many thousand sheets take.
const MOST_KEPT: usize = 256;

/// A number with all digits, for sheets whose own is not known yet.
const ANY_SHEET: usize = 1_234_567_890;

/// Characters by the face they are set in.
pub(super) type Used = BTreeMap<Face, BTreeSet<char>>;

/// A document that was set.
pub(super) struct Counted<'a> {
    pub document: &'a Document,
    /// How many sheets it takes.
    pub sheets: usize,
    /// The headings of its parts, each with the sheet that it is on, from 0.
    pub headings: Vec<(usize, String)>,
    pub used: Used,
    /// Its sheets; `None` where there are too many to be kept.
    kept: Option<Vec<Sheet>>,
}

impl<'a> Counted<'a> {
    /// Sets a document.
    pub(super) fn of(document: &'a Document, paper: Paper, fonts: &Fonts) -> Counted<'a> {
        let mut counted = Counted {
            document,
            sheets: 0,
            headings: Vec::new(),
            used: Used::new(),
            kept: Some(Vec::new()),
        };
        flow::each_sheet(document, paper, fonts, |sheet| counted.add(sheet, fonts));
        counted
    }

    fn add(&mut self, mut sheet: Sheet, fonts: &Fonts) {
        if self.sheets == 0 {
            let mut press = Press::new(fonts);
            let page = sheet.page;
            let block = frame::title_block(self.document, page, ANY_SHEET, ANY_SHEET, &mut press);
            note(&mut self.used, &block.marks);
        }
        note(&mut self.used, &sheet.marks);
        let headings = std::mem::take(&mut sheet.headings).into_iter();
        self.headings
            .extend(headings.map(|text| (self.sheets, text)));
        self.sheets += 1;
        if self.sheets > MOST_KEPT {
            self.kept = None;
        }
        if let Some(kept) = &mut self.kept {
            kept.push(sheet);
        }
    }

    /// Hands over each sheet, in order.
    pub(super) fn each(&mut self, paper: Paper, fonts: &Fonts, mut take: impl FnMut(Sheet)) {
        match self.kept.take() {
            Some(kept) => kept.into_iter().for_each(take),
            None => flow::each_sheet(self.document, paper, fonts, &mut take),
        }
    }
}

fn note(used: &mut Used, marks: &[Mark]) {
    for mark in marks {
        if let Mark::Text { face, text, .. } = mark {
            used.entry(*face).or_default().extend(text.chars());
        }
    }
}

/// The characters of all.
pub(super) fn used_in_all(counted: &[Counted]) -> Used {
    let mut all = Used::new();
    for (face, characters) in counted.iter().flat_map(|it| &it.used) {
        all.entry(*face).or_default().extend(characters);
    }
    all
}

//! The contents of a document, from top to bottom over as many sheets as they need.

use super::font::{Face, Fonts};
use super::frame;
use super::mark::{Block, Mark};
use super::paper::{BODY, BOTTOM, HEADING, NOTE, Page, Paper, SIDE, TABLE, TOP};
use super::picture;
use super::press::{Press, STAND_IN};
use super::table;
use crate::present::document::{Document, Part, RowKind};
use crate::present::drawing::sheet::Sheet as Drawing;
use crate::present::printable::REPLACEMENT;
use crate::present::shown::{self, Notes};

/// One sheet's contents, without its title block.
pub(super) struct Sheet {
    pub page: Page,
    pub marks: Vec<Mark>,
    /// Headings of the parts that begin on it.
    pub headings: Vec<String>,
}

/// What comes next from top to bottom.
enum Piece<'a> {
    /// A block; when `keep` is set it does not stand at the foot of a sheet alone.
    Block { block: Block, keep: bool },
    /// A part's heading, for the bookmarks.
    Heading { block: Block, text: String },
    /// A drawing, made smaller for what is left of the sheet where it fills that.
    Drawing { drawing: &'a Drawing, fills: bool },
    /// A table, with the heading it has on every sheet that it goes on to.
    Table {
        set: table::Set,
        continued: Option<Block>,
    },
    /// What follows begins on a new sheet.
    NewSheet,
}

/// What a drawing leaves of the height for its heading and a line or two.
const BESIDE_DRAWING: f64 = 40.0;

/// A table that takes no more than this share of a sheet is not broken.
const SHORT: f64 = 0.4;

/// Sets a document, and hands over each sheet as it is filled.
pub(super) fn each_sheet(
    document: &Document,
    paper: Paper,
    fonts: &Fonts,
    take: impl FnMut(Sheet),
) {
    let press = &mut Press::new(fonts);
    let (page, size) = page_and_size(document, paper, press);
    // The sheet number's width hardly matters here: the height is that of the title.
    let above = TOP + frame::title_block(document, page, 88, 88, press).height;
    let cautions = frame::cautions(document, page, press);
    let mut flow = Flow::new(page, above, cautions, take);
    let mut pieces = Vec::new();
    for part in document.parts.iter().filter(|part| !shown::is_empty(part)) {
        push_part(&mut pieces, part, document, press, size, page.room());
        for piece in pieces.drain(..) {
            flow.place(piece, press);
        }
    }
    if let Some(note) = missing(press, page.room()) {
        flow.put(note);
    }
    flow.finish();
}

/// Points to a drawing's unit below which its letters are too small.
const READABLE: f64 = 0.6;

/// Upright if every table fits so in readable type; across otherwise, in the largest type that
/// fits.
fn page_and_size(document: &Document, paper: Paper, press: &mut Press) -> (Page, f64) {
    let mut all_fit = |page: Page, size: f64| {
        let mut drawings = document
            .parts
            .iter()
            .filter_map(|part| part.drawing.as_ref());
        document
            .parts
            .iter()
            .filter_map(|part| part.table.as_ref())
            .all(|it| table::fits(it, document, press, size, page.room()))
            && drawings.all(|it| it.width * READABLE <= page.room())
    };
    let [large, medium, small, least] = TABLE;
    let tries = [
        (paper.upright(), large),
        (paper.upright(), medium),
        (paper.across(), large),
        (paper.across(), medium),
        (paper.across(), small),
    ];
    let found = tries.into_iter().find(|(page, size)| all_fit(*page, *size));
    found.unwrap_or((paper.across(), least))
}

fn push_part<'a>(
    pieces: &mut Vec<Piece<'a>>,
    part: &'a Part,
    document: &Document,
    press: &mut Press,
    size: f64,
    room: f64,
) {
    if part.new_sheet {
        pieces.push(Piece::NewSheet);
    }
    if !part.heading.is_empty() {
        let mut block = press.paragraph(Face::Bold, HEADING, &part.heading, room, 0.0);
        block.height += 2.0;
        let text = press.fit(&part.heading);
        pieces.push(Piece::Heading { block, text });
    }
    for text in &part.text {
        let block = press.paragraph(Face::Regular, BODY, text, room, 0.0);
        let keep = part.table.is_some() || part.drawing.is_some();
        pieces.push(Piece::Block { block, keep });
    }
    if let Some(drawing) = &part.drawing {
        let fills = part.fills_sheet;
        pieces.push(Piece::Drawing { drawing, fills });
        pieces.push(gap(6.0));
    }
    if !part.text.is_empty() && part.table.is_some() {
        let block = Block {
            height: 3.0,
            marks: Vec::new(),
        };
        pieces.push(Piece::Block { block, keep: true });
    }
    let mut notes = Notes::default();
    if let Some(it) = part.table.as_ref().filter(|it| !it.rows.is_empty()) {
        let set = table::set(it, document, press, &mut notes, size, room);
        let continued = continued_heading(part, press, room);
        pieces.push(Piece::Table { set, continued });
        pieces.push(gap(3.0));
    }
    let lines: Vec<String> = notes.lines().collect();
    for note in lines.iter().chain(&part.notes) {
        let block = press.paragraph(Face::Regular, NOTE, note, room, 10.0);
        pieces.push(Piece::Block { block, keep: false });
    }
    pieces.push(gap(10.0));
}

/// Rows on a later sheet must still say whose they are.
fn continued_heading(part: &Part, press: &mut Press, room: f64) -> Option<Block> {
    if part.heading.is_empty() {
        return None;
    }
    let text = format!("{}, continued", part.heading);
    let mut block = press.paragraph(Face::Bold, HEADING, &text, room, 0.0);
    block.height += 2.0;
    Some(block)
}

fn gap(height: f64) -> Piece<'static> {
    let block = Block {
        height,
        marks: Vec::new(),
    };
    Piece::Block { block, keep: false }
}

/// Says which characters were replaced, by their code points, since they can't be shown.
fn missing(press: &mut Press, room: f64) -> Option<Block> {
    let missing: Vec<String> = press.take_missing().into_iter().map(code).collect();
    if missing.is_empty() {
        return None;
    }
    let note = format!(
        "{STAND_IN} stands for characters that can't be printed here: {}. The data files hold the \
         text as it was written.",
        missing.join(", ")
    );
    Some(press.paragraph(Face::Regular, NOTE, &note, room, 0.0))
}

/// Characters that were replaced before they came here are control characters.
fn code(c: char) -> String {
    if c == REPLACEMENT {
        "control characters".to_owned()
    } else {
        format!("U+{:04X}", u32::from(c))
    }
}

/// Filling one sheet after the other.
struct Flow<T> {
    page: Page,
    above: f64,
    below: f64,
    cautions: Block,
    y: f64,
    marks: Vec<Mark>,
    headings: Vec<String>,
    /// Blocks that wait for the one they must stand with.
    held: Vec<Block>,
    /// Whether a sheet was handed over.
    begun: bool,
    take: T,
}

impl<T: FnMut(Sheet)> Flow<T> {
    fn new(page: Page, above: f64, cautions: Block, take: T) -> Flow<T> {
        let frame = if cautions.marks.is_empty() {
            0.0
        } else {
            cautions.height + 8.0
        };
        Flow {
            page,
            above,
            below: page.height - BOTTOM - frame,
            cautions,
            y: above,
            marks: Vec::new(),
            headings: Vec::new(),
            held: Vec::new(),
            begun: false,
            take,
        }
    }

    fn place(&mut self, piece: Piece, press: &mut Press) {
        match piece {
            Piece::Drawing { drawing, fills } => {
                let block = self.drawn(drawing, fills, press);
                self.put(block);
            }
            Piece::Block { block, keep: true } => self.held.push(block),
            Piece::Block { block, keep: false } => self.put(block),
            Piece::Heading { block, text } => {
                self.release(0.0);
                self.held.push(block);
                // The heading is noted where its block will be put.
                if self.y + self.held_height() + 40.0 > self.below {
                    self.next_sheet();
                }
                self.headings.push(text);
            }
            Piece::Table { set, continued } => self.put_table(set, continued.as_ref()),
            Piece::NewSheet => {
                self.release(0.0);
                if self.y > self.above {
                    self.next_sheet();
                }
            }
        }
    }

    /// A drawing as large as a sheet has room for, or what is left of this one.
    fn drawn(&self, drawing: &Drawing, fills: bool, press: &mut Press) -> Block {
        let width = self.page.room();
        let whole = self.below - self.above - BESIDE_DRAWING;
        let left = self.below - self.y - self.held_height() - 1.0;
        let readable = left >= drawing.height * READABLE;
        let height = if fills && readable {
            left.min(whole)
        } else {
            whole
        };
        picture::set(drawing, press, width, height)
    }

    fn held_height(&self) -> f64 {
        self.held.iter().map(|block| block.height).sum()
    }

    /// Puts what was held, on this sheet if `more` fits under it too.
    fn release(&mut self, more: f64) {
        if self.y + self.held_height() + more > self.below && self.y > self.above {
            self.next_sheet();
        }
        for block in std::mem::take(&mut self.held) {
            self.put_here(block);
        }
    }

    /// Puts a block, on the next sheet if it does not fit.
    fn put(&mut self, block: Block) {
        self.release(block.height);
        self.put_here(block);
    }

    fn put_here(&mut self, block: Block) {
        let y = self.y;
        let marks = block.marks.into_iter().map(|mark| mark.moved(SIDE, y));
        self.marks.extend(marks);
        self.y += block.height;
    }

    fn put_table(&mut self, set: table::Set, continued: Option<&Block>) {
        self.release(set.head.height + self.together(&set));
        self.put_here(set.head.clone());
        let mut group = None;
        let mut rows = set.rows.into_iter().peekable();
        while let Some((kind, block)) = rows.next() {
            // A group's heading stands with its first row.
            let next = rows.peek().map_or(0.0, |(_, block)| block.height);
            let together = if kind == RowKind::Group { next } else { 0.0 };
            if self.y + block.height + together > self.below && self.y > self.above {
                self.next_sheet();
                if let Some(heading) = continued {
                    self.put_here(heading.clone());
                }
                self.put_here(set.head.clone());
                if let (RowKind::Body, Some(group)) = (kind, &group) {
                    self.put_here(Block::clone(group));
                }
            }
            if kind == RowKind::Group {
                group = Some(block.clone());
            }
            self.put_here(block);
        }
    }

    /// How much of a table stays together: all of a short one, two rows of a long one.
    fn together(&self, set: &table::Set) -> f64 {
        let rows = set.rows.iter().map(|(_, block)| block.height);
        let all: f64 = rows.clone().sum();
        if all <= SHORT * (self.below - self.above) {
            all
        } else {
            rows.take(2).sum()
        }
    }

    fn next_sheet(&mut self) {
        let mut marks = std::mem::take(&mut self.marks);
        if !self.cautions.marks.is_empty() {
            let y = self.page.height - BOTTOM - self.cautions.height;
            let cautions = self.cautions.marks.iter().cloned();
            marks.extend(cautions.map(|mark| mark.moved(SIDE, y)));
        }
        (self.take)(Sheet {
            page: self.page,
            marks,
            headings: std::mem::take(&mut self.headings),
        });
        self.begun = true;
        self.y = self.above;
    }

    fn finish(mut self) {
        self.release(0.0);
        if !self.marks.is_empty() || !self.begun {
            self.next_sheet();
        }
    }
}

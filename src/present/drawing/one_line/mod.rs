//! One-line drawings: the tree of a control loop, a cupboard from its mains circuits to its feeds,
//! and the whole installation from its circuits to its rooms. What does not fit one sheet goes on
//! over as many as it needs; nothing is made smaller.

pub mod bus;
pub mod cupboard;
pub mod whole;

use super::sheet::{Bounds, Fill, Sheet, Stroke, clipped, text_width};
use crate::present::printable::printable;
use crate::present::wrap::wrap;

/// Width of every sheet: so wide that its letters can be read on upright paper.
const WIDTH: f64 = 680.0;
/// Room for contents on one sheet, top to bottom.
const TALL: f64 = 690.0;
/// Room left at the sides.
const EDGE: f64 = 24.0;
/// Height of names.
const LETTERS: f64 = 11.0;
/// Height of what stands under a name.
const SMALL: f64 = 9.5;
/// Distance of its lines.
const SMALL_LINE: f64 = 12.0;

/// A sheet of a drawing that may have several.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// What it shows: `Loop L1, sheet 1 of 2`.
    pub heading: String,
    /// The sheet, titled so that a file can be named for it.
    pub sheet: Sheet,
}

/// The parts of a drawing of something called `what` and `name`, one a sheet.
fn parts(what: &str, name: &str, sheets: Vec<Sheet>) -> Vec<Part> {
    let count = sheets.len();
    let numbered = (1..).zip(sheets);
    numbered
        .map(|(number, mut sheet)| {
            let (mut heading, mut title) = (what.to_owned(), name.to_owned());
            if count > 1 {
                heading.push_str(&format!(", sheet {number} of {count}"));
                title.push_str(&format!("-{number}"));
            }
            sheet.title = title;
            Part { heading, sheet }
        })
        .collect()
}

fn blank() -> Sheet {
    Sheet {
        title: String::new(),
        width: WIDTH,
        height: 0.0,
        shapes: Vec::new(),
    }
}

/// A line of small text, cut to its room.
fn small(sheet: &mut Sheet, at: (f64, f64), room: f64, text: &str) {
    sheet.text(at, SMALL, clipped(&printable(text), SMALL, false, room));
}

/// Small text in as many lines as it takes, but at most `most`; the last then says that there is
/// more.
fn small_lines(text: &str, room: f64, most: usize) -> Vec<String> {
    let width = |part: &str| text_width(part, SMALL, false);
    let mut lines = wrap(&printable(text), room, &width);
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            *last = clipped(&format!("{last} …, see the schedule"), SMALL, false, room);
        }
    }
    lines
}

/// A box with a name in it; its width.
fn named_box(sheet: &mut Sheet, (left, top): (f64, f64), most: f64, name: &str) -> f64 {
    let name = clipped(&printable(name), LETTERS, true, most - 16.0);
    let bounds = Bounds {
        left,
        top,
        width: text_width(&name, LETTERS, true) + 16.0,
        height: 20.0,
    };
    sheet.rectangle(bounds, Fill::Pale, Stroke::Plain);
    sheet.bold((left + 8.0, top + 14.0), LETTERS, name);
    bounds.width
}

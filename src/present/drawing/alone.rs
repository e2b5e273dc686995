//! A drawing as a file of its own: with a title above it and the cautions under it, since no sheet
//! of a document gives it either.

use super::sheet::{Bounds, Fill, Sheet, Stroke, clipped, text_width};
use crate::present::printable::printable;
use crate::present::wrap::wrap;

/// Room left at the sides.
const EDGE: f64 = 24.0;
/// Where the title's rule is.
const RULE: f64 = 84.0;
/// Height of ordinary letters.
const LETTERS: f64 = 11.0;
/// Distance of their lines.
const LINE: f64 = 14.0;
/// The narrowest sheet on which title and cautions can be read.
const LEAST_WIDTH: f64 = 560.0;

/// What stands around a drawing.
#[derive(Debug, Clone, Copy)]
pub struct Surround<'a> {
    /// What is drawn.
    pub title: &'a str,
    /// Two lines under the title: the project, and what the drawing is about.
    pub lines: &'a [&'a str],
    /// What someone who wires from it must heed; none: no frame.
    pub cautions: &'a [String],
}

/// The drawing with what stands around it.
#[must_use]
pub fn standing_alone(bare: Sheet, surround: &Surround) -> Sheet {
    let mut sheet = Sheet {
        title: bare.title.clone(),
        width: bare.width.max(LEAST_WIDTH),
        height: 0.0,
        shapes: Vec::new(),
    };
    push_title(&mut sheet, surround);
    let top = RULE + 8.0;
    sheet
        .shapes
        .extend(bare.shapes.into_iter().map(|shape| shape.moved(0.0, top)));
    let mut bottom = top + bare.height;
    if !surround.cautions.is_empty() {
        bottom = push_cautions(&mut sheet, surround.cautions, bottom + 14.0);
    }
    sheet.height = bottom + EDGE;
    sheet
}

fn push_title(sheet: &mut Sheet, surround: &Surround) {
    let room = sheet.width - 2.0 * EDGE;
    let title = clipped(&printable(surround.title), 18.0, true, room);
    sheet.bold((EDGE, 38.0), 18.0, title);
    for (y, text) in [58.0, 74.0].into_iter().zip(surround.lines) {
        let text = clipped(&printable(text), 12.0, false, room);
        sheet.text((EDGE, y), 12.0, text);
    }
    let right = sheet.width - EDGE;
    sheet.line((EDGE, RULE), (right, RULE), Stroke::Plain);
}

/// The cautions in a frame.
fn push_cautions(sheet: &mut Sheet, cautions: &[String], top: f64) -> f64 {
    let room = sheet.width - 2.0 * EDGE - 20.0;
    let width = |text: &str| text_width(text, LETTERS, false);
    let mut y = top + 18.0;
    sheet.bold((EDGE + 10.0, y), LETTERS, "Cautions");
    for caution in cautions {
        for line in wrap(&printable(caution), room, &width) {
            y += LINE;
            sheet.text((EDGE + 10.0, y), LETTERS, line);
        }
    }
    let frame = Bounds {
        left: EDGE,
        top,
        width: sheet.width - 2.0 * EDGE,
        height: y + 8.0 - top,
    };
    sheet.rectangle(frame, Fill::None, Stroke::Plain);
    y + 8.0
}

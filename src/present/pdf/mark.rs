//! What is put on a sheet: text, rules, frames. Measures as in `paper`.

use super::font::Face;

/// One mark.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Mark {
    /// Text with its baseline's left end.
    Text {
        x: f64,
        y: f64,
        size: f64,
        face: Face,
        text: String,
    },
    /// A straight line; `grey` is 0 for black, 1 for white.
    Rule {
        from: (f64, f64),
        to: (f64, f64),
        weight: f64,
        grey: f64,
    },
    /// A rectangle's outline.
    Frame {
        x: f64,
        y: f64,
        width: f64,
        height: f64,
        weight: f64,
    },
}

impl Mark {
    /// The same mark elsewhere.
    pub(super) fn moved(self, right: f64, down: f64) -> Mark {
        match self {
            Mark::Text {
                x,
                y,
                size,
                face,
                text,
            } => Mark::Text {
                x: x + right,
                y: y + down,
                size,
                face,
                text,
            },
            Mark::Rule {
                from,
                to,
                weight,
                grey,
            } => Mark::Rule {
                from: (from.0 + right, from.1 + down),
                to: (to.0 + right, to.1 + down),
                weight,
                grey,
            },
            Mark::Frame {
                x,
                y,
                width,
                height,
                weight,
            } => Mark::Frame {
                x: x + right,
                y: y + down,
                width,
                height,
                weight,
            },
        }
    }
}

/// Marks that stay together, with the height they take. Their places are from its upper left
/// corner.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Block {
    pub height: f64,
    pub marks: Vec<Mark>,
}

impl Block {
    /// A line across `width` at its top.
    pub(super) fn rule_above(&mut self, width: f64, weight: f64, grey: f64) {
        self.marks.push(Mark::Rule {
            from: (0.0, 0.0),
            to: (width, 0.0),
            weight,
            grey,
        });
    }
}

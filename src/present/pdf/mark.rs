//! What is put on a sheet: text and paths. Measures as in `paper`.

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
    /// A line or an area.
    Path(Path),
}

/// Straight lines through points, perhaps closed and filled.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Path {
    pub points: Vec<(f64, f64)>,
    pub closed: bool,
    /// A grey to fill it with: 0 for black, 1 for white.
    pub fill: Option<f64>,
    pub pen: Option<Pen>,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pen {
    pub weight: f64,
    /// 0 for black, 1 for white.
    pub grey: f64,
    /// Lengths of dash and gap.
    pub dashes: Option<(f64, f64)>,
}

impl Mark {
    /// A straight line.
    pub(super) fn rule(from: (f64, f64), to: (f64, f64), weight: f64, grey: f64) -> Mark {
        Mark::Path(Path {
            points: vec![from, to],
            closed: false,
            fill: None,
            pen: Some(Pen {
                weight,
                grey,
                dashes: None,
            }),
        })
    }

    /// A rectangle's outline, from its upper left corner.
    pub(super) fn frame(x: f64, y: f64, width: f64, height: f64, weight: f64) -> Mark {
        Mark::Path(Path {
            points: corners(x, y, width, height),
            closed: true,
            fill: None,
            pen: Some(Pen {
                weight,
                grey: 0.0,
                dashes: None,
            }),
        })
    }

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
            Mark::Path(mut path) => {
                for (x, y) in &mut path.points {
                    (*x, *y) = (*x + right, *y + down);
                }
                Mark::Path(path)
            }
        }
    }
}

/// The corners of a rectangle in order.
pub(super) fn corners(x: f64, y: f64, width: f64, height: f64) -> Vec<(f64, f64)> {
    vec![
        (x, y),
        (x + width, y),
        (x + width, y + height),
        (x, y + height),
    ]
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
        self.marks
            .push(Mark::rule((0.0, 0.0), (width, 0.0), weight, grey));
    }
}

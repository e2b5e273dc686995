//! A sheet with shapes on it: what a drawing comes to before any format writes it.
//!
//! Units are those of the sheet, y downwards. Nothing is told apart by colour: strokes differ in
//! width and dashes.

use unicode_width::UnicodeWidthStr;

/// A sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// What it shows.
    pub title: String,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// Shapes, the first the lowest.
    pub shapes: Vec<Shape>,
}

/// A shape.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A line through points.
    Path {
        /// Its points.
        points: Vec<(f64, f64)>,
        /// How it is drawn.
        stroke: Stroke,
    },
    /// A rectangle.
    Box {
        /// Left, top, width, height.
        bounds: Bounds,
        /// What it is filled with.
        fill: Fill,
        /// Its outline.
        stroke: Stroke,
    },
    /// A dot that marks a point.
    Dot {
        /// Where.
        at: (f64, f64),
        /// What it is filled with.
        fill: Fill,
    },
    /// Text.
    Text(Label),
}

impl Shape {
    /// The same shape elsewhere.
    #[must_use]
    pub fn moved(self, right: f64, down: f64) -> Shape {
        let there = |(x, y): (f64, f64)| (x + right, y + down);
        match self {
            Shape::Path { points, stroke } => Shape::Path {
                points: points.into_iter().map(there).collect(),
                stroke,
            },
            Shape::Box {
                bounds,
                fill,
                stroke,
            } => Shape::Box {
                bounds: Bounds {
                    left: bounds.left + right,
                    top: bounds.top + down,
                    ..bounds
                },
                fill,
                stroke,
            },
            Shape::Dot { at, fill } => Shape::Dot {
                at: there(at),
                fill,
            },
            Shape::Text(label) => Shape::Text(Label {
                at: there(label.at),
                ..label
            }),
        }
    }
}

/// A rectangle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Left edge.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

impl Bounds {
    /// Whether two rectangles have room in common.
    #[must_use]
    pub fn overlaps(&self, other: &Bounds) -> bool {
        self.left < other.left + other.width
            && other.left < self.left + self.width
            && self.top < other.top + other.height
            && other.top < self.top + self.height
    }
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stroke {
    /// Not at all.
    None,
    /// A thin line: frames, grids.
    Hair,
    /// An ordinary line.
    Plain,
    /// The line that counts.
    Heavy,
    /// A second line beside a heavy one.
    Dashed,
    /// A level or limit.
    Level,
    /// From a label to its point.
    Leader,
}

/// What a shape is filled with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Nothing.
    None,
    /// White.
    Paper,
    /// A pale grey.
    Pale,
    /// Black.
    Ink,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// Left end of its baseline.
    pub at: (f64, f64),
    /// Height of its letters.
    pub size: f64,
    /// Whether it is set bold.
    pub bold: bool,
    /// What it says.
    pub text: String,
}

/// Width of a letter as a share of its height: more than the usual sans-serif faces take, since
/// the face that a viewer has is not known.
const LETTER: f64 = 0.62;
/// The same of bold letters.
const BOLD_LETTER: f64 = 0.68;

/// Width to allow for a text.
#[must_use]
pub fn text_width(text: &str, size: f64, bold: bool) -> f64 {
    let letter = if bold { BOLD_LETTER } else { LETTER };
    crate::quantity::number::real(text.width()) * size * letter
}

/// The text cut to a width, with a sign that something is left out.
#[must_use]
pub fn clipped(text: &str, size: f64, bold: bool, most: f64) -> String {
    if text_width(text, size, bold) <= most {
        return text.to_owned();
    }
    let mut kept = String::new();
    for c in text.chars() {
        let longer = format!("{kept}{c}…");
        if text_width(&longer, size, bold) > most {
            break;
        }
        kept.push(c);
    }
    kept.push('…');
    kept
}

impl Label {
    /// The room it takes.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        Bounds {
            left: self.at.0,
            top: self.at.1 - 0.8 * self.size,
            width: text_width(&self.text, self.size, self.bold),
            height: self.size,
        }
    }
}

impl Sheet {
    /// All its text.
    pub fn labels(&self) -> impl Iterator<Item = &Label> {
        self.shapes.iter().filter_map(|shape| match shape {
            Shape::Text(label) => Some(label),
            _ => None,
        })
    }

    /// Adds a line of text.
    pub fn text(&mut self, at: (f64, f64), size: f64, text: impl Into<String>) {
        self.shapes.push(Shape::Text(Label {
            at,
            size,
            bold: false,
            text: text.into(),
        }));
    }

    /// Adds a line of bold text.
    pub fn bold(&mut self, at: (f64, f64), size: f64, text: impl Into<String>) {
        self.shapes.push(Shape::Text(Label {
            at,
            size,
            bold: true,
            text: text.into(),
        }));
    }

    /// Adds text that ends at a place.
    pub fn text_to(&mut self, (right, y): (f64, f64), size: f64, text: impl Into<String>) {
        let text = text.into();
        let left = right - text_width(&text, size, false);
        self.text((left, y), size, text);
    }

    /// Adds a line.
    pub fn line(&mut self, from: (f64, f64), to: (f64, f64), stroke: Stroke) {
        self.path(vec![from, to], stroke);
    }

    /// Adds a line through points.
    pub fn path(&mut self, points: Vec<(f64, f64)>, stroke: Stroke) {
        self.shapes.push(Shape::Path { points, stroke });
    }

    /// Adds a rectangle.
    pub fn rectangle(&mut self, bounds: Bounds, fill: Fill, stroke: Stroke) {
        self.shapes.push(Shape::Box {
            bounds,
            fill,
            stroke,
        });
    }

    /// Adds a dot.
    pub fn dot(&mut self, at: (f64, f64), fill: Fill) {
        self.shapes.push(Shape::Dot { at, fill });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_names_are_cut_to_the_room() {
        let long = "a".repeat(300);
        let cut = clipped(&long, 10.0, false, 100.0);
        assert!(cut.ends_with('…'));
        assert!(text_width(&cut, 10.0, false) <= 100.0);
        assert_eq!(clipped("short", 10.0, false, 100.0), "short");
    }
}

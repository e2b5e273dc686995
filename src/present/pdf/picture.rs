//! A drawing on a sheet of paper: the same shapes as everywhere, as large as there is room for.

use super::font::Face;
use super::mark::{Block, Mark, Path, Pen, corners};
use super::press::{Press, line_mark};
use crate::present::drawing::sheet::{Fill, Shape, Sheet, Stroke};
use crate::quantity::number::real;
use std::f64::consts::TAU;

/// A drawing is not made larger than this many points to its unit.
const MOST_SCALE: f64 = 0.9;
/// Radius of a dot, in the drawing's units.
const DOT: f64 = 3.0;
/// Corners of what stands for a circle of that size.
const DOT_CORNERS: usize = 16;

/// The drawing scaled to a room of `width` and `height`.
pub(super) fn set(sheet: &Sheet, press: &mut Press, width: f64, height: f64) -> Block {
    let scale = (width / sheet.width)
        .min(height / sheet.height)
        .min(MOST_SCALE);
    let marks = sheet.shapes.iter().map(|it| mark(it, scale, press));
    Block {
        marks: marks.collect(),
        height: sheet.height * scale,
    }
}

fn mark(shape: &Shape, scale: f64, press: &mut Press) -> Mark {
    let scaled = |(x, y): (f64, f64)| (x * scale, y * scale);
    match shape {
        Shape::Path { points, stroke } => Mark::Path(Path {
            points: points.iter().copied().map(scaled).collect(),
            closed: false,
            fill: None,
            pen: pen(*stroke, scale),
        }),
        Shape::Box {
            bounds,
            fill,
            stroke,
        } => Mark::Path(Path {
            points: corners(bounds.left, bounds.top, bounds.width, bounds.height)
                .into_iter()
                .map(scaled)
                .collect(),
            closed: true,
            fill: paint(*fill),
            pen: pen(*stroke, scale),
        }),
        Shape::Dot { at, fill } => Mark::Path(Path {
            points: around(*at).map(scaled).collect(),
            closed: true,
            fill: paint(*fill),
            pen: pen(Stroke::Plain, scale),
        }),
        Shape::Text(label) => {
            let face = if label.bold {
                Face::Bold
            } else {
                Face::Regular
            };
            let (x, y) = scaled(label.at);
            line_mark(x, y, label.size * scale, face, &press.fit(&label.text))
        }
    }
}

/// Places around a dot.
fn around(at: (f64, f64)) -> impl Iterator<Item = (f64, f64)> {
    (0..DOT_CORNERS).map(move |corner| {
        let (sine, cosine) = (TAU * real(corner) / real(DOT_CORNERS)).sin_cos();
        (at.0 + DOT * cosine, at.1 + DOT * sine)
    })
}

/// Weights as in the drawing; greys dark enough for a poor copier.
fn pen(stroke: Stroke, scale: f64) -> Option<Pen> {
    let (weight, grey, dashes) = match stroke {
        Stroke::None => return None,
        Stroke::Hair => (0.6, 0.75, None),
        Stroke::Plain => (0.9, 0.0, None),
        Stroke::Heavy => (1.8, 0.0, None),
        Stroke::Dashed => (1.8, 0.0, Some((7.0, 4.0))),
        Stroke::Level => (0.9, 0.0, Some((2.0, 3.0))),
        Stroke::Leader => (0.6, 0.5, Some((1.0, 2.0))),
    };
    Some(Pen {
        weight: weight * scale,
        grey,
        dashes: dashes.map(|(dash, gap)| (dash * scale, gap * scale)),
    })
}

fn paint(fill: Fill) -> Option<f64> {
    match fill {
        Fill::None => None,
        Fill::Paper => Some(1.0),
        Fill::Pale => Some(0.93),
        Fill::Ink => Some(0.0),
    }
}

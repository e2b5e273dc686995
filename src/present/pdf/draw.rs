//! Marks as the PDF library's drawing operations.

use super::font::Face;
use super::mark::{Mark, Path, Pen};
use super::paper::Page;
use num_traits::ToPrimitive;
use printpdf::{
    Color, Greyscale, Line, LineDashPattern, LinePoint, Mm, Op, PaintMode, PdfFontHandle, PdfPage,
    Point, Polygon, PolygonRing, Pt, TextItem, WindingOrder,
};

/// A sheet with its marks.
pub(super) fn page(page: Page, marks: &[Mark]) -> PdfPage {
    let mut ops = Vec::new();
    for mark in marks {
        push(&mut ops, mark, page.height);
    }
    PdfPage::new(
        Mm::from(points(page.width)),
        Mm::from(points(page.height)),
        ops,
    )
}

/// To a hundredth of a point: finer is not seen and only makes files longer.
fn points(value: f64) -> Pt {
    Pt(((value * 100.0).round() / 100.0).to_f32().unwrap_or(0.0))
}

fn grey(value: f64) -> Color {
    Color::Greyscale(Greyscale {
        percent: value.to_f32().unwrap_or(0.0),
        icc_profile: None,
    })
}

fn push(ops: &mut Vec<Op>, mark: &Mark, height: f64) {
    match mark {
        Mark::Text {
            x,
            y,
            size,
            face,
            text,
        } => push_text(ops, (*x, height - y), *size, *face, text),
        Mark::Path(path) => push_path(ops, path, height),
    }
}

fn push_text(ops: &mut Vec<Op>, at: (f64, f64), size: f64, face: Face, text: &str) {
    ops.extend([
        Op::StartTextSection,
        Op::SetFont {
            font: PdfFontHandle::External(face.id()),
            size: points(size),
        },
        Op::SetFillColor { col: grey(0.0) },
        Op::SetTextCursor {
            pos: Point {
                x: points(at.0),
                y: points(at.1),
            },
        },
        Op::ShowText {
            items: vec![TextItem::Text(text.to_owned())],
        },
        Op::EndTextSection,
    ]);
}

fn push_path(ops: &mut Vec<Op>, path: &Path, height: f64) {
    let points: Vec<LinePoint> = path
        .points
        .iter()
        .map(|(x, y)| LinePoint {
            p: Point {
                x: points(*x),
                y: points(height - y),
            },
            bezier: false,
        })
        .collect();
    if let Some(fill) = path.fill {
        ops.push(Op::SetFillColor { col: grey(fill) });
        let rings = vec![PolygonRing {
            points: points.clone(),
        }];
        ops.push(Op::DrawPolygon {
            polygon: Polygon {
                rings,
                mode: PaintMode::Fill,
                winding_order: WindingOrder::NonZero,
            },
        });
    }
    if let Some(pen) = path.pen {
        push_pen(ops, pen);
        let is_closed = path.closed;
        ops.push(Op::DrawLine {
            line: Line { points, is_closed },
        });
        if pen.dashes.is_some() {
            let dash = LineDashPattern::solid();
            ops.push(Op::SetLineDashPattern { dash });
        }
    }
}

fn push_pen(ops: &mut Vec<Op>, pen: Pen) {
    ops.push(Op::SetOutlineColor {
        col: grey(pen.grey),
    });
    let pt = points(pen.weight);
    ops.push(Op::SetOutlineThickness { pt });
    if let Some((dash, gap)) = pen.dashes {
        let dash = LineDashPattern::new(0.0, &[points(dash).0, points(gap).0]);
        ops.push(Op::SetLineDashPattern { dash });
    }
}

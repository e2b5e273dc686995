//! Marks as the PDF library's drawing operations.

use super::font::Face;
use super::mark::Mark;
use super::paper::Page;
use num_traits::ToPrimitive;
use printpdf::{
    Color, Greyscale, Line, LinePoint, Mm, Op, PdfFontHandle, PdfPage, Point, Pt, TextItem,
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
        Mark::Rule {
            from,
            to,
            weight,
            grey,
        } => push_line(ops, &[*from, *to], false, *weight, *grey, height),
        Mark::Frame {
            x,
            y,
            width,
            height: tall,
            weight,
        } => {
            let corners = [
                (*x, *y),
                (x + width, *y),
                (x + width, y + tall),
                (*x, y + tall),
            ];
            push_line(ops, &corners, true, *weight, 0.0, height);
        }
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

fn push_line(
    ops: &mut Vec<Op>,
    corners: &[(f64, f64)],
    is_closed: bool,
    weight: f64,
    shade: f64,
    height: f64,
) {
    let points = corners
        .iter()
        .map(|(x, y)| LinePoint {
            p: Point {
                x: points(*x),
                y: points(height - y),
            },
            bezier: false,
        })
        .collect();
    ops.extend([
        Op::SetOutlineColor { col: grey(shade) },
        Op::SetOutlineThickness {
            pt: Pt(weight.to_f32().unwrap_or(0.5)),
        },
        Op::DrawLine {
            line: Line { points, is_closed },
        },
    ]);
}

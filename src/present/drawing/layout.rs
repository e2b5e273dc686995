//! A drawing put on a sheet: title, strip to scale, a chart under another on the same distance
//! axis, cautions. Every label gets room of its own, whatever the length and however many feeds.

use super::alone::{Surround, standing_alone};
use super::scale::Scale;
use super::sheet::{Bounds, Fill, Sheet, Stroke, text_width};
use super::stack::{Put, rows, stack};
use super::{Chart, Drawing, Mark, MarkKind, strip};
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;

/// Width of every sheet: so wide that its letters can be read on upright paper.
pub const WIDTH: f64 = 680.0;
/// Room left and right of what has no axis.
pub(super) const EDGE: f64 = 24.0;
/// Left end of the distance axis.
pub(super) const LEFT: f64 = 66.0;
/// Right end of the distance axis.
pub(super) const RIGHT: f64 = 570.0;
/// Height of ordinary letters.
pub(super) const LETTERS: f64 = 11.0;
/// Distance of two lines of ordinary letters.
pub(super) const LINE: f64 = 14.0;

/// Height of a chart's plot.
const PLOT: f64 = 104.0;
/// Steps of an upright axis, at most.
const MOST_STEPS: usize = 6;
/// Steps of the distance axis, at most.
const MOST_DISTANCES: usize = 10;

/// Where a distance along the run is on the sheet.
pub(super) fn across(drawing: &Drawing, at_m: f64) -> f64 {
    LEFT + (RIGHT - LEFT) * (at_m / drawing.length_m).clamp(0.0, 1.0)
}

/// The sheet of a drawing that stands alone, with its title and its cautions.
#[must_use]
pub fn sheet(drawing: &Drawing) -> Sheet {
    let surround = Surround {
        title: &drawing.name,
        lines: &[&drawing.block, &drawing.about],
        cautions: &drawing.cautions,
    };
    let mut sheet = standing_alone(bare(drawing), &surround);
    sheet.title = format!("Run {}, {}", drawing.name, drawing.block);
    sheet
}

/// The same without title and cautions, for a sheet that has its own.
#[must_use]
pub fn bare(drawing: &Drawing) -> Sheet {
    let mut sheet = Sheet {
        title: drawing.name.clone(),
        width: WIDTH,
        height: 0.0,
        shapes: Vec::new(),
    };
    let mut top = strip::draw(&mut sheet, drawing, 2.0);
    if drawing.charts.is_empty() {
        let why = "No working point: the strip draws more than rails and cables can carry.";
        sheet.text((LEFT, top + 20.0), LETTERS, why);
        top += 34.0;
    }
    for each in &drawing.charts {
        top = chart(&mut sheet, drawing, each, top + 16.0);
    }
    sheet.height = top + 4.0;
    sheet
}

/// A chart, its values in rows of their own above the plot.
fn chart(sheet: &mut Sheet, drawing: &Drawing, chart: &Chart, top: f64) -> f64 {
    let Some((low, high)) = chart.range() else {
        return top;
    };
    let scale = Scale::around(low, high, MOST_STEPS);
    heading(sheet, chart, top + LETTERS);
    let values = values(drawing, chart);
    let wanted: Vec<(f64, f64)> = values
        .iter()
        .map(|(mark, text)| {
            let width = text_width(text, LETTERS, mark.kind == MarkKind::Darkest);
            (across(drawing, mark.at_m), width)
        })
        .collect();
    let put = stack(&wanted, (LEFT - 36.0, WIDTH - EDGE), 5.0);
    let first = top + 2.0 * LINE + 4.0;
    let plot = Plot {
        top: first + LINE * real(rows(&put).max(1)) - 4.0,
        scale,
    };
    plot.grid(sheet, drawing);
    plot.level(sheet, chart);
    let row = |put: &Put| first + LINE * real(put.row);
    for ((mark, _), put) in values.iter().zip(&put) {
        plot.mark(sheet, drawing, mark, row(put) + 3.0);
    }
    for (((mark, text), put), (_, width)) in values.iter().zip(&put).zip(&wanted) {
        let y = row(put);
        // The ways up to the values above it end behind it.
        let behind = Bounds {
            left: put.left - 2.0,
            top: y - LETTERS,
            width: width + 4.0,
            height: LETTERS + 2.5,
        };
        sheet.rectangle(behind, Fill::Paper, Stroke::None);
        if mark.kind == MarkKind::Darkest {
            sheet.bold((put.left, y), LETTERS, text);
        } else {
            sheet.text((put.left, y), LETTERS, text);
        }
    }
    plot.lines(sheet, drawing, chart);
    for (mark, _) in &values {
        plot.dot(sheet, drawing, mark);
    }
    plot.distances(sheet, drawing)
}

/// What each mark says: its value; the darkest place and the end also what they are.
fn values<'a>(drawing: &Drawing, chart: &'a Chart) -> Vec<(&'a Mark, String)> {
    let said = |mark: &'a Mark| {
        let value = Figure::new(mark.shown, chart.unit).number();
        let text = match mark.kind {
            MarkKind::Feed => value,
            MarkKind::Darkest => {
                let at = Figure::new(mark.at_m.min(drawing.length_m), Unit::Metre);
                format!("{value} darkest, at {at}")
            }
            MarkKind::End => format!("{value} end"),
        };
        (mark, text)
    };
    chart.marks.iter().map(said).collect()
}

/// Title, unit and, for more than one line, which is which.
fn heading(sheet: &mut Sheet, chart: &Chart, y: f64) {
    let title = format!("{} ({})", chart.title, chart.unit.sign());
    sheet.bold((EDGE, y), 12.0, title);
    let named = chart.lines.iter().filter(|line| !line.name.is_empty());
    let mut left = RIGHT - 180.0;
    for (line, stroke) in named.zip(STROKES) {
        sheet.line((left, y - 4.0), (left + 34.0, y - 4.0), stroke);
        sheet.text((left + 40.0, y), LETTERS, line.name.clone());
        left += 100.0;
    }
}

/// How the lines of a chart are told apart.
const STROKES: [Stroke; 2] = [Stroke::Heavy, Stroke::Dashed];

/// The plot of a chart.
struct Plot {
    top: f64,
    scale: Scale,
}

impl Plot {
    fn y(&self, value: f64) -> f64 {
        self.top + PLOT * (1.0 - self.scale.share(value))
    }

    fn grid(&self, sheet: &mut Sheet, drawing: &Drawing) {
        for mark in self.scale.marks() {
            let y = self.y(mark);
            sheet.line((LEFT, y), (RIGHT, y), Stroke::Hair);
            let text = self.scale.written(mark);
            sheet.text_to((LEFT - 8.0, y + 4.0), LETTERS, text);
        }
        let bottom = self.top + PLOT;
        sheet.line((LEFT, self.top), (LEFT, bottom), Stroke::Plain);
        sheet.line((LEFT, bottom), (RIGHT, bottom), Stroke::Plain);
        for section in drawing.sections.iter().skip(1) {
            let x = across(drawing, section.from_m);
            sheet.line((x, self.top), (x, bottom), Stroke::Plain);
        }
    }

    fn level(&self, sheet: &mut Sheet, chart: &Chart) {
        if let Some(level) = &chart.level {
            let y = self.y(level.value);
            sheet.line((LEFT, y), (RIGHT, y), Stroke::Level);
            let shown = Figure::new(level.value, chart.unit);
            let text = format!("{} {shown}", level.name);
            sheet.text((RIGHT + 6.0, y + 4.0), LETTERS, text);
        }
    }

    fn mark(&self, sheet: &mut Sheet, drawing: &Drawing, mark: &Mark, from: f64) {
        let x = across(drawing, mark.at_m);
        sheet.line((x, from), (x, self.y(mark.value)), Stroke::Leader);
    }

    fn dot(&self, sheet: &mut Sheet, drawing: &Drawing, mark: &Mark) {
        let at = (across(drawing, mark.at_m), self.y(mark.value));
        let fill = if mark.kind == MarkKind::Darkest {
            Fill::Ink
        } else {
            Fill::Paper
        };
        sheet.dot(at, fill);
    }

    fn lines(&self, sheet: &mut Sheet, drawing: &Drawing, chart: &Chart) {
        for (line, stroke) in chart.lines.iter().zip(STROKES) {
            for piece in &line.pieces {
                let points = piece.iter();
                let points = points.map(|(at, value)| (across(drawing, *at), self.y(*value)));
                sheet.path(points.collect(), stroke);
            }
        }
    }

    fn distances(&self, sheet: &mut Sheet, drawing: &Drawing) -> f64 {
        let bottom = self.top + PLOT;
        let scale = Scale::along(drawing.length_m, MOST_DISTANCES);
        for (mark, text) in scale.distances() {
            let x = across(drawing, mark);
            sheet.line((x, bottom), (x, bottom + 4.0), Stroke::Plain);
            let half = 0.5 * text_width(&text, LETTERS, false);
            sheet.text((x - half, bottom + 16.0), LETTERS, text);
        }
        bottom + 20.0
    }
}

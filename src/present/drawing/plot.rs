//! A drawing on a terminal or in a pipe: each chart in characters, feeds marked under it, values
//! written under the marks. Nothing rests on colour.

use super::scale::Scale;
use super::stack::{Put, rows, stack};
use super::{Chart, Drawing, MarkKind};
use crate::present::terminal::Look;
use crate::quantity::figure::Figure;
use crate::quantity::number::{real, whole};
use unicode_width::UnicodeWidthStr;

/// Lines between two marks of the upright axis.
const LINES_A_STEP: usize = 2;
/// Steps of the upright axis, at most.
const MOST_STEPS: usize = 5;

/// The signs a chart is drawn with.
struct Signs {
    upright: char,
    mark: char,
    corner: char,
    flat: char,
    tick: char,
    cut: char,
    level: char,
    alone: char,
    feed: char,
    darkest: char,
    end: char,
}

const UNICODE: Signs = Signs {
    upright: '│',
    mark: '┤',
    corner: '└',
    flat: '─',
    tick: '┴',
    cut: '╳',
    level: '┄',
    alone: '•',
    feed: '▲',
    darkest: '▼',
    end: '◁',
};

const ASCII: Signs = Signs {
    upright: '|',
    mark: '+',
    corner: '+',
    flat: '-',
    tick: '+',
    cut: 'X',
    level: '-',
    alone: '*',
    feed: '^',
    darkest: 'v',
    end: '<',
};

/// The charts one under the other.
#[must_use]
pub fn write(drawing: &Drawing, look: Look) -> String {
    let signs = if look.ascii { &ASCII } else { &UNICODE };
    let charts: Vec<String> = drawing
        .charts
        .iter()
        .filter_map(|chart| Plot::of(drawing, chart, signs, look.width))
        .map(|plot| plot.lines().join("\n"))
        .collect();
    charts
        .iter()
        .map(|chart| format!("{chart}\n"))
        .collect::<Vec<_>>()
        .join("\n")
}

/// A chart on a grid of characters.
struct Plot<'a> {
    drawing: &'a Drawing,
    chart: &'a Chart,
    signs: &'a Signs,
    scale: Scale,
    /// Columns before the upright axis.
    margin: usize,
    /// Columns after it.
    columns: usize,
    /// Rows from the top.
    grid: Vec<Vec<char>>,
}

impl<'a> Plot<'a> {
    fn of(
        drawing: &'a Drawing,
        chart: &'a Chart,
        signs: &'a Signs,
        width: usize,
    ) -> Option<Plot<'a>> {
        let (low, high) = chart.range()?;
        let scale = Scale::around(low, high, MOST_STEPS);
        let margin = scale
            .marks()
            .iter()
            .map(|it| scale.written(*it).width())
            .max()?;
        let steps = scale.marks().len().saturating_sub(1);
        let columns = width.saturating_sub(margin + 2).max(20);
        let mut plot = Plot {
            drawing,
            chart,
            signs,
            scale,
            margin,
            columns,
            grid: vec![vec![' '; columns]; steps * LINES_A_STEP + 1],
        };
        plot.draw();
        Some(plot)
    }

    fn draw(&mut self) {
        if let Some(level) = &self.chart.level {
            let row = self.row(level.value);
            for column in 0..self.columns {
                self.set(row, column, self.signs.level);
            }
        }
        let several = self.chart.lines.len() > 1;
        for line in &self.chart.lines {
            let sign = match line.name.chars().next() {
                Some(first) if several => first,
                _ => self.signs.alone,
            };
            for piece in &line.pieces {
                self.draw_piece(piece, sign);
            }
        }
    }

    /// One sign a column, at the value of the nearest point.
    fn draw_piece(&mut self, piece: &[(f64, f64)], sign: char) {
        let (Some(first), Some(last)) = (piece.first(), piece.last()) else {
            return;
        };
        for column in self.column(first.0)..=self.column(last.0) {
            let at = (real(column) + 0.5) / real(self.columns) * self.drawing.length_m;
            let far = |point: &&(f64, f64)| (point.0 - at).abs();
            let nearest = piece.iter().min_by(|a, b| far(a).total_cmp(&far(b)));
            let Some((_, value)) = nearest else { continue };
            let row = self.row(*value);
            let there = self.grid.get(row).and_then(|line| line.get(column));
            let shared = there.is_some_and(|there| there.is_ascii_lowercase() && *there != sign);
            self.set(row, column, if shared { BOTH } else { sign });
        }
    }

    fn set(&mut self, row: usize, column: usize, sign: char) {
        if let Some(place) = self.grid.get_mut(row).and_then(|line| line.get_mut(column)) {
            *place = sign;
        }
    }

    fn row(&self, value: f64) -> usize {
        let last = self.grid.len().saturating_sub(1);
        whole((1.0 - self.scale.share(value)) * real(last) + 0.5).unwrap_or(0)
    }

    fn column(&self, at_m: f64) -> usize {
        let share = (at_m / self.drawing.length_m).clamp(0.0, 1.0);
        whole(share * real(self.columns))
            .unwrap_or(0)
            .min(self.columns.saturating_sub(1))
    }

    fn lines(&self) -> Vec<String> {
        let mut lines = vec![self.heading()];
        let marks = self.scale.marks();
        for (index, row) in self.grid.iter().enumerate() {
            let from_below = (self.grid.len() - 1 - index).checked_rem(LINES_A_STEP);
            let step = (self.grid.len() - 1 - index) / LINES_A_STEP;
            let label = marks.get(step).filter(|_| from_below == Some(0));
            let text = label.map_or(String::new(), |mark| self.scale.written(*mark));
            let axis = if label.is_some() {
                self.signs.mark
            } else {
                self.signs.upright
            };
            let drawn: String = row.iter().collect();
            lines.push(format!(
                "{text:>margin$} {axis}{drawn}",
                margin = self.margin
            ));
        }
        lines.push(self.axis());
        lines.extend(self.places());
        lines.extend(self.distances());
        lines
            .iter()
            .map(|line| line.trim_end().to_owned())
            .collect()
    }

    fn heading(&self) -> String {
        let unit = self.chart.unit.sign();
        let mut said = vec![format!("{} ({unit})", self.chart.title)];
        if let Some(level) = &self.chart.level {
            let shown = Figure::new(level.value, self.chart.unit);
            said.push(format!("{0}{0} {1} {shown}", self.signs.level, level.name));
        }
        if self.chart.lines.len() > 1 {
            let named = self.chart.lines.iter();
            let named: Vec<String> = named
                .filter_map(|line| Some(format!("{} {}", line.name.chars().next()?, line.name)))
                .collect();
            said.push(format!("{}, {BOTH} both", named.join(", ")));
        } else {
            let named = self.chart.lines.iter().map(|line| line.name.clone());
            said.extend(named.filter(|name| !name.is_empty()));
        }
        said.join("   ")
    }

    fn axis(&self) -> String {
        let mut flat = vec![self.signs.flat; self.columns];
        let distances = Scale::along(self.drawing.length_m, MOST_DISTANCES).distances();
        let ticks = distances
            .iter()
            .map(|(at, _)| (self.column(*at), self.signs.tick));
        let cuts = self.drawing.sections.iter().skip(1);
        let cuts = cuts.map(|section| (self.column(section.from_m), self.signs.cut));
        for (column, sign) in ticks.chain(cuts) {
            if let Some(place) = flat.get_mut(column) {
                *place = sign;
            }
        }
        let flat: String = flat.into_iter().collect();
        format!("{} {}{flat}", " ".repeat(self.margin), self.signs.corner)
    }

    /// The marks' signs, and their values below.
    fn places(&self) -> Vec<String> {
        let mut signs = vec![' '; self.columns];
        for mark in self.chart.marks.iter().rev() {
            if let Some(place) = signs.get_mut(self.column(mark.at_m)) {
                *place = self.sign(mark.kind);
            }
        }
        let mut labels = self.values(|_, _| true);
        if rows(&self.put(&labels)) > MOST_ROWS {
            // Too many feeds to label each: the table of places has them all.
            let last = self.chart.marks.len().saturating_sub(1);
            labels =
                self.values(|index, kind| kind == MarkKind::Darkest || index == 0 || index == last);
        }
        let mut lines = vec![self.indented(signs.into_iter().collect::<String>())];
        lines.extend(
            self.stacked(&labels)
                .into_iter()
                .map(|line| self.indented(line)),
        );
        lines
    }

    /// The values of the marks that are kept, with their places.
    fn values(&self, keep: impl Fn(usize, MarkKind) -> bool) -> Vec<(f64, String)> {
        let marks = self.chart.marks.iter().enumerate();
        marks
            .filter(|(index, mark)| keep(*index, mark.kind))
            .map(|(_, mark)| {
                let shown = Figure::new(mark.shown, self.chart.unit).number();
                (mark.at_m, shown)
            })
            .collect()
    }

    /// The distance axis' figures, and what the signs over it mean.
    fn distances(&self) -> Vec<String> {
        let scale = Scale::along(self.drawing.length_m, MOST_DISTANCES);
        let labels = scale.distances();
        let stacked = self.stacked(&labels);
        let mut kinds: Vec<MarkKind> = self.chart.marks.iter().map(|mark| mark.kind).collect();
        kinds.sort_unstable();
        kinds.dedup();
        let kinds: Vec<String> = kinds
            .into_iter()
            .map(|kind| format!("{} {}", self.sign(kind), kind.name()))
            .collect();
        let mut lines: Vec<String> = stacked
            .into_iter()
            .map(|line| self.indented(line))
            .collect();
        let mut key = kinds.join("   ");
        if self.drawing.sections.len() > 1 {
            key.push_str(&format!("   {} cut", self.signs.cut));
        }
        lines.push(self.indented(key));
        lines
    }

    fn sign(&self, kind: MarkKind) -> char {
        match kind {
            MarkKind::Feed => self.signs.feed,
            MarkKind::Darkest => self.signs.darkest,
            MarkKind::End => self.signs.end,
        }
    }

    fn indented(&self, line: String) -> String {
        format!("{}{line}", " ".repeat(self.margin + 2))
    }

    fn put(&self, labels: &[(f64, String)]) -> Vec<Put> {
        let wanted: Vec<(f64, f64)> = labels
            .iter()
            .map(|(at, text)| (real(self.column(*at)) + 0.5, real(text.width())))
            .collect();
        stack(&wanted, (0.0, real(self.columns)), 1.0)
    }

    /// Labels under their places, in as many lines as they need.
    fn stacked(&self, labels: &[(f64, String)]) -> Vec<String> {
        let put = self.put(labels);
        let mut lines = vec![String::new(); rows(&put)];
        let mut placed: Vec<(&Put, &str)> = put
            .iter()
            .zip(labels.iter().map(|(_, text)| text.as_str()))
            .collect();
        placed.sort_by(|a, b| a.0.left.total_cmp(&b.0.left));
        for (put, text) in placed {
            if let Some(line) = lines.get_mut(put.row) {
                let left = whole(put.left).unwrap_or(0);
                line.push_str(&" ".repeat(left.saturating_sub(line.width())));
                line.push_str(text);
            }
        }
        lines
    }
}

/// The sign where two lines lie on one another.
const BOTH: char = 'x';
/// Rows of values under a chart, at most.
const MOST_ROWS: usize = 2;
/// Steps of the distance axis, at most.
const MOST_DISTANCES: usize = 6;

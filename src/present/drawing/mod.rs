//! One description of the drawing of a run: its strip to scale with feeds and sections, and what
//! happens along it. [`layout`] puts it on a sheet, [`plot`] on a terminal.

pub mod alone;
pub mod cutting;
pub mod layout;
pub mod one_line;
pub mod plot;
pub mod profile;
pub mod run;
pub mod scale;
pub mod sheet;
mod stack;
mod strip;

use crate::quantity::figure::Unit;

/// A run as it is drawn. Distances are in m from the run's start.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// The run's name.
    pub name: String,
    /// What stands under it: room, strip, arrangement.
    pub about: String,
    /// Project, reference, revision, date, in one line.
    pub block: String,
    /// Its length.
    pub length_m: f64,
    /// Where its drivers stand.
    pub cupboard: String,
    /// Its sections, in order.
    pub sections: Vec<DrawnSection>,
    /// Its feeds, in order.
    pub feeds: Vec<DrawnFeed>,
    /// What happens along it.
    pub charts: Vec<Chart>,
    /// What someone who wires from it must heed.
    pub cautions: Vec<String>,
}

/// An uncut piece of strip.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnSection {
    /// Where it begins.
    pub from_m: f64,
    /// Where it ends.
    pub to_m: f64,
    /// What it is: length, driver, cable.
    pub label: String,
    /// Length of a cut segment.
    pub cut_m: f64,
    /// Where reels are joined in it.
    pub joints_m: Vec<f64>,
}

/// A feed.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnFeed {
    /// Where it joins the strip.
    pub at_m: f64,
    /// What stands at it, line by line: cable number, its length, the place.
    pub label: Vec<String>,
}

/// One figure along the run.
#[derive(Debug, Clone, PartialEq)]
pub struct Chart {
    /// What it is, without its unit: "Light".
    pub title: String,
    /// Its unit.
    pub unit: Unit,
    /// Its lines, one a channel.
    pub lines: Vec<Line>,
    /// A level to hold it against.
    pub level: Option<Level>,
    /// Places whose value is written out, in order along the run.
    pub marks: Vec<Mark>,
}

/// A line of a chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its name; empty when there is only one.
    pub name: String,
    /// Its points (m, value), a piece for each section.
    pub pieces: Vec<Vec<(f64, f64)>>,
}

/// A level across a chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Level {
    /// Where.
    pub value: f64,
    /// What it is: "limit".
    pub name: &'static str,
}

/// A place on a chart whose value is written out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// The place.
    pub at_m: f64,
    /// Where its point is.
    pub value: f64,
    /// The value that is written, which at a feed may be that of the feed itself.
    pub shown: f64,
    /// What is there.
    pub kind: MarkKind,
}

/// What is at a marked place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MarkKind {
    /// The darkest segment.
    Darkest,
    /// A feed.
    Feed,
    /// The end of the run.
    End,
}

impl MarkKind {
    /// In a word.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            MarkKind::Darkest => "darkest",
            MarkKind::Feed => "feed",
            MarkKind::End => "end",
        }
    }
}

impl Chart {
    /// The least and the greatest value on it, its level included, or what lies around them when
    /// they are closer than anyone can see; `None` when it is empty.
    #[must_use]
    pub fn range(&self) -> Option<(f64, f64)> {
        let values = self.lines.iter().flat_map(|line| line.pieces.iter());
        let values = values.flatten().map(|(_, value)| *value);
        let level = self.level.as_ref().map(|level| level.value);
        let range = values.chain(level).fold(None, |range, value| {
            let (low, high) = range.unwrap_or((value, value));
            Some((f64::min(low, value), f64::max(high, value)))
        });
        let (low, high) = range?;
        let lacking = (least_span(self.unit) - (high - low)).max(0.0);
        Some((low - 0.5 * lacking, high + 0.5 * lacking))
    }
}

/// The least range that an axis of a unit shows, so that differences which no one can see are not
/// drawn as steep.
fn least_span(unit: Unit) -> f64 {
    match unit {
        Unit::Kelvin => 200.0,
        Unit::Percent => 5.0,
        _ => 0.5,
    }
}

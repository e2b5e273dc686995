//! What can be read on site, and what was.

use crate::diagnostic::Place;
use crate::quantity::Length;
use crate::quantity::figure::Unit;

/// A test that a readings file can answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// Its name: `hall-cove-north/1/2/volts-warm`.
    pub test: String,
    /// How it is answered.
    pub answer: Answer,
}

/// How a test is answered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Answer {
    /// With a number in a unit, expected to be about so much at most.
    Number {
        /// Its unit.
        unit: Unit,
        /// Most that is expected, where both bounds are.
        most: Option<f64>,
    },
    /// With `yes` or `no`.
    YesOrNo,
    /// With `none`, or with `some`.
    NoneOrSome,
}

/// A run on whose strip volts can be read anywhere.
#[derive(Debug, Clone, PartialEq)]
pub struct AskedRun {
    /// Its name.
    pub run: String,
    /// Its length.
    pub length: Length,
    /// Its channels: one, or warm and cool.
    pub channels: usize,
    /// Most volts that are expected.
    pub most: f64,
}

/// What can be read on a project.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Readable {
    /// The project's reference, if it has one.
    pub reference: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// Tests, in the order in which they are done.
    pub tests: Vec<Asked>,
    /// Runs.
    pub runs: Vec<AskedRun>,
}

/// What was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// What it answers.
    pub of: GivenOf,
    /// What was found.
    pub found: Found,
    /// Where that stands.
    pub place: Place,
}

/// What a reading answers.
#[derive(Debug, Clone, PartialEq)]
pub enum GivenOf {
    /// A test, by its name.
    Test(String),
    /// Volts on a run's strip.
    OnStrip {
        /// The run.
        run: String,
        /// Where, from its start.
        at: Length,
        /// Which channel is on, alone.
        channel: usize,
    },
}

/// What was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Found {
    /// A number in the test's unit.
    Number(f64),
    /// More than the instrument shows: `open`, `> 500 Mohm`.
    MoreThan(f64),
    /// `yes`, or `some`.
    Yes,
    /// `no`, or `none`.
    No,
}

//! The keys of a readings file.

use crate::load::format::FormatNumber;
use crate::load::measure::Distance;
use crate::load::plain::{Day, Text};
use crate::load::words::{Word, Words};
use crate::load::written::{Reads, Span, Unread, Written};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;

/// A readings file.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct ReadingsFile {
    #[serde(rename = "@")]
    #[schemars(skip)]
    pub(super) place: Span,
    /// The version of the file format: 1.
    #[schemars(required)]
    pub(super) format: Option<Written<FormatNumber>>,
    /// The project's reference.
    pub(super) project: Option<Written<Text>>,
    /// The revision that was on site.
    pub(super) revision: Option<Written<Text>>,
    /// Who took the readings.
    #[expect(dead_code, reason = "kept in the file for whoever reads it")]
    pub(super) by: Option<Written<Text>>,
    /// When.
    #[expect(dead_code, reason = "kept in the file for whoever reads it")]
    pub(super) date: Option<Written<Day>>,
    /// The readings.
    #[schemars(required)]
    pub(super) readings: Option<Vec<ReadingKeys>>,
}

/// A reading: of a test on the test sheet, or of volts anywhere on a run's strip.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct ReadingKeys {
    #[serde(rename = "@")]
    #[schemars(skip)]
    pub(super) place: Span,
    /// The test's name, from the data file of the test sheet.
    pub(super) test: Option<Written<Text>>,
    /// Or the run on whose strip volts were read.
    pub(super) run: Option<Written<Text>>,
    /// How far from the run's start.
    pub(super) at: Option<Written<Distance>>,
    /// Which white was on, alone; of a strip with two.
    pub(super) lit: Option<Written<Word<White>>>,
    /// What was found, with its unit.
    #[schemars(required)]
    pub(super) reading: Option<Written<Shown>>,
}

/// A white that is on alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum White {
    Warm,
    Cool,
}

impl White {
    pub(super) fn channel(self) -> usize {
        match self {
            White::Warm => 0,
            White::Cool => 1,
        }
    }
}

impl Words for White {
    const NAME: &'static str = "LitWhite";
    const WHAT: &'static str = "a white that was on";

    fn words() -> Vec<(&'static str, White)> {
        vec![("warm", White::Warm), ("cool", White::Cool)]
    }
}

/// What an instrument showed; which unit fits depends on the test.
#[derive(Debug)]
pub(super) struct Shown;

impl Reads for Shown {
    type Value = String;
    const NAME: &'static str = "Shown";

    fn what() -> String {
        "what the instrument showed, with its unit".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({
            "type": ["string", "boolean"],
            "examples": ["22.71 V", "3.4 A", "0.11 ohm", "> 500 Mohm", "open", "yes", "none"]
        })
    }

    fn read(text: &str) -> Result<String, Unread> {
        Ok(text.to_owned())
    }
}

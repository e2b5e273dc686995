//! What a project says of the ways that cable takes.

use super::desk::Desk;
use super::measure::{Distance, Share};
use super::plain::Flag;
use super::words::Word;
use super::written::{OneOrMany, Reads, Span, Unread, Written};
use crate::model::run::Run;
use crate::model::site::Site;
use crate::model::wiring::{Exposure, RunWiring, Slack, Wiring};
use crate::quantity::Length;
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;
use std::sync::Arc;
use uom::ConstZero;

/// The ways that cable takes.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct WiringBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Slack in the lengths of cable: `included`, or what is added to each, a share or a length.
    slack: Option<Written<SlackKey>>,
    /// Longest stretch of a feed cable that thermal insulation surrounds, or `none`.
    in_insulation: Option<Written<LengthOrNone>>,
    /// Whether extra-low-voltage cable is kept apart from mains and bus cable on every route.
    separated: Option<Written<Flag>>,
}

/// What a run says of the ways of its feed cables; part of the run's own block.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct RunWiringKeys {
    /// Longest stretch of its feed cable that thermal insulation surrounds, or `none`.
    in_insulation: Option<Written<LengthOrNone>>,
    /// What its feed cable is exposed to besides `wet`: `sun`, `burial` or both.
    exposed_to: Option<OneOrMany<Written<Word<Exposure>>>>,
}

/// `included`, a share or a length.
#[derive(Debug)]
struct SlackKey;

impl Reads for SlackKey {
    type Value = Slack;
    const NAME: &'static str = "Slack";

    fn what() -> String {
        "slack: `included`, a share or a length".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "examples": ["included", "10 %", "1 m"]})
    }

    fn read(text: &str) -> Result<Slack, Unread> {
        if text == "included" {
            return Ok(Slack::Included);
        }
        if text.trim_end().ends_with('%') {
            return Share::read(text).map(Slack::Share);
        }
        Distance::read(text).map(Slack::Each)
    }
}

/// A length, or `none`.
#[derive(Debug)]
struct LengthOrNone;

impl Reads for LengthOrNone {
    type Value = Length;
    const NAME: &'static str = "LengthOrNone";

    fn what() -> String {
        "a length or `none`".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "examples": ["none", "0.3 m"]})
    }

    fn read(text: &str) -> Result<Length, Unread> {
        if text == "none" {
            return Ok(Length::ZERO);
        }
        Distance::read(text)
    }
}

/// Reads the ways of the project's cables.
pub fn of_project(block: Option<&WiringBlock>, desk: &mut Desk) -> Wiring {
    let Some(block) = block else {
        return Wiring::default();
    };
    Wiring {
        slack: desk.read(&block.slack),
        in_insulation: desk.read(&block.in_insulation),
        separated: desk.read(&block.separated),
        place: Some(desk.place(block.place)),
    }
}

/// Reads the ways of a run's cables.
pub fn of_run(keys: &RunWiringKeys, desk: &mut Desk) -> RunWiring {
    let exposed = keys.exposed_to.as_ref().map(OneOrMany::list);
    RunWiring {
        in_insulation: desk.read(&keys.in_insulation),
        exposed_to: exposures(exposed.unwrap_or_default(), desk),
    }
}

/// Exposures in listing order, each once.
pub fn exposures(words: Vec<&Written<Word<Exposure>>>, desk: &mut Desk) -> Vec<Exposure> {
    let read = words.into_iter().filter_map(|word| desk.one(word));
    let mut exposures: Vec<Exposure> = read.collect();
    exposures.sort_unstable();
    exposures.dedup();
    exposures
}

/// Adds the slack that lengths as measured lack.
pub fn add_slack(slack: Option<Slack>, site: &mut Site, runs: &mut [Arc<Run>]) {
    let Some(slack) = slack.filter(|slack| *slack != Slack::Included) else {
        return;
    };
    for route in &mut site.routes {
        route.length = slack.added_to(route.length);
    }
    for run in runs {
        let run = Arc::make_mut(run);
        run.to_start = run.to_start.map(|length| slack.added_to(length));
        run.to_end = run.to_end.map(|length| slack.added_to(length));
    }
}

//! House rules of a project: a measure and a bound.

use super::desk::Desk;
use super::plain::{NewName, Text};
use super::site::first_use;
use super::words::{Word, Words};
use super::written::{Reads, Span, Unread, Written};
use crate::model::project::{HouseRule, Measure, Severity};
use crate::norms::limit::Bound;
use crate::quantity::grammar::Misread;
use crate::quantity::{current, ratio, steps};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;
use std::collections::BTreeMap;
use uom::si::electric_current::milliampere;
use uom::si::ratio::percent;

/// A rule of the house.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct HouseRuleBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Its name.
    #[schemars(required)]
    rule: Option<Written<NewName>>,
    /// What it is about.
    of: Option<Written<Word<Subject>>>,
    /// What it measures.
    #[schemars(required)]
    measure: Option<Written<Word<Measure>>>,
    /// The most that is allowed. Or give `at_least`.
    at_most: Option<Written<BoundValue>>,
    /// The least that is allowed.
    at_least: Option<Written<BoundValue>>,
    /// How bad breaking it is; `caution` when left out.
    severity: Option<Written<Word<Severity>>>,
    /// Why it is there.
    because: Option<Written<Text>>,
}

/// What a house rule is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Subject {
    Run,
    Driver,
    Loop,
    Circuit,
}

impl Words for Subject {
    const NAME: &'static str = "RuleSubject";
    const WHAT: &'static str = "what a rule can be about";

    fn words() -> Vec<(&'static str, Self)> {
        vec![
            ("run", Subject::Run),
            ("driver", Subject::Driver),
            ("loop", Subject::Loop),
            ("circuit", Subject::Circuit),
        ]
    }
}

/// A bound, whose unit depends on the measure.
#[derive(Debug)]
struct BoundValue;

impl Reads for BoundValue {
    type Value = String;
    const NAME: &'static str = "BoundValue";

    fn what() -> String {
        "a bound in the measure's unit".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": ["string", "number"], "examples": ["4 %", "3 steps", "200 mA", 50]})
    }

    fn read(text: &str) -> Result<String, Unread> {
        Ok(text.to_owned())
    }
}

/// Reads the house rules.
pub fn read(blocks: &[HouseRuleBlock], desk: &mut Desk) -> Vec<HouseRule> {
    let mut names = BTreeMap::new();
    let mut rules = Vec::with_capacity(blocks.len());
    for block in blocks {
        if let Some(written) = &block.rule {
            first_use(&mut names, "rule", written, desk);
        }
        rules.extend(rule(block, desk));
    }
    rules
}

fn rule(block: &HouseRuleBlock, desk: &mut Desk) -> Option<HouseRule> {
    let id = desk.read(&block.rule);
    let measure = desk.read(&block.measure);
    let severity = desk.read(&block.severity);
    let because = desk.read(&block.because);
    check_subject(block, measure, desk);
    let (bound, written) = match (&block.at_most, &block.at_least) {
        (Some(most), None) => (Bound::AtMost, most),
        (None, Some(least)) => (Bound::AtLeast, least),
        _ => {
            let message = "give either `at_most` or `at_least`";
            desk.complain("one-bound", message, block.place);
            return None;
        }
    };
    let measure = measure?;
    let value = match bound_value(measure, &written.text) {
        Ok(value) => value,
        Err(unread) => {
            desk.complain(unread.code, unread.message, written.at);
            return None;
        }
    };
    Some(HouseRule {
        id: id?,
        measure,
        bound,
        value,
        severity: severity.unwrap_or(Severity::Caution),
        because,
        place: desk.place(block.place),
    })
}

/// What a measure is of.
fn subject(measure: Measure) -> Subject {
    match measure {
        Measure::FeedDrop | Measure::LightDrop | Measure::LightEvenness | Measure::ColourShift => {
            Subject::Run
        }
        Measure::DriverLoad => Subject::Driver,
        Measure::GearCount | Measure::ControlDeviceCount | Measure::LoopCurrent => Subject::Loop,
        Measure::CircuitLoad => Subject::Circuit,
    }
}

/// `of`, when given, must be what the measure is of.
fn check_subject(block: &HouseRuleBlock, measure: Option<Measure>, desk: &mut Desk) {
    let of = desk.read(&block.of);
    let (Some(of), Some(written), Some(measure)) = (of, &block.of, measure) else {
        return;
    };
    if of == subject(measure) {
        return;
    }
    let of_that: Vec<_> = Measure::ALL
        .into_iter()
        .filter(|(measure, _)| subject(*measure) == of)
        .map(|(_, word)| word)
        .collect();
    let message = format!(
        "a {} has no `{}`: it has {}",
        written.text,
        block.measure.as_ref().map_or("", |measure| &measure.text),
        of_that.join(", ")
    );
    desk.complain("wrong-measure", message, written.at);
}

/// A bound in the measure's unit: percent, steps, a count or mA.
fn bound_value(measure: Measure, text: &str) -> Result<f64, Unread> {
    let value = match measure {
        Measure::ColourShift => steps::read(text)?,
        Measure::LoopCurrent => current::read(text)?.get::<milliampere>(),
        Measure::GearCount | Measure::ControlDeviceCount => {
            let count = text.parse::<u32>().map(f64::from);
            count.map_err(|_| {
                Unread::new("not-a-count", format!("`{text}` is not a whole number"))
            })?
        }
        _ => percent_of(text)?,
    };
    if value < 0.0 {
        return Err(Unread::new(
            "out-of-range",
            format!("`{text}` is below zero"),
        ));
    }
    Ok(value)
}

fn percent_of(text: &str) -> Result<f64, Misread> {
    ratio::read(text).map(|share| share.get::<percent>())
}

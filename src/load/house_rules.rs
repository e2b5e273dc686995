//! House rules of a project: a measure and a bound, what they are about, and what they loosen.

use super::desk::Desk;
use super::plain::{Name, NewName, Text};
use super::scene::Groups;
use super::shelf::Shelf;
use super::site::{Places, first_use};
use super::words::Word;
use super::written::{Reads, Span, Unread, Written};
use crate::model::house_rule::{HouseRule, Measure, MeasuredOf, Only};
use crate::model::limits::Limits;
use crate::model::project::Severity;
use crate::model::site::PointKind;
use crate::model::strip::Strip;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::grammar::Misread;
use crate::quantity::{Ratio, current, ratio, steps, voltage};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;
use uom::si::electric_current::{ampere, milliampere};
use uom::si::electric_potential::volt;
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
    of: Option<Written<Word<MeasuredOf>>>,
    /// What it measures.
    #[schemars(required)]
    measure: Option<Written<Word<Measure>>>,
    /// The most that is allowed. Or give `at_least`.
    at_most: Option<Written<BoundValue>>,
    /// The least that is allowed.
    at_least: Option<Written<BoundValue>>,
    /// Which of them it is about; all of them when left out.
    only: Option<OnlyBlock>,
    /// How bad breaking it is; `caution` when left out.
    severity: Option<Written<Word<Severity>>>,
    /// Why it is there. Needed with `loosens`.
    because: Option<Written<Text>>,
    /// The rule whose published limit it loosens.
    loosens: Option<Written<Name>>,
}

/// Which of the things that a measure is taken of.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct OnlyBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Those in this room.
    room: Option<Written<Name>>,
    /// Those of this group.
    group: Option<Written<Name>>,
    /// Those in this cupboard.
    cupboard: Option<Written<Name>>,
    /// Those of this strip.
    strip: Option<Written<Name>>,
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

/// What names in a house rule stand for.
pub struct Names<'a> {
    /// Rooms and cupboards.
    pub places: &'a Places,
    /// Groups.
    pub groups: &'a Groups,
    /// Strips.
    pub shelf: &'a mut Shelf,
}

/// Reads the house rules.
pub fn read(blocks: &[HouseRuleBlock], mut names: Names, desk: &mut Desk) -> Vec<HouseRule> {
    let mut ids = BTreeMap::new();
    let mut rules = Vec::with_capacity(blocks.len());
    for block in blocks {
        if let Some(written) = &block.rule {
            first_use(&mut ids, "rule", written, desk);
        }
        rules.extend(rule(block, &mut names, desk));
    }
    rules
}

fn rule(block: &HouseRuleBlock, names: &mut Names, desk: &mut Desk) -> Option<HouseRule> {
    let id = desk.read(&block.rule);
    let measure = desk.read(&block.measure);
    let severity = desk.read(&block.severity);
    let because = desk.read(&block.because);
    check_subject(block, measure, desk);
    let only = only(block, measure, names, desk);
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
    let loosens = loosens(block, measure, bound, &only, desk);
    Some(HouseRule {
        id: id?,
        measure,
        bound,
        value,
        only,
        severity: severity.unwrap_or(Severity::Caution),
        because,
        loosens,
        place: desk.place(block.place),
    })
}

/// The published rule that a block loosens. `None` when it names none, or may not: then there is a
/// complaint.
fn loosens(
    block: &HouseRuleBlock,
    measure: Measure,
    bound: Bound,
    only: &Only,
    desk: &mut Desk,
) -> Option<&'static str> {
    let written = block.loosens.as_ref()?;
    let named = desk.one(written)?;
    let Some(rule) = measure.loosens().filter(|rule| *rule == named) else {
        let can = Measure::ALL.into_iter().filter_map(|measure| {
            Some(format!(
                "`{}` with `measure: {}`",
                measure.loosens()?,
                measure.name()
            ))
        });
        let can: Vec<String> = can.collect();
        let message = format!(
            "no house rule with `measure: {}` loosens `{named}`: what can be loosened is {}",
            measure.name(),
            can.join(" and ")
        );
        desk.complain("not-to-loosen", message, written.at);
        return None;
    };
    if bound != Bound::AtMost || !only.is_all() {
        let message = "a published limit is loosened for the whole project, with `at_most` and without `only`";
        desk.complain("not-to-loosen", message, written.at);
    }
    if block
        .because
        .as_ref()
        .is_none_or(|reason| reason.text.trim().is_empty())
    {
        let message = format!("loosening `{rule}` needs a reason: give `because`");
        desk.complain("no-reason", message, written.at);
    }
    Some(rule)
}

/// Puts the bounds of the rules that loosen a published limit in its place. A bound that is no
/// looser is complained of.
pub fn loosen(
    limits: &mut Limits,
    blocks: &[HouseRuleBlock],
    rules: &[HouseRule],
    desk: &mut Desk,
) {
    for rule in rules.iter().filter(|rule| rule.loosens.is_some()) {
        let limit = match rule.measure {
            Measure::FeedDrop => &mut limits.feed_drop,
            Measure::CircuitDrop => &mut limits.circuit_drop,
            _ => continue,
        };
        let value = Ratio::new::<percent>(rule.value);
        let of = |share: Ratio| Figure::new(share.get::<percent>(), Unit::Percent);
        if value <= limit.value {
            let written = blocks.iter().filter_map(|block| block.rule.as_ref());
            if let Some(name) = written.into_iter().find(|name| name.text == rule.id) {
                let message = format!(
                    "rule `{}` loosens nothing: {} is within the {} that holds anyway ({}); leave \
                     `loosens` out",
                    rule.id,
                    of(value),
                    of(limit.value),
                    limit.source
                );
                desk.complain("not-looser", message, name.at);
            }
            continue;
        }
        let said = format!(
            "{} in place of {} ({}), by house rule `{}`: {}",
            of(value),
            of(limit.value),
            limit.source,
            rule.id,
            rule.because.as_deref().unwrap_or_default()
        );
        *limit = Limit {
            value,
            bound: Bound::AtMost,
            source: Source::Loosened(said),
        };
    }
}

/// `of`, when given, must be what the measure is of.
fn check_subject(block: &HouseRuleBlock, measure: Option<Measure>, desk: &mut Desk) {
    let of = desk.read(&block.of);
    let (Some(of), Some(written), Some(measure)) = (of, &block.of, measure) else {
        return;
    };
    if of == measure.of() {
        return;
    }
    let of_that: Vec<_> = Measure::ALL
        .into_iter()
        .filter(|measure| measure.of() == of)
        .map(Measure::name)
        .collect();
    let message = format!(
        "a {} has no `{}`: it has {}",
        written.text,
        block.measure.as_ref().map_or("", |measure| &measure.text),
        of_that.join(", ")
    );
    desk.complain("wrong-measure", message, written.at);
}

/// What a rule is about. Names that are not there, and keys by which its subjects can't be picked,
/// are complained of.
fn only(
    block: &HouseRuleBlock,
    measure: Option<Measure>,
    names: &mut Names,
    desk: &mut Desk,
) -> Only {
    let Some(only) = &block.only else {
        return Only::default();
    };
    let subject = match &block.rule {
        Some(rule) => format!("rule `{}`", rule.text),
        None => "rule".to_owned(),
    };
    if let Some(of) = measure.map(Measure::of) {
        let keys = [
            ("room", &only.room),
            ("group", &only.group),
            ("cupboard", &only.cupboard),
            ("strip", &only.strip),
        ];
        for (key, written) in keys {
            if let Some(written) = written
                && !of.picked_by().contains(&key)
            {
                let message = format!(
                    "{subject}: a {} can't be picked by its {key}, only by its {}",
                    of.name(),
                    of.picked_by().join(", ")
                );
                desk.complain("wrong-filter", message, written.at);
            }
        }
    }
    let mut point = |written: &Option<Written<Name>>, kind: PointKind| {
        let found = names
            .places
            .find(written.as_ref()?, &subject, &[kind], desk)?;
        Some(found.name.clone())
    };
    let room = point(&only.room, PointKind::Room);
    let cupboard = point(&only.cupboard, PointKind::Cupboard);
    let group = only.group.as_ref();
    let group = group.and_then(|written| names.groups.find(written, &subject, desk));
    let strip: Option<Arc<Strip>> = only
        .strip
        .as_ref()
        .and_then(|written| names.shelf.find(written, &subject, desk));
    let picked = Only {
        room,
        group: group.map(|group| group.name.clone()),
        cupboard,
        strip: strip.map(|strip| strip.offer.id.clone()),
    };
    let named = [&only.room, &only.group, &only.cupboard, &only.strip];
    if named.into_iter().all(Option::is_none) {
        let message = format!("{subject}: `only` names nothing: leave it out, or say which");
        desk.complain("wrong-filter", message, only.place);
    }
    picked
}

/// A bound in the measure's unit.
fn bound_value(measure: Measure, text: &str) -> Result<f64, Unread> {
    let value = match measure.unit() {
        Unit::Steps => steps::read(text)?,
        Unit::Ampere => current::read(text)?.get::<ampere>(),
        Unit::Milliampere | Unit::LeakageMilliampere => current::read(text)?.get::<milliampere>(),
        Unit::Volt => voltage::read(text)?.get::<volt>(),
        Unit::Count => {
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

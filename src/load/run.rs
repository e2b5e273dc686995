//! A run of a project.

use super::desk::Desk;
use super::feed::{self, Feed};
use super::limits::{self, RunLimitsBlock};
use super::measure::{Ambient, Distance, Extent};
use super::plain::{Flag, Name, NewName, Text};
use super::scene::{Groups, Membership};
use super::shelf::{Shelf, Shelved};
use super::site::Places;
use super::wiring::{self, RunWiringKeys};
use super::words::Word;
use super::written::{Reads, Span, Unread, Written};
use crate::model::Choice;
use crate::model::run::{Bend, FeedWish, Run, RunDetail};
use crate::model::site::PointKind;
use crate::model::strip::{BendWay, Strip};
use crate::quantity::{Length, length};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;
use std::sync::Arc;
use uom::si::length::meter;

/// A run of strip.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct RunBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Its name.
    #[schemars(required)]
    pub run: Option<Written<NewName>>,
    /// The room it is in.
    #[schemars(required)]
    room: Option<Written<Name>>,
    /// The strip, by its id in a catalogue.
    #[schemars(required)]
    strip: Option<Written<Name>>,
    /// Its length.
    #[schemars(required)]
    length: Option<Written<Extent>>,
    /// The group it dims with; a group of its own when left out.
    pub group: Option<Written<Name>>,
    /// Where its driver stands, or `auto`.
    cupboard: Option<Written<AutoOrName>>,
    /// Cable from the cupboard to its start; left out when the start can't be reached.
    to_start: Option<Written<Distance>>,
    /// Cable from the cupboard to its end; left out when the end can't be reached.
    to_end: Option<Written<Distance>>,
    /// Whether cable may run beside the strip to a feed in its middle; no when left out.
    reach_along: Option<Written<Flag>>,
    /// How it is fed; `auto` when left out.
    feed: Option<Written<Feed>>,
    /// Its feed cable, or `auto`.
    cable: Option<Written<AutoOrName>>,
    /// Its driver, or `auto`.
    driver: Option<Written<AutoOrName>>,
    /// The profile it is mounted in.
    profile: Option<Written<Name>>,
    /// Whether it can be reached once built.
    accessible: Option<Written<Flag>>,
    /// Whether the place is wet; no when left out.
    wet: Option<Written<Flag>>,
    /// Ambient temperature at the strip.
    ambient: Option<Written<Ambient>>,
    #[serde(flatten)]
    wiring: RunWiringKeys,
    /// Its bends.
    bends: Option<Vec<BendBlock>>,
    /// The name of the view that it is seen in together with others; with the runs of its group in
    /// its room when left out.
    view: Option<Written<Name>>,
    /// The bin on its reel's label.
    bin: Option<Written<Text>>,
    /// Limits of its own.
    limits: Option<RunLimitsBlock>,
}

impl RunBlock {
    /// What it says of its group.
    pub fn membership(&self) -> Membership<'_> {
        Membership {
            run: self.run.as_ref(),
            group: self.group.as_ref(),
        }
    }
}

/// A bend of a run.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct BendBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Its radius.
    #[schemars(required)]
    radius: Option<Written<Extent>>,
    /// Which way the strip is bent: `face`, out of its plane, when left out.
    way: Option<Written<Word<BendWay>>>,
}

/// `auto`, or a name.
#[derive(Debug)]
pub struct AutoOrName;

impl Reads for AutoOrName {
    type Value = Choice<String>;
    const NAME: &'static str = "AutoOrName";

    fn what() -> String {
        "`auto` or a name".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": ["string", "number"], "examples": ["auto"]})
    }

    fn read(text: &str) -> Result<Choice<String>, Unread> {
        if text == "auto" {
            return Ok(Choice::Auto);
        }
        Name::read(text).map(Choice::Given)
    }
}

/// The thing chosen: outer `None` when it can't be found; then there is a complaint.
pub fn choice<T>(
    key: &Option<Written<AutoOrName>>,
    desk: &mut Desk,
    find: impl FnOnce(&Written<Name>, &mut Desk) -> Option<T>,
) -> Option<Choice<T>> {
    let Some(written) = key else {
        return Some(Choice::Auto);
    };
    match desk.one(written)? {
        Choice::Auto => Some(Choice::Auto),
        Choice::Given(name) => {
            let written = Written::new(name, written.at);
            find(&written, desk).map(Choice::Given)
        }
    }
}

/// A chosen catalogue item.
pub fn item<T: Shelved>(
    key: &Option<Written<AutoOrName>>,
    subject: &str,
    shelf: &mut Shelf,
    desk: &mut Desk,
) -> Option<Choice<Arc<T>>> {
    choice(key, desk, |name, desk| shelf.find(name, subject, desk))
}

/// Reads a run. `None` when it is not complete; then there is a complaint.
pub fn read(
    raw: &RunBlock,
    groups: &Groups,
    places: &Places,
    shelf: &mut Shelf,
    desk: &mut Desk,
) -> Option<Run> {
    let name = desk.read(&raw.run);
    let subject = match &raw.run {
        Some(run) => format!("run `{}`", run.text),
        None => "run".to_owned(),
    };
    let room = raw.room.as_ref();
    let room = room.and_then(|name| places.find(name, &subject, &[PointKind::Room], desk));
    let strip = raw.strip.as_ref();
    let strip: Option<Arc<Strip>> = strip.and_then(|name| shelf.find(name, &subject, desk));
    let length = desk.read(&raw.length);
    let group = groups.of_run(raw.membership(), &subject, desk);
    let cupboard = choice(&raw.cupboard, desk, |name, desk| {
        places.find(name, &subject, &[PointKind::Cupboard], desk)
    });
    let to_start = desk.read(&raw.to_start);
    let to_end = desk.read(&raw.to_end);
    let reach_along = desk.read(&raw.reach_along);
    let wish = read_feed(raw, &subject, length, strip.as_deref(), desk);
    check_reach(raw, &subject, wish.as_ref(), length, desk);
    let cable = item(&raw.cable, &subject, shelf, desk);
    let driver = item(&raw.driver, &subject, shelf, desk);
    let profile = raw.profile.as_ref();
    let profile = profile.map(|name| shelf.find(name, &subject, desk));
    let accessible = desk.read(&raw.accessible);
    let wet = desk.read(&raw.wet);
    let ambient = desk.read(&raw.ambient);
    let wiring = wiring::of_run(&raw.wiring, desk);
    let detail = detail(raw, desk);
    let limits = limits::of_run(raw.limits.as_ref(), desk);
    Some(Run {
        name: name?,
        room: room?,
        strip: strip?,
        length: length?,
        group: group?,
        cupboard: cupboard?,
        to_start,
        to_end,
        reach_along: reach_along.unwrap_or(false),
        feed: wish?,
        cable: cable?,
        driver: driver?,
        profile: profile.map_or(Some(None), |profile| profile.map(Some))?,
        accessible,
        wet: wet.unwrap_or(false),
        ambient,
        wiring,
        detail,
        limits,
        place: desk.place(raw.place),
        feed_place: desk.place(raw.feed.as_ref().map_or(raw.place, |feed| feed.at)),
    })
}

fn detail(raw: &RunBlock, desk: &mut Desk) -> RunDetail {
    let blocks = raw.bends.as_deref().unwrap_or_default();
    let bend = |block: &BendBlock, desk: &mut Desk| {
        Some(Bend {
            way: desk.read(&block.way).unwrap_or(BendWay::Face),
            radius: desk.read(&block.radius)?,
            place: desk.place(block.place),
        })
    };
    RunDetail {
        bends: blocks
            .iter()
            .filter_map(|block| bend(block, desk))
            .collect(),
        view: desk.read(&raw.view),
        bin: desk.read(&raw.bin),
    }
}

fn read_feed(
    raw: &RunBlock,
    subject: &str,
    run: Option<Length>,
    strip: Option<&Strip>,
    desk: &mut Desk,
) -> Option<FeedWish> {
    let cut = strip.map(|strip| strip.cut);
    if let (Some(run), Some(cut), Some(written)) = (run, cut, &raw.length)
        && run < cut
    {
        let (run, cut) = (length::write(run), length::write(cut));
        let message = format!("{subject}: {run} is shorter than one cut of the strip, {cut}");
        desk.complain("short-run", message, written.at);
    }
    let Some(written) = &raw.feed else {
        return Some(FeedWish::Auto);
    };
    let wish = desk.one(written)?;
    if let Some(misfit) = run.and_then(|run| feed::misfit(&wish, run, cut)) {
        desk.complain("feed-misfit", format!("{subject}: {misfit}"), written.at);
    }
    Some(wish)
}

/// Whether cable can get to the strip at all, and to the ends asked for.
fn check_reach(
    raw: &RunBlock,
    subject: &str,
    wish: Option<&FeedWish>,
    run: Option<Length>,
    desk: &mut Desk,
) {
    let along = raw
        .reach_along
        .as_ref()
        .is_some_and(|flag| matches!(Flag::read(&flag.text), Ok(true)));
    let (start, end) = (raw.to_start.is_some(), raw.to_end.is_some());
    if !start && !end {
        let message = format!(
            "{subject}: neither `to_start` nor `to_end` is given, so no cable can reach it: \
             give the length of cable to at least one end"
        );
        desk.complain("no-reach", message, raw.place);
        return;
    }
    let (Some(wish), Some(written)) = (wish, &raw.feed) else {
        return;
    };
    let reach = Reach { start, end, along };
    if let Some(key) = reach.lacks(wish, run) {
        let needs = match key {
            "reach_along" => "`reach_along: yes`".to_owned(),
            key => format!("`{key}`, or `reach_along: yes`"),
        };
        let message = format!("{subject}: `feed: {}` needs {needs}", written.text);
        desk.complain("no-reach", message, written.at);
    }
}

/// Where cable can get to.
struct Reach {
    start: bool,
    end: bool,
    along: bool,
}

impl Reach {
    /// The key without which a feed can't be reached.
    fn lacks(&self, wish: &FeedWish, run: Option<Length>) -> Option<&'static str> {
        if self.along {
            return None;
        }
        let (start, end, along) = match wish {
            FeedWish::Auto => (false, false, false),
            FeedWish::Start => (true, false, false),
            FeedWish::End => (false, true, false),
            FeedWish::BothEnds => (true, true, false),
            FeedWish::Middle | FeedWish::Every(_) => (false, false, true),
            FeedWish::Sections(sections) => (true, false, sections.len() > 1),
            FeedWish::At(places) => {
                let nowhere = Length::new::<meter>(0.0);
                let at_start = places.contains(&nowhere);
                let at_end = run.is_some_and(|run| places.contains(&run));
                let ends = usize::from(at_start) + usize::from(at_end);
                (at_start, at_end, places.len() > ends)
            }
        };
        if along {
            return Some("reach_along");
        }
        if start && !self.start {
            return Some("to_start");
        }
        (end && !self.end).then_some("to_end")
    }
}

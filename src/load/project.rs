//! A project file.

use super::circuits::{self, CircuitsBlock};
use super::desk::Desk;
use super::format::FormatNumber;
use super::heading::{self, HeadingBlock, SupplyBlock};
use super::house_rules::{self, HouseRuleBlock};
use super::limits::{self, LimitsBlock};
use super::loops::{self, LoopsBlock};
use super::options::{self, OptionBlock};
use super::overrides::OverrideBlock;
use super::plain::{Count, Name, NewName, Text};
use super::pricing::{self, PricingBlock};
use super::run::{self, RunBlock};
use super::scene::{self, GroupBlock, Groups, Membership, SceneBlock};
use super::shelf::Shelf;
use super::site::{self, Places, PointBlock, RouteBlock, first_use};
use super::wiring::{self, WiringBlock};
use super::words::Word;
use super::written::{Span, Written};
use crate::model::assumption::Assumption;
use crate::model::project::{DeviceSet, Issued, Project};
use crate::model::run::Run;
use crate::model::site::PointKind;
use crate::norms::region::Region;
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A project: what is to be lit, from where, and on what terms.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct ProjectFile {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// The format of this file.
    #[schemars(required)]
    #[expect(
        dead_code,
        reason = "checked before the rest is read; here for the schema"
    )]
    format: Option<Written<FormatNumber>>,
    /// What the title block says.
    #[schemars(required)]
    project: Option<HeadingBlock>,
    /// Which limits and cautions hold; `iec` when left out.
    region: Option<Written<Word<Region>>>,
    /// Catalogue files, relative to this file.
    #[schemars(required, length(min = 1))]
    pub catalogues: Option<Vec<Written<Text>>>,
    /// Figures and prices of catalogue items that are others in this project.
    #[serde(default)]
    pub overrides: Vec<OverrideBlock>,
    /// The mains supply.
    supply: Option<SupplyBlock>,
    /// Where things can stand.
    #[serde(default)]
    points: Vec<PointBlock>,
    /// How cable gets from one point to another.
    #[serde(default)]
    routes: Vec<RouteBlock>,
    /// The ways that cable takes.
    wiring: Option<WiringBlock>,
    /// Runs of strip.
    #[schemars(required, length(min = 1))]
    runs: Option<Vec<RunBlock>>,
    /// Everything else on the control bus.
    #[serde(default)]
    devices: Vec<DeviceBlock>,
    /// Groups that dim together.
    #[serde(default)]
    groups: Vec<GroupBlock>,
    /// Scenes.
    #[serde(default)]
    scenes: Vec<SceneBlock>,
    /// How control loops are laid out.
    loops: Option<LoopsBlock>,
    /// How mains circuits are laid out.
    circuits: Option<CircuitsBlock>,
    /// Limits, tighter or looser than usual.
    limits: Option<LimitsBlock>,
    /// Rules of the house.
    #[serde(default)]
    house_rules: Vec<HouseRuleBlock>,
    /// How costs become a price.
    pricing: Option<PricingBlock>,
    /// What the customer may take instead, each priced as a whole job.
    #[serde(default)]
    options: Vec<OptionBlock>,
    /// What the quote leaves out.
    #[serde(default)]
    exclusions: Vec<Written<Text>>,
}

/// Devices on the control bus other than drivers.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct DeviceBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Their name.
    #[schemars(required)]
    device: Option<Written<NewName>>,
    /// What each is: a control device of a catalogue.
    #[schemars(required)]
    item: Option<Written<Name>>,
    /// The room they are in.
    #[schemars(required)]
    room: Option<Written<Name>>,
    /// How many; 1 when left out.
    count: Option<Written<Count>>,
}

/// Reads a project with its catalogues on the shelf. `None` when it is not complete; then there
/// is a complaint.
pub fn read(raw: &ProjectFile, mut shelf: Shelf, desk: &mut Desk) -> Option<Project> {
    let file = desk.place(raw.place);
    let mut assumed = Vec::new();
    let heading = heading::read(raw.project.as_ref(), desk);
    let region = region(raw, &mut assumed, desk);
    let supply = heading::supply(raw.supply.as_ref(), region, &mut assumed, desk);
    let mut places = site::read(&raw.points, &raw.routes, desk);
    let blocks = raw.runs.as_deref().unwrap_or_default();
    let members: Vec<Membership> = blocks.iter().map(RunBlock::membership).collect();
    let groups = Groups::read(&raw.groups, &members, desk);
    let wiring = wiring::of_project(raw.wiring.as_ref(), desk);
    let mut runs = runs(blocks, &groups, &places, &mut shelf, desk);
    wiring::add_slack(wiring.slack, &mut places.site, &mut runs);
    let devices = devices(&raw.devices, &places, &mut shelf, desk);
    let scenes = scene::read(&raw.scenes, &groups, desk);
    let loops = loops::read(raw.loops.as_ref(), &places, &mut shelf, desk, file.clone());
    let circuits = circuits::read(
        raw.circuits.as_ref(),
        region,
        &mut shelf,
        desk,
        file.clone(),
    );
    let mut limits = limits::of_project(raw.limits.as_ref(), region, desk);
    let names = house_rules::Names {
        places: &places,
        groups: &groups,
        shelf: &mut shelf,
    };
    let house_rules = house_rules::read(&raw.house_rules, names, desk);
    house_rules::loosen(&mut limits, &raw.house_rules, &house_rules, desk);
    let pricing = pricing::read(raw.pricing.as_ref(), heading.date, desk, file);
    let options = options::read(&raw.options, &limits, &places, &shelf, desk);
    let exclusions = raw.exclusions.iter();
    let exclusions = exclusions.filter_map(|text| desk.one(text)).collect();
    Some(Project {
        heading,
        region,
        supply,
        catalogue: shelf.catalogue,
        site: places.site,
        wiring,
        runs,
        devices,
        groups: groups.list,
        scenes,
        loops: loops?,
        circuits: circuits?,
        limits,
        house_rules,
        pricing,
        options,
        exclusions,
        assumptions: assumed,
        issued: Issued::default(),
    })
}

fn region(raw: &ProjectFile, assumed: &mut Vec<Assumption>, desk: &mut Desk) -> Region {
    if raw.region.is_none() {
        assumed.push(Assumption {
            subject: "project".to_owned(),
            statement: "the rules of region iec hold".to_owned(),
            missing: "`region` in the project file".to_owned(),
            supplied_by: "where the job is".to_owned(),
        });
    }
    desk.read(&raw.region).unwrap_or(Region::Iec)
}

fn runs(
    blocks: &[RunBlock],
    groups: &Groups,
    places: &Places,
    shelf: &mut Shelf,
    desk: &mut Desk,
) -> Vec<Arc<Run>> {
    let mut names = BTreeMap::new();
    let mut runs = Vec::with_capacity(blocks.len());
    for block in blocks {
        if let Some(written) = &block.run {
            first_use(&mut names, "run", written, desk);
        }
        let run = run::read(block, groups, places, shelf, desk);
        runs.extend(run.map(Arc::new));
    }
    runs
}

fn devices(
    blocks: &[DeviceBlock],
    places: &Places,
    shelf: &mut Shelf,
    desk: &mut Desk,
) -> Vec<DeviceSet> {
    let mut names = BTreeMap::new();
    let mut devices = Vec::with_capacity(blocks.len());
    for block in blocks {
        let name = desk.read(&block.device);
        let count = desk.read(&block.count);
        let subject = match &block.device {
            Some(written) => {
                first_use(&mut names, "device", written, desk);
                format!("device `{}`", written.text)
            }
            None => "device".to_owned(),
        };
        let item = block.item.as_ref();
        let item = item.and_then(|name| shelf.find(name, &subject, desk));
        let room = block.room.as_ref();
        let rooms = [PointKind::Room, PointKind::Cupboard, PointKind::Panel];
        let room = room.and_then(|name| places.find(name, &subject, &rooms, desk));
        if let (Some(name), Some(item), Some(room)) = (name, item, room) {
            devices.push(DeviceSet {
                name,
                item,
                room,
                count: count.unwrap_or(1),
                place: desk.place(block.place),
            });
        }
    }
    devices
}

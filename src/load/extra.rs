//! Profiles and accessories of a catalogue.

use super::desk::Desk;
use super::measure::{Amperes, Distance, Extent, Kerf, TerminalSize, WattsPerLength};
use super::offer::{self, CatalogueDefaults, OfferKeys, StockKeys};
use super::plain::{Count, Flag, Name, NewName};
use super::shelf::Shelf;
use super::words::Word;
use super::written::Written;
use crate::model::extra::{Accessory, GoesWith, Lid, Per, Profile, Tail};
use crate::model::offer::ItemKind;
use crate::quantity::Length;
use schemars::JsonSchema;
use serde::Deserialize;
use uom::si::length::millimeter;

/// Width of a saw cut when the catalogue does not say (common practice, no source).
const KERF_MM: f64 = 3.0;

/// A profile that strip is mounted in.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct ProfileBlock {
    /// The id by which projects name it.
    #[schemars(required)]
    pub profile: Option<Written<NewName>>,
    /// The bars it is sold in.
    #[schemars(required, length(min = 1))]
    bars: Option<Vec<StockKeys>>,
    /// Width of a saw cut; 3 mm when left out.
    kerf: Option<Written<Kerf>>,
    /// Power per length it can shed.
    most_power: Option<Written<WattsPerLength>>,
    /// What it is longer than its strip by, for end caps and leads.
    longer_by: Option<Written<Distance>>,
    /// Distance from the strip's face to the lid.
    depth: Option<Written<Extent>>,
    /// The lid over it.
    lid: Option<Written<Word<Lid>>>,
    #[serde(flatten)]
    offer: OfferKeys,
}

/// A connector, end cap, tail, label: counted by a rule.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct AccessoryBlock {
    /// The id.
    #[schemars(required)]
    pub accessory: Option<Written<NewName>>,
    /// What it is counted by.
    #[schemars(required)]
    per: Option<Written<Word<Per>>>,
    /// How many for each; 1 when left out.
    quantity: Option<Written<Count>>,
    /// Most current through it, for connectors at feeds.
    most_current: Option<Written<Amperes>>,
    /// Counted only in wet places (`yes`), only in dry ones (`no`), or in all.
    wet: Option<Written<Flag>>,
    /// Counted only for strips of this many channels.
    channels: Option<Written<Count>>,
    /// Ids of the strips, profiles, drivers or other items that it goes with, in this catalogue or one
    /// before it; counted for these alone.
    #[schemars(length(min = 1))]
    goes_with: Option<Vec<Written<Name>>>,
    /// The wire of a tail, which joins the strip to its feed cable.
    tail: Option<TailBlock>,
    #[serde(flatten)]
    offer: OfferKeys,
}

/// The wire of a tail.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct TailBlock {
    /// Size of each conductor.
    #[schemars(required)]
    size: Option<Written<TerminalSize>>,
    /// Its length.
    length: Option<Written<Extent>>,
}

/// Reads a profile. `None` when it is not complete; then there is a complaint.
pub fn profile(
    raw: &ProfileBlock,
    defaults: &CatalogueDefaults,
    desk: &mut Desk,
) -> Option<Profile> {
    let offer = offer::read(&raw.profile, &raw.offer, ItemKind::Profile, defaults, desk);
    offer::refuse_price(&raw.offer, "bars", desk);
    let bars = offer::stock(raw.bars.as_deref().unwrap_or_default(), desk);
    let kerf = desk.read(&raw.kerf);
    let most_power = desk.read(&raw.most_power);
    let longer_by = desk.read(&raw.longer_by);
    let depth = desk.read(&raw.depth);
    let lid = desk.read(&raw.lid);
    Some(Profile {
        offer: offer?,
        bars,
        kerf_known: kerf.is_some(),
        kerf: kerf.unwrap_or_else(|| Length::new::<millimeter>(KERF_MM)),
        most_power,
        longer_by: longer_by.unwrap_or_else(|| Length::new::<millimeter>(0.0)),
        depth,
        lid,
    })
}

/// Reads an accessory. `None` when it is not complete; then there is a complaint.
pub fn accessory(
    raw: &AccessoryBlock,
    defaults: &CatalogueDefaults,
    shelf: &Shelf,
    desk: &mut Desk,
) -> Option<Accessory> {
    let offer = offer::read(
        &raw.accessory,
        &raw.offer,
        ItemKind::Accessory,
        defaults,
        desk,
    );
    let per = desk.read(&raw.per);
    let quantity = desk.read(&raw.quantity);
    let most_current = desk.read(&raw.most_current);
    let wet = desk.read(&raw.wet);
    let channels = desk.read(&raw.channels);
    let goes_with = goes_with(raw, per, shelf, desk);
    let tail = raw.tail.as_ref().and_then(|block| {
        let length = desk.read(&block.length);
        let size = desk.read(&block.size)?;
        Some(Tail { size, length })
    });
    Some(Accessory {
        offer: offer?,
        per: per?,
        quantity: quantity.unwrap_or(1),
        most_current,
        wet,
        channels,
        goes_with,
        tail,
    })
}

/// What an accessory goes with. What is counted along runs goes with what runs are made of, what is
/// counted by unit with units too.
fn goes_with(raw: &AccessoryBlock, per: Option<Per>, shelf: &Shelf, desk: &mut Desk) -> GoesWith {
    let (Some(written), Some(per)) = (&raw.goes_with, per) else {
        return GoesWith::default();
    };
    let runs = [ItemKind::Strip, ItemKind::Profile];
    let units: &[ItemKind] = match per {
        Per::Loop => &[ItemKind::Controller, ItemKind::BusSupply],
        Per::Device => &[ItemKind::Driver, ItemKind::ControlDevice],
        Per::Driver | Per::Cupboard | Per::Circuit => &[ItemKind::Driver],
        Per::Run
        | Per::Section
        | Per::End
        | Per::Feed
        | Per::Joint
        | Per::Bend
        | Per::Metre
        | Per::ProfileEnd
        | Per::ProfileJoint => &[],
    };
    let kinds = [&runs, units].concat();
    let subject = match &raw.accessory {
        Some(id) => format!("accessory `{}`", id.text),
        None => "accessory".to_owned(),
    };
    let why = format!("it is counted per {}", per.name());
    let mut found = GoesWith::default();
    for one in written {
        let Some(id) = desk.one(one) else { continue };
        match shelf.one_of(one, &kinds, &subject, &why, desk) {
            Some(kind) if runs.contains(&kind) => found.runs.push(id),
            Some(_) => found.units.push(id),
            None => {}
        }
    }
    found
}

//! Options of a project: what the customer may take instead, each priced as a whole job.

use super::desk::Desk;
use super::limits::{self, LimitsBlock};
use super::plain::{Name, NewName, Text};
use super::pricing::{self, ByKind};
use super::shelf::Shelf;
use super::site::{Places, first_use};
use super::written::{Span, Written};
use crate::model::alternate::{Alteration, Alternate};
use crate::model::limits::Limits;
use crate::model::site::PointKind;
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;

/// The job otherwise: by other limits, without some rooms or items, or at other prices.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct OptionBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Its name.
    #[schemars(required)]
    option: Option<Written<NewName>>,
    /// What it is, in words; its name when left out.
    title: Option<Written<Text>>,
    /// Limits in place of the project's; those it does not say stay.
    limits: Option<LimitsBlock>,
    /// Rooms that are left out, with all that is in them.
    without_rooms: Option<Vec<Written<Name>>>,
    /// Drivers, cables, controllers and bus supplies that are not chosen.
    without_items: Option<Vec<Written<Name>>>,
    /// How much more the items of a kind cost.
    dearer: Option<ByKind>,
}

/// Reads the options. `base` are the project's limits.
pub fn read(
    blocks: &[OptionBlock],
    base: &Limits,
    places: &Places,
    shelf: &Shelf,
    desk: &mut Desk,
) -> Vec<Alternate> {
    let mut names = BTreeMap::new();
    let mut options = Vec::with_capacity(blocks.len());
    for block in blocks {
        let name = desk.read(&block.option);
        if let Some(written) = &block.option {
            first_use(&mut names, "option", written, desk);
        }
        let title = desk.read(&block.title);
        let alterations = alterations(block, base, places, shelf, desk);
        let Some(name) = name else { continue };
        options.push(Alternate {
            title: title.unwrap_or_else(|| name.clone()),
            name,
            alterations,
        });
    }
    options
}

fn alterations(
    block: &OptionBlock,
    base: &Limits,
    places: &Places,
    shelf: &Shelf,
    desk: &mut Desk,
) -> Vec<Alteration> {
    let said = [
        block.limits.is_some(),
        block.without_rooms.is_some(),
        block.without_items.is_some(),
        block.dearer.is_some(),
    ];
    if said == [false; 4] {
        let message = "this option differs in nothing: give `limits`, `without_rooms`, \
                       `without_items` or `dearer`";
        desk.complain("empty-option", message, block.place);
    }
    let subject = match &block.option {
        Some(written) => format!("option `{}`", written.text),
        None => "option".to_owned(),
    };
    let mut all = Vec::new();
    if let Some(own) = &block.limits {
        let limits = limits::of_option(own, base, desk);
        all.push(Alteration::Limits(Box::new(limits)));
    }
    for room in block.without_rooms.iter().flatten() {
        let found = places.find(room, &subject, &[PointKind::Room], desk);
        all.extend(found.map(|room| Alteration::WithoutRoom(room.name.clone())));
    }
    for item in block.without_items.iter().flatten() {
        if let Some(id) = desk
            .one(item)
            .filter(|_| shelf.choosable(item, &subject, desk))
        {
            all.push(Alteration::WithoutItem(id));
        }
    }
    let dearer = pricing::by_kind(block.dearer.as_ref(), None, desk);
    all.extend(
        dearer
            .into_iter()
            .map(|(kind, percent)| Alteration::Dearer(kind, percent)),
    );
    all
}

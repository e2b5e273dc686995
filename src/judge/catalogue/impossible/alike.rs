//! Items that are the same in all but their ids.

use super::Slips;
use crate::judge::catalogue::block;
use crate::load::alone::Alone;
use crate::load::shelf::Shelved;
use crate::model::cable::Cable;
use crate::model::driver::Driver;
use crate::model::offer::Offer;
use crate::model::strip::Strip;
use std::sync::Arc;

/// Strips, drivers and cables of which there are two alike.
pub(super) fn slips(alone: &Alone, slips: &mut Slips) {
    let catalogue = &alone.catalogue;
    let alike = |one: &Strip, other: &Strip| {
        let offer = bare(&one.offer, &other.offer);
        Strip {
            offer,
            ..one.clone()
        } == *other
    };
    of_kind(alone, &catalogue.strips, alike, slips);
    let alike = |one: &Driver, other: &Driver| {
        let offer = bare(&one.offer, &other.offer);
        Driver {
            offer,
            ..one.clone()
        } == *other
    };
    of_kind(alone, &catalogue.drivers, alike, slips);
    let alike = |one: &Cable, other: &Cable| {
        let offer = bare(&one.offer, &other.offer);
        Cable {
            offer,
            ..one.clone()
        } == *other
    };
    of_kind(alone, &catalogue.cables, alike, slips);
}

/// One's offer with what names the other: who sells both for the same sells them twice.
fn bare(one: &Offer, other: &Offer) -> Offer {
    Offer {
        id: other.id.clone(),
        description: other.description.clone(),
        place: other.place.clone(),
        ..one.clone()
    }
}

fn of_kind<T: Shelved>(
    alone: &Alone,
    items: &[Arc<T>],
    alike: impl Fn(&T, &T) -> bool,
    slips: &mut Slips,
) {
    for (index, item) in items.iter().enumerate() {
        let before = items.iter().take(index).find(|other| alike(item, other));
        let (Some(first), Some(block)) = (before, block(alone, T::KIND, item.id())) else {
            continue;
        };
        let found = format!("the same as `{}` in all but its id", first.id());
        let remedy = "leave one out, or put right what differs";
        slips.of(block).odd(T::KIND.name(), found, remedy);
    }
}

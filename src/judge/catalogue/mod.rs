//! A catalogue by itself: what is impossible in it, what is missing, and what that leaves untold.
//!
//! [`figures`] is the table of what each figure is needed for. The others look for one kind of
//! cause each.

pub mod entry;
pub mod figures;
mod gaps;
mod impossible;
pub mod left_out;
mod prices;
mod wants;

use crate::load::alone::{Alone, Block};
use crate::model::cable::Cable;
use crate::model::offer::ItemKind;
use crate::norms::region::Region;
use crate::quantity::conductor::ConductorSize;
use entry::{Entry, Found};
use time::Date;

pub use wants::{drives, feed_cable, wants};

/// Everything that is found of a catalogue for jobs of a region; prices are held against the day
/// `on`, if one is given.
#[must_use]
pub fn judge(alone: &Alone, region: Region, on: Option<Date>) -> Found {
    let catalogue = &alone.catalogue;
    let mut entries: Vec<Entry> = impossible::entries(alone);
    entries.extend(prices::entries(alone, on));
    entries.extend(gaps::entries(alone, region));
    entries.sort_by(|one, other| {
        let key = |entry: &Entry| (entry.cause.verdict(), entry.severity, entry.cause);
        (key(one).cmp(&key(other))).then_with(|| one.place.cmp(&other.place))
    });
    let count = |kind: ItemKind| {
        catalogue
            .offers()
            .filter(|offer| offer.kind == kind)
            .count()
    };
    let items = ItemKind::ALL.into_iter().map(|kind| (kind, count(kind)));
    Found {
        title: catalogue.titles.join(", "),
        currency: catalogue.currency.clone(),
        items: items.filter(|(_, count)| *count > 0).collect(),
        entries,
        valid: prices::valid(catalogue),
        wants: wants(catalogue),
    }
}

/// The region of the jobs that a catalogue is for, as far as it shows: sizes in AWG are those of
/// North America.
#[must_use]
pub fn region_of(alone: &Alone) -> Region {
    let gauge = |cable: &Cable| matches!(cable.size, ConductorSize::Awg(_));
    if alone.catalogue.cables.iter().any(|cable| gauge(cable)) {
        Region::NorthAmerica
    } else {
        Region::Iec
    }
}

/// The block of an item.
fn block<'a>(alone: &'a Alone, kind: ItemKind, id: &str) -> Option<&'a Block> {
    let of = |block: &&Block| block.kind == Some(kind) && block.id == id;
    alone.blocks.iter().find(of)
}

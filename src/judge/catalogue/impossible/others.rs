//! Figures of cables, bus equipment and profiles that contradict each other or a standard.

use super::Slips;
use crate::judge::catalogue::block;
use crate::judge::rules::cable_size_unit;
use crate::judge::verdict::Outcome;
use crate::load::alone::Alone;
use crate::model::bus::SupplyCurrent;
use crate::model::offer::{ItemKind, Offer};
use crate::norms::iec_62386::most_supply;
use crate::quantity::{current, length};

/// What is wrong with them.
pub(super) fn slips(alone: &Alone, slips: &mut Slips) {
    cables(alone, slips);
    supplies(alone, slips);
    profiles(alone, slips);
}

fn cables(alone: &Alone, slips: &mut Slips) {
    for cable in &alone.catalogue.cables {
        let Some(block) = block(alone, ItemKind::Cable, &cable.offer.id) else {
            continue;
        };
        let mut told = slips.of(block);
        let marked = cable_size_unit::of_cable(cable);
        if let Some(finding) = marked.filter(|finding| finding.outcome == Outcome::Broken) {
            let found = finding.remedy.unwrap_or_default();
            told.impossible("also_marked", found, "ask the maker which of the two it is");
        }
    }
}

fn supplies(alone: &Alone, slips: &mut Slips) {
    let built_in = alone.catalogue.controllers.iter();
    let built_in = built_in.filter_map(|one| Some((&one.offer, one.supply?, "supply.maximum")));
    let separate = alone.catalogue.bus_supplies.iter();
    let separate = separate.map(|one| (&one.offer, one.supply, "maximum"));
    let all: Vec<(&Offer, SupplyCurrent, &str)> = built_in.chain(separate).collect();
    for (offer, supply, key) in all {
        let Some(block) = block(alone, offer.kind, &offer.id) else {
            continue;
        };
        if supply.maximum > most_supply() * 1.001 {
            let found = format!(
                "a loop takes at most {} (IEC 62386-101), this gives up to {}",
                current::write(most_supply()),
                current::write(supply.maximum)
            );
            let remedy = "check the figure and its unit: it is of one loop, in mA";
            slips.of(block).impossible(key, found, remedy);
        }
    }
}

fn profiles(alone: &Alone, slips: &mut Slips) {
    for profile in &alone.catalogue.profiles {
        let Some(block) = block(alone, ItemKind::Profile, &profile.offer.id) else {
            continue;
        };
        let short = profile.bars.iter().find(|bar| bar.length <= profile.kerf);
        if let Some(bar) = short {
            let found = format!(
                "a saw cut of {} uses up a bar of {}",
                length::write(profile.kerf),
                length::write(bar.length)
            );
            slips
                .of(block)
                .impossible("bars", found, "check `kerf` and `bars`");
        }
    }
}

//! Figures that can't be so, or that are likely slips: one file a kind of item.

mod alike;
mod driver;
mod others;
mod strip;

use super::block;
use super::entry::{Cause, Entry};
use crate::load::alone::{Alone, Block};
use crate::model::offer::ItemKind;

/// Everything that can't be so, or is likely a slip.
pub(super) fn entries(alone: &Alone) -> Vec<Entry> {
    let mut slips = Slips::default();
    let catalogue = &alone.catalogue;
    let find = |kind: ItemKind, id: &str| block(alone, kind, id);
    for item in &catalogue.strips {
        if let Some(block) = find(ItemKind::Strip, &item.offer.id) {
            strip::slips(item, &mut slips.of(block));
        }
    }
    for item in &catalogue.drivers {
        if let Some(block) = find(ItemKind::Driver, &item.offer.id) {
            driver::slips(item, catalogue, &mut slips.of(block));
        }
    }
    others::slips(alone, &mut slips);
    alike::slips(alone, &mut slips);
    slips.entries
}

/// What was found so far.
#[derive(Default)]
struct Slips {
    entries: Vec<Entry>,
}

impl Slips {
    fn of<'a>(&'a mut self, block: &'a Block) -> Told<'a> {
        Told {
            block,
            entries: &mut self.entries,
        }
    }
}

/// Where what is found of one item goes.
struct Told<'a> {
    block: &'a Block,
    entries: &'a mut Vec<Entry>,
}

impl Told<'_> {
    /// It can't be so.
    fn impossible(&mut self, key: &str, found: String, remedy: &str) {
        let entry = Entry::wrong(Cause::Impossible, self.block, key, found, remedy);
        self.entries.push(entry);
    }

    /// It is likely a slip.
    fn odd(&mut self, key: &str, found: String, remedy: &str) {
        let entry = Entry::wrong(Cause::Odd, self.block, key, found, remedy);
        self.entries.push(entry);
    }
}

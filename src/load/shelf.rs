//! Everything on offer in a project's catalogues, found by id.

use super::desk::Desk;
use super::nearest::hint;
use super::plain::{Name, NewName};
use super::written::{Reads, Written};
use crate::diagnostic::{Diagnostic, Place};
use crate::model::bus::{BusSupply, ControlDevice, Controller};
use crate::model::cable::Cable;
use crate::model::catalogue::Catalogue;
use crate::model::driver::Driver;
use crate::model::extra::{Accessory, Profile};
use crate::model::offer::ItemKind;
use crate::model::strip::Strip;
use std::collections::BTreeMap;
use std::sync::Arc;

/// All catalogues of a project, as far as they could be read.
#[derive(Debug, Default)]
pub struct Shelf {
    /// What could be read.
    pub catalogue: Catalogue,
    /// Every id that was given, readable item or not, with its kind and place.
    ids: BTreeMap<String, (ItemKind, Place)>,
    /// Whether a catalogue could not be read at all: then no id can be called unknown.
    pub incomplete: bool,
}

/// A kind of item that projects name.
pub trait Shelved: Sized {
    /// Its kind.
    const KIND: ItemKind;
    /// The items of this kind.
    fn list(catalogue: &mut Catalogue) -> &mut Vec<Arc<Self>>;
    /// The item's id.
    fn id(&self) -> &str;
}

/// Says where items of a kind are kept.
macro_rules! shelved {
    ($($item:ident: $list:ident;)*) => {$(
        impl Shelved for $item {
            const KIND: ItemKind = ItemKind::$item;

            fn list(catalogue: &mut Catalogue) -> &mut Vec<Arc<Self>> {
                &mut catalogue.$list
            }

            fn id(&self) -> &str {
                &self.offer.id
            }
        }
    )*};
}

shelved! {
    Strip: strips;
    Driver: drivers;
    Cable: cables;
    Controller: controllers;
    BusSupply: bus_supplies;
    ControlDevice: control_devices;
    Profile: profiles;
    Accessory: accessories;
}

impl Shelf {
    /// Puts an item on the shelf under the id it was given. An id is used once in all catalogues
    /// of a project, whatever the kind.
    pub fn put<T: Shelved>(
        &mut self,
        id: &Option<Written<NewName>>,
        item: Option<T>,
        desk: &mut Desk,
    ) {
        let Some((written, name)) = id.as_ref().map(|id| (id, &id.text)) else {
            return;
        };
        let place = desk.place(written.at);
        if let Some((kind, first)) = self.ids.get(name) {
            let message = format!("id `{name}` is used twice");
            let twice = desk.fault("duplicate-id", message, written.at);
            let first = format!("first used for a {} at {first}", words(*kind));
            desk.complaints.push(twice.label(first));
            return;
        }
        self.ids.insert(name.clone(), (T::KIND, place));
        T::list(&mut self.catalogue).extend(item.map(Arc::new));
    }

    /// Whether an id is that of something the program chooses by itself: a driver, cable, controller
    /// or bus supply. When not, there is a complaint, begun with `subject`.
    pub fn choosable(&self, written: &Written<Name>, subject: &str, desk: &mut Desk) -> bool {
        let chosen = [
            ItemKind::Driver,
            ItemKind::Cable,
            ItemKind::Controller,
            ItemKind::BusSupply,
        ];
        let why = "only these are chosen";
        self.one_of(written, &chosen, subject, why, desk).is_some()
    }

    /// The kind of an item by its id, where it is one of `kinds`. When not, there is a complaint, begun
    /// with `subject`, that says `why` it has to be.
    pub fn one_of(
        &self,
        written: &Written<Name>,
        kinds: &[ItemKind],
        subject: &str,
        why: &str,
        desk: &mut Desk,
    ) -> Option<ItemKind> {
        let name = &written.text;
        let complaint = match self.ids.get(name) {
            Some((kind, _)) if kinds.contains(kind) => return Some(*kind),
            Some((kind, _)) => format!(
                "{subject}: `{name}` is a {}, not a {}: {why}",
                words(*kind),
                either(kinds)
            ),
            None if self.incomplete => return None,
            None => {
                let of_kind = self
                    .ids
                    .iter()
                    .filter(|(_, (kind, _))| kinds.contains(kind));
                let known: Vec<_> = of_kind.map(|(id, _)| id.as_str()).collect();
                let hint = hint(name, &known);
                format!("{subject}: `{name}` is in no catalogue{hint}")
            }
        };
        desk.complain("unknown-id", complaint, written.at);
        None
    }

    /// The item a project names. `None` when there is none (then there is a complaint, begun with
    /// `subject`) or when it could not be read (then there was one).
    pub fn find<T: Shelved>(
        &mut self,
        written: &Written<Name>,
        subject: &str,
        desk: &mut Desk,
    ) -> Option<Arc<T>> {
        let name = Name::read(&written.text).ok()?;
        let list = T::list(&mut self.catalogue);
        if let Some(item) = list.iter().find(|item| item.id() == name) {
            return Some(Arc::clone(item));
        }
        let kind = words(T::KIND);
        let complaint = match self.ids.get(&name) {
            Some((found, _)) if *found == T::KIND => return None,
            Some((found, _)) => format!("{subject}: `{name}` is a {}, not a {kind}", words(*found)),
            None if self.incomplete => return None,
            None => {
                let of_kind = self.ids.iter().filter(|(_, (found, _))| *found == T::KIND);
                let known: Vec<_> = of_kind.map(|(id, _)| id.as_str()).collect();
                let hint = hint(&name, &known);
                format!("{subject}: {kind} `{name}` is in no catalogue{hint}")
            }
        };
        let complaint = Diagnostic::error("unknown-id", complaint);
        desk.complaints
            .push(complaint.at(&desk.source, written.at.range()));
        None
    }
}

/// What an item of a kind is called.
fn words(kind: ItemKind) -> String {
    kind.name().replace('_', " ")
}

/// `strip, profile or driver`.
fn either(kinds: &[ItemKind]) -> String {
    let names: Vec<String> = kinds.iter().map(|kind| words(*kind)).collect();
    match names.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
        None => String::new(),
    }
}

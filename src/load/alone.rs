//! A catalogue read by itself, in which the place of every key is known, given or missing.

use super::catalogue::{self, CatalogueFile};
use super::desk::Desk;
use super::node::{Content, Node};
use super::shelf::Shelf;
use super::{fitted, tree, unless_errors};
use crate::diagnostic::{Diagnostics, Place, Source};
use crate::model::catalogue::Catalogue;
use crate::model::offer::ItemKind;
use std::sync::Arc;

/// The keys under which catalogues list items, each with what it lists.
pub const LISTS: [(&str, ItemKind); 8] = [
    ("strips", ItemKind::Strip),
    ("drivers", ItemKind::Driver),
    ("cables", ItemKind::Cable),
    ("controllers", ItemKind::Controller),
    ("bus_supplies", ItemKind::BusSupply),
    ("control_devices", ItemKind::ControlDevice),
    ("profiles", ItemKind::Profile),
    ("accessories", ItemKind::Accessory),
];

/// Keys that only a project has.
const OF_PROJECTS: [&str; 3] = ["project", "catalogues", "runs"];

/// A catalogue by itself.
#[derive(Debug)]
pub struct Alone {
    /// Its items.
    pub catalogue: Catalogue,
    /// What it says for all of them.
    pub head: Block,
    /// Each item as written, in file order.
    pub blocks: Vec<Block>,
}

/// An item of a catalogue as written.
#[derive(Debug)]
pub struct Block {
    /// Its kind; `None` for what the catalogue says for all items.
    pub kind: Option<ItemKind>,
    /// Its id; empty for what the catalogue says for all items.
    pub id: String,
    node: Arc<Node>,
    source: Arc<Source>,
}

/// Whether a file's keys are those of a catalogue. A text that can't be read is none.
#[must_use]
pub fn is_catalogue(source: &Arc<Source>) -> bool {
    let Ok(root) = super::document::read(source) else {
        return false;
    };
    let has = |key: &str| root.entry(key).is_some();
    let lists = LISTS.iter().map(|(key, _)| *key);
    !OF_PROJECTS.into_iter().any(has) && lists.chain(["catalogue"]).any(has)
}

/// Reads a catalogue by itself.
///
/// # Errors
/// Everything that is wrong with the file, each with its place.
pub fn read(source: Arc<Source>) -> Result<(Alone, Diagnostics), Diagnostics> {
    let mut desk = Desk::new(Arc::clone(&source));
    let mut shelf = Shelf::default();
    let Some(root) = tree(&mut desk) else {
        return Err(desk.complaints);
    };
    if let Some(raw) = fitted::<CatalogueFile>(&root, &mut desk) {
        catalogue::read(&raw, &mut shelf, &mut desk);
    }
    let head = root.entry("catalogue").map(|entry| &entry.value);
    let alone = Alone {
        catalogue: shelf.catalogue,
        head: Block {
            kind: None,
            id: String::new(),
            node: Arc::clone(head.unwrap_or(&root)),
            source: Arc::clone(&source),
        },
        blocks: blocks(&root, &source),
    };
    unless_errors(desk.complaints, alone)
}

fn blocks(root: &Node, source: &Arc<Source>) -> Vec<Block> {
    let lists = LISTS.iter().filter_map(|(key, kind)| {
        let Content::List(nodes) = &root.entry(key)?.value.content else {
            return None;
        };
        Some((*kind, nodes))
    });
    let mut blocks = Vec::new();
    for (kind, nodes) in lists {
        for node in nodes {
            if let Some(id) = node.entry(kind.name()).and_then(|entry| text(&entry.value)) {
                blocks.push(Block {
                    kind: Some(kind),
                    id: id.to_owned(),
                    node: Arc::clone(node),
                    source: Arc::clone(source),
                });
            }
        }
    }
    blocks
}

fn text(node: &Node) -> Option<&str> {
    match &node.content {
        Content::Scalar { text, .. } => Some(text),
        Content::List(_) | Content::Mapping(_) => None,
    }
}

impl Block {
    /// What stands under a key, written with dots where it stands within another, as in
    /// `mains.current`.
    fn node(&self, key: &str) -> Option<&Node> {
        let mut node: &Node = &self.node;
        for part in key.split('.') {
            node = &node.entry(part)?.value;
        }
        (!node.is_nothing()).then_some(node)
    }

    /// Whether the key is given.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.node(key).is_some()
    }

    /// The plain value of a key, as written.
    #[must_use]
    pub fn word(&self, key: &str) -> Option<&str> {
        self.node(key).and_then(text)
    }

    /// Whether a key holds further keys.
    #[must_use]
    pub fn has_keys(&self, key: &str) -> bool {
        matches!(self.node(key), Some(node) if matches!(node.content, Content::Mapping(_)))
    }

    /// Where a key stands, or where it would: in the innermost of the keys around it that is
    /// there, or at the item's id.
    #[must_use]
    pub fn place(&self, key: &str) -> Place {
        let mut place = None;
        let mut node: &Node = &self.node;
        for part in key.split('.') {
            let Some(entry) = node.entry(part) else { break };
            place = Some(entry.key_span.start);
            node = &entry.value;
        }
        let own = self.kind.and_then(|kind| self.node(kind.name()));
        let own = own.map_or(self.node.span.start, |node| node.span.start);
        self.source.place(place.unwrap_or(own))
    }
}

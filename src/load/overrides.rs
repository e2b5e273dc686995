//! Figures of a catalogue that a project replaces, with its reason: `overrides`.
//!
//! They are put into the catalogue's tree before it is read, so that a replaced value is held to
//! everything that the catalogue's own is held to. Its bytes are the project's: they come after
//! the catalogue's in a source that holds both.

use super::desk::Desk;
use super::nearest::hint;
use super::node::{Content, Entry, Node};
use super::plain::{Name, Text};
use super::written::{AsWritten, Span, Written};
use crate::diagnostic::Diagnostic;
use crate::model::assumption::Assumption;
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

/// Figures or prices of one catalogue item, replaced for this project.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct OverrideBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// The id of the item in its catalogue.
    #[schemars(required)]
    item: Option<Written<Name>>,
    /// Keys of the item with the values that they have here.
    #[schemars(required)]
    #[expect(dead_code, reason = "read from the tree; here for the schema")]
    set: Option<AsWritten>,
    /// Why; it stands among the assumptions.
    #[schemars(required)]
    because: Option<Written<Text>>,
}

/// The keys that one block sets for one item.
#[derive(Debug)]
struct Override {
    item: String,
    at: Range<usize>,
    entries: Vec<Entry>,
    because: String,
}

/// All that a project replaces in its catalogues.
#[derive(Debug, Default)]
pub struct Overrides {
    list: Vec<Override>,
    used: BTreeSet<usize>,
    ids: BTreeSet<String>,
    /// What was replaced by what, and why.
    pub assumptions: Vec<Assumption>,
}

impl Overrides {
    /// Those of a project's tree.
    #[must_use]
    pub fn read(blocks: &[OverrideBlock], root: &Node, desk: &mut Desk) -> Overrides {
        let written = root.entry("overrides").map(|entry| &entry.value.content);
        let Some(Content::List(nodes)) = written else {
            return Overrides::default();
        };
        let mut list: Vec<Override> = Vec::new();
        for block in blocks {
            let item = desk.read(&block.item);
            let because = desk.read(&block.because);
            let place = block.place.range();
            let node = nodes.iter().find(|node| node.span == place);
            let set = node.and_then(|node| node.entry("set"));
            let (Some(item), Some(because), Some(set)) = (item, because, set) else {
                continue;
            };
            let Content::Mapping(entries) = &set.value.content else {
                continue;
            };
            if entries.is_empty() {
                let message = "`set` is empty: it holds the keys that are others here";
                let fault = Diagnostic::error("empty-list", message);
                desk.complaints
                    .push(fault.at(&desk.source, set.key_span.clone()));
            }
            let at = block.item.as_ref().map_or(place, |item| item.at.range());
            for entry in entries {
                let twice = |other: &&Override| {
                    let set = other.entries.iter().any(|known| known.key == entry.key);
                    other.item == item && set
                };
                if let Some(first) = list.iter().find(twice) {
                    let line = desk.source.place(first.at.start).line;
                    let message = format!("`{}` of `{item}` is set twice", entry.key);
                    let fault = Diagnostic::error("duplicate-key", message);
                    let fault = fault.at(&desk.source, entry.key_span.clone());
                    desk.complaints
                        .push(fault.label(format!("first set in line {line}")));
                }
            }
            list.push(Override {
                item,
                at,
                entries: entries.clone(),
                because,
            });
        }
        Overrides {
            list,
            ..Overrides::default()
        }
    }

    /// A catalogue's tree with what the project replaces in it. `after` is where the project's
    /// bytes begin in the source of both; `name` is the catalogue's.
    #[must_use]
    pub fn applied(&mut self, root: &Arc<Node>, after: usize, name: &str) -> Arc<Node> {
        let Content::Mapping(entries) = &root.content else {
            return Arc::clone(root);
        };
        let entries = entries.iter().map(|entry| {
            let Content::List(items) = &entry.value.content else {
                return entry.clone();
            };
            let items = items.iter().map(|item| self.item(item, after, name));
            with_content(entry, Content::List(items.collect()))
        });
        Arc::new(Node {
            span: root.span.clone(),
            content: Content::Mapping(entries.collect()),
            weight: root.weight,
        })
    }

    fn item(&mut self, item: &Arc<Node>, after: usize, name: &str) -> Arc<Node> {
        let Content::Mapping(entries) = &item.content else {
            return Arc::clone(item);
        };
        // An item's first key is its kind, and names it.
        let Some((key, id)) = entries.first().and_then(|first| {
            let Content::Scalar { text, .. } = &first.value.content else {
                return None;
            };
            Some((first.key.clone(), text.clone()))
        }) else {
            return Arc::clone(item);
        };
        let mut entries = entries.clone();
        for (index, change) in self.list.iter().enumerate() {
            if change.item != id {
                continue;
            }
            self.used.insert(index);
            for set in &change.entries {
                let set = moved(set, after);
                let there = entries.iter_mut().find(|entry| entry.key == set.key);
                let before = there.as_ref().map(|entry| flow(&entry.value));
                self.assumptions.push(Assumption {
                    subject: format!("{} {id}", key.replace('_', " ")),
                    statement: statement(&set, before, &change.because),
                    missing: "replaced by `overrides` in the project file".to_owned(),
                    supplied_by: format!("{name}, once it is right there"),
                });
                match there {
                    Some(entry) => *entry = set,
                    None => entries.push(set),
                }
            }
        }
        self.ids.insert(id);
        Arc::new(Node {
            span: item.span.clone(),
            content: Content::Mapping(entries),
            weight: item.weight,
        })
    }

    /// Complains of items that are in no catalogue.
    pub fn complain_of_unused(&self, desk: &mut Desk) {
        let known: Vec<&str> = self.ids.iter().map(String::as_str).collect();
        for (index, change) in self.list.iter().enumerate() {
            if self.used.contains(&index) {
                continue;
            }
            let hint = hint(&change.item, &known);
            let message = format!("`overrides`: `{}` is in no catalogue{hint}", change.item);
            let fault = Diagnostic::error("unknown-id", message);
            desk.complaints
                .push(fault.at(&desk.source, change.at.clone()));
        }
    }
}

fn statement(set: &Entry, before: Option<String>, because: &str) -> String {
    let now = flow(&set.value);
    match before {
        Some(before) => format!("`{}` is {now}, in place of {before}: {because}", set.key),
        None => format!("`{}` is {now}: {because}", set.key),
    }
}

fn with_content(entry: &Entry, content: Content) -> Entry {
    let value = Arc::new(Node {
        span: entry.value.span.clone(),
        content,
        weight: entry.value.weight,
    });
    Entry {
        value,
        ..entry.clone()
    }
}

/// The entry with its bytes moved on by `after`.
fn moved(entry: &Entry, after: usize) -> Entry {
    Entry {
        key: entry.key.clone(),
        key_span: further(&entry.key_span, after),
        value: node_moved(&entry.value, after),
    }
}

fn node_moved(node: &Node, after: usize) -> Arc<Node> {
    let content = match &node.content {
        Content::Scalar { text, plain } => Content::Scalar {
            text: text.clone(),
            plain: *plain,
        },
        Content::List(items) => {
            Content::List(items.iter().map(|item| node_moved(item, after)).collect())
        }
        Content::Mapping(entries) => {
            Content::Mapping(entries.iter().map(|entry| moved(entry, after)).collect())
        }
    };
    Arc::new(Node {
        span: further(&node.span, after),
        content,
        weight: node.weight,
    })
}

fn further(span: &Range<usize>, after: usize) -> Range<usize> {
    span.start + after..span.end + after
}

/// A value on one line, as it could be written in the file.
fn flow(node: &Node) -> String {
    match &node.content {
        Content::Scalar { text, .. } => text.clone(),
        Content::List(items) => {
            let items: Vec<String> = items.iter().map(|item| flow(item)).collect();
            format!("[{}]", items.join(", "))
        }
        Content::Mapping(entries) => {
            let entries = entries
                .iter()
                .map(|entry| format!("{}: {}", entry.key, flow(&entry.value)));
            format!("{{{}}}", entries.collect::<Vec<_>>().join(", "))
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::load;
    use crate::quantity::Voltage;
    use std::path::Path;
    use uom::si::electric_potential::volt;

    const PROJECT: &str = "format: 1\nproject: {title: Overrides}\ncatalogues: [catalogue.yaml]\n\
        points: [{point: cupboard-a, kind: cupboard}, {point: hall, kind: room}]\n\
        runs:\n  - {run: cove, room: hall, strip: white-24-6, length: 4 m, to_start: 2 m}\n";

    #[test]
    fn ok_what_is_replaced_is_used_and_stands_among_the_assumptions_with_its_reason() {
        let overrides = "overrides:\n  - {item: white-24-6, set: {light_starts_at: 17.1 V, \
            reels: [{length: 5 m, price: 21.00}]}, because: quoted today}\n";
        let text = format!("{PROJECT}{overrides}");
        let loaded = load::project_from_text("job.yaml", &text, Path::new("tests/data"));
        let loaded = loaded.expect("readable");
        let strip = &loaded.project.runs[0].strip;
        let starts = strip.channels.list()[0].light_starts_at.expect("set");
        assert_eq!(starts, Voltage::new::<volt>(17.1));
        let said: Vec<_> = loaded.project.assumptions.iter().collect();
        let of = |key: &str| {
            let begins = format!("`{key}` is ");
            said.iter()
                .find(|one| one.subject == "strip white-24-6" && one.statement.starts_with(&begins))
                .map(|one| one.statement.clone())
        };
        assert_eq!(
            of("reels").as_deref(),
            Some(
                "`reels` is [{length: 5 m, price: 21.00}], in place of [{length: 5 m, price: 22.50}]: quoted today"
            )
        );
        assert_eq!(
            of("light_starts_at").as_deref(),
            Some("`light_starts_at` is 17.1 V: quoted today")
        );
    }
}

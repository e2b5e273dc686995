//! Whether a document has the shape that its schema asks for: known keys, the needed ones, and a
//! list, a mapping or a plain value where each belongs.
//!
//! The schema comes from the same structs as the reading and the editor's completion. What fits is
//! handed on as a value in which every plain value and mapping carries its bytes; what doesn't is
//! complained of and left out, so that one fault doesn't hide the others.

use super::nearest::nearest;
use super::node::{Content, Entry, Node};
use super::written::READ_ELSEWHERE;
use crate::diagnostic::{Diagnostic, Diagnostics, Source};
use serde_json::{Map, Value as Json};
use serde_yaml::{Mapping, Value};
use std::ops::Range;
use std::sync::Arc;

/// The key under which a mapping's own bytes are handed on.
pub const PLACE: &str = "@";

/// The comment on a name's schema by which a block is known to be named by it.
pub const NAMES_ITS_BLOCK: &str = "names its block";

/// Fits a document to a schema.
#[must_use]
pub fn fit(root: &Node, schema: &Json, source: &Arc<Source>) -> (Option<Value>, Diagnostics) {
    let mut fitting = Fitting {
        definitions: schema.get("$defs").and_then(Json::as_object),
        source,
        complaints: Diagnostics::default(),
    };
    let value = fitting.node(root, schema, "the file");
    (value, fitting.complaints)
}

struct Fitting<'a> {
    definitions: Option<&'a Map<String, Json>>,
    source: &'a Arc<Source>,
    complaints: Diagnostics,
}

impl<'a> Fitting<'a> {
    fn complain(&mut self, code: &'static str, message: String, at: Range<usize>) {
        let complaint = Diagnostic::error(code, message).at(self.source, at);
        self.complaints.push(complaint);
    }

    /// A schema with its reference followed.
    fn resolved(&self, schema: &'a Json) -> &'a Json {
        let name = schema.get("$ref").and_then(Json::as_str);
        let name = name.and_then(|path| path.strip_prefix("#/$defs/"));
        let found = name.and_then(|name| self.definitions?.get(name));
        found.map_or(schema, |found| self.resolved(found))
    }

    /// The alternatives that a schema allows.
    fn arms(&self, schema: &'a Json) -> Vec<&'a Json> {
        let schema = self.resolved(schema);
        let list = ["anyOf", "oneOf"]
            .iter()
            .find_map(|key| schema.get(key).and_then(Json::as_array));
        match list {
            Some(list) => list.iter().flat_map(|arm| self.arms(arm)).collect(),
            None => vec![schema],
        }
    }

    fn node(&mut self, node: &Node, schema: &'a Json, name: &str) -> Option<Value> {
        let arms = self.arms(schema);
        let arm = arms.iter().copied().find(|arm| takes(arm, &node.content));
        let Some(arm) = arm else {
            let wanted: Vec<_> = arms.iter().map(|arm| describe(arm)).collect();
            let message = format!("{name} takes {}, not {}", wanted.join(" or "), node.what());
            self.complain("wrong-shape", message, node.span.clone());
            return None;
        };
        match &node.content {
            Content::Scalar { text, .. } => Some(written(text, &node.span)),
            Content::List(items) => {
                let item_schema = arm.get("items")?;
                if items.is_empty() && arm.get("minItems").is_some() {
                    self.complain("empty-list", format!("{name} is empty"), node.span.clone());
                }
                let items = items.iter().filter_map(|item| {
                    let name = format!("an entry of {name}");
                    self.node(item, item_schema, &name)
                });
                Some(Value::Sequence(items.collect()))
            }
            Content::Mapping(_) if is_read_elsewhere(arm) => Some(Value::Mapping(Mapping::new())),
            Content::Mapping(entries) => match arm.get("properties").and_then(Json::as_object) {
                Some(properties) => Some(self.block(node, entries, arm, properties)),
                None => Some(self.entries(entries, arm.get("additionalProperties")?)),
            },
        }
    }

    /// A mapping whose keys are the user's own.
    fn entries(&mut self, entries: &[Entry], schema: &'a Json) -> Value {
        let fitted = entries.iter().filter_map(|entry| {
            let value = self.node(&entry.value, schema, &quoted(&entry.key))?;
            let mut named = Mapping::new();
            named.insert("key".into(), written(&entry.key, &entry.key_span));
            named.insert("value".into(), value);
            Some(Value::Mapping(named))
        });
        Value::Sequence(fitted.collect())
    }

    /// A mapping whose keys are ours.
    fn block(
        &mut self,
        node: &Node,
        entries: &[Entry],
        schema: &'a Json,
        properties: &'a Map<String, Json>,
    ) -> Value {
        let mut fitted = Mapping::new();
        fitted.insert(PLACE.into(), bytes(&node.span));
        let subject = self.subject(entries, properties);
        let mut misspelt = Vec::new();
        for entry in entries {
            let Some(property) = properties.get(&entry.key) else {
                misspelt.extend(self.unknown(entry, &subject, properties));
                continue;
            };
            if entry.value.is_nothing() {
                continue;
            }
            if let Some(value) = self.node(&entry.value, property, &quoted(&entry.key)) {
                fitted.insert(entry.key.as_str().into(), value);
            }
        }
        let required = schema.get("required").and_then(Json::as_array);
        for key in required.into_iter().flatten().filter_map(Json::as_str) {
            // A key that is only misspelt is not missing as well: one cause, one message.
            if misspelt.contains(&key) {
                continue;
            }
            let given = entries.iter().find(|entry| entry.key == key);
            match given {
                None => {
                    let message = format!("{subject}`{key}` is missing");
                    let missing = Diagnostic::error("missing-key", message)
                        .at(self.source, node.span.clone());
                    let meaning = properties.get(key).and_then(meaning);
                    self.complaints.push(match meaning {
                        Some(meaning) => missing.help(format!("`{key}`: {meaning}")),
                        None => missing,
                    });
                }
                Some(entry) if entry.value.is_nothing() => {
                    let message = format!("{subject}`{key}` has no value");
                    self.complain("missing-value", message, entry.key_span.clone());
                }
                Some(_) => {}
            }
        }
        Value::Mapping(fitted)
    }

    /// What a block is called in messages, by its name if it has one: "strip `white-24`: ".
    fn subject(&self, entries: &[Entry], properties: &'a Map<String, Json>) -> String {
        let is_name = |key: &str| {
            let schema = properties.get(key).map(|schema| self.resolved(schema));
            let comment = schema.and_then(|schema| schema.get("$comment"));
            comment.and_then(Json::as_str) == Some(NAMES_ITS_BLOCK)
        };
        let named = entries.iter().find(|entry| is_name(&entry.key));
        match named.map(|entry| (&entry.key, &entry.value.content)) {
            Some((key, Content::Scalar { text, .. })) => {
                format!("{} `{text}`: ", key.replace('_', " "))
            }
            _ => String::new(),
        }
    }

    /// Complains of a key that is none of ours; gives the one that was most likely meant.
    fn unknown<'p>(
        &mut self,
        entry: &Entry,
        subject: &str,
        properties: &'p Map<String, Json>,
    ) -> Option<&'p str> {
        let meant = nearest(&entry.key, properties.keys().map(String::as_str));
        let message = match meant {
            Some(near) => format!("{subject}no key `{}` (did you mean `{near}`?)", entry.key),
            None => format!("{subject}no key `{}`", entry.key),
        };
        let known: Vec<_> = properties.keys().map(String::as_str).collect();
        let complaint = Diagnostic::error("unknown-key", message)
            .at(self.source, entry.key_span.clone())
            .help(format!("keys here: {}", known.join(", ")));
        self.complaints.push(complaint);
        meant
    }
}

/// Whether a mapping is read by what it stands for.
fn is_read_elsewhere(arm: &Json) -> bool {
    arm.get("$comment").and_then(Json::as_str) == Some(READ_ELSEWHERE)
}

/// Whether an alternative takes what a node holds.
fn takes(arm: &Json, content: &Content) -> bool {
    let kind = arm.get("type").and_then(Json::as_str);
    match content {
        Content::Mapping(_) => kind == Some("object"),
        Content::List(_) => kind == Some("array"),
        Content::Scalar { .. } => !matches!(kind, Some("object" | "array")),
    }
}

/// What an alternative takes, in words.
fn describe(arm: &Json) -> String {
    match arm.get("type").and_then(Json::as_str) {
        Some("array") => "a list".to_owned(),
        Some("object") => match arm.get("properties").and_then(Json::as_object) {
            Some(keys) if keys.len() <= 4 => {
                let keys: Vec<_> = keys.keys().map(|key| quoted(key)).collect();
                format!("a mapping ({})", keys.join(", "))
            }
            _ => "a mapping".to_owned(),
        },
        _ => {
            let title = arm.get("title").and_then(Json::as_str);
            title.unwrap_or("a plain value").to_owned()
        }
    }
}

/// What a key means, from its description, as part of a message.
fn meaning(property: &Json) -> Option<String> {
    let description = property.get("description")?.as_str()?;
    let mut characters = description.trim_end_matches('.').chars();
    let first = characters.next()?;
    Some(first.to_lowercase().chain(characters).collect())
}

fn quoted(key: &str) -> String {
    format!("`{key}`")
}

fn written(text: &str, span: &Range<usize>) -> Value {
    let mut value = Mapping::new();
    value.insert("text".into(), text.into());
    value.insert("at".into(), bytes(span));
    Value::Mapping(value)
}

fn bytes(span: &Range<usize>) -> Value {
    let ends = [span.start, span.end].into_iter();
    Value::Sequence(ends.map(Value::from).collect())
}

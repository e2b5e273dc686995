//! A YAML document as a tree in which every key and value knows where it stands.

use std::ops::Range;
use std::sync::Arc;

/// A value with its place.
#[derive(Debug, PartialEq)]
pub struct Node {
    /// The bytes it was written in; of a list or mapping, those it is best pointed at by.
    pub span: Range<usize>,
    /// What it holds.
    pub content: Content,
    /// Nodes in it, itself included, aliases counted as often as they are used.
    pub weight: usize,
}

/// What a node holds.
#[derive(Debug, PartialEq)]
pub enum Content {
    /// Text as written, quotes and escapes resolved.
    Scalar {
        /// The text.
        text: String,
        /// Whether it stood without quotes.
        plain: bool,
    },
    /// A list.
    List(Vec<Arc<Node>>),
    /// A mapping, in file order, no key twice.
    Mapping(Vec<Entry>),
}

/// A key and its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// The key.
    pub key: String,
    /// Where the key stands.
    pub key_span: Range<usize>,
    /// Its value.
    pub value: Arc<Node>,
}

impl Node {
    /// Whether nothing was written: an empty value, `~` or `null`.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        matches!(&self.content, Content::Scalar { text, plain: true }
            if matches!(text.as_str(), "" | "~" | "null"))
    }

    /// What it is in words.
    #[must_use]
    pub fn what(&self) -> &'static str {
        match &self.content {
            Content::Scalar { .. } => "a plain value",
            Content::List(_) => "a list",
            Content::Mapping(_) => "a mapping",
        }
    }

    /// The entry of a mapping under `key`.
    #[must_use]
    pub fn entry(&self, key: &str) -> Option<&Entry> {
        match &self.content {
            Content::Mapping(entries) => entries.iter().find(|entry| entry.key == key),
            _ => None,
        }
    }
}

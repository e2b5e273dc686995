//! A plain value as written in a file, and what it is to be read as.
//!
//! The structs that describe a file's blocks are made of these. Their types are the one table
//! from which the reading, the complaints and the editor's schema follow.

use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::Deserialize;
use std::borrow::Cow;
use std::marker::PhantomData;
use std::ops::Range;

/// What a plain value can be read as.
pub trait Reads {
    /// What reading yields.
    type Value;
    /// The name of its definition in the schema.
    const NAME: &'static str;
    /// What it is, with an article: "a length".
    fn what() -> String;
    /// Its schema: a plain value's type with examples.
    fn schema() -> Schema;
    /// Reads it.
    ///
    /// # Errors
    /// When the text is not one; the error says what would be.
    fn read(text: &str) -> Result<Self::Value, Unread>;
}

/// Why a plain value could not be read.
#[derive(Debug, Clone, PartialEq)]
pub struct Unread {
    /// The kind of fault: `bad-quantity`, `unknown-word`.
    pub code: &'static str,
    /// What is wrong, and what would be right.
    pub message: String,
    /// The part of the text at fault; the whole when `None`.
    pub at: Option<Range<usize>>,
}

impl Unread {
    /// A fault of the whole text.
    #[must_use]
    pub fn new(code: &'static str, message: impl Into<String>) -> Self {
        Unread {
            code,
            message: message.into(),
            at: None,
        }
    }
}

/// Bytes of a file.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
pub struct Span(usize, usize);

impl Span {
    /// As a range.
    #[must_use]
    pub fn range(self) -> Range<usize> {
        self.0..self.1
    }
}

/// A plain value as written, to be read as a `K`.
#[derive(Debug, Deserialize)]
#[serde(bound = "")]
pub struct Written<K> {
    /// The text, quotes and escapes resolved.
    pub text: String,
    /// Where it stands.
    pub at: Span,
    #[serde(skip)]
    kind: PhantomData<fn() -> K>,
}

impl<K> Written<K> {
    /// A text that stands at `at`.
    #[must_use]
    pub fn new(text: String, at: Span) -> Self {
        Written {
            text,
            at,
            kind: PhantomData,
        }
    }
}

impl<K: Reads> JsonSchema for Written<K> {
    fn schema_name() -> Cow<'static, str> {
        K::NAME.into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let mut schema = K::schema();
        schema.insert("title".to_owned(), K::what().into());
        schema
    }
}

/// One or several.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum OneOrMany<T> {
    /// A list.
    Many(Vec<T>),
    /// One.
    One(T),
}

impl<T> OneOrMany<T> {
    /// As a list.
    #[must_use]
    pub fn list(&self) -> Vec<&T> {
        match self {
            OneOrMany::One(one) => vec![one],
            OneOrMany::Many(many) => many.iter().collect(),
        }
    }
}

/// A mapping whose keys are the user's own names, in file order.
#[derive(Debug, Deserialize)]
#[serde(transparent)]
pub struct Entries<V>(pub Vec<NamedEntry<V>>);

/// A name and what stands under it.
#[derive(Debug, Deserialize)]
pub struct NamedEntry<V> {
    /// The key.
    pub key: Written<super::plain::Name>,
    /// The value.
    pub value: V,
}

impl<V: JsonSchema> JsonSchema for Entries<V> {
    fn schema_name() -> Cow<'static, str> {
        format!("Entries_of_{}", V::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let value = generator.subschema_for::<V>();
        schemars::json_schema!({"type": "object", "additionalProperties": value})
    }
}

/// A mapping that is read elsewhere, by what it stands for; here only that it is one.
#[derive(Debug, Deserialize)]
pub struct AsWritten {}

/// The comment on a schema by which a mapping is known to be read elsewhere.
pub const READ_ELSEWHERE: &str = "read elsewhere";

impl JsonSchema for AsWritten {
    fn schema_name() -> Cow<'static, str> {
        "AsWritten".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        schemars::json_schema!({"type": "object", "minProperties": 1, "$comment": READ_ELSEWHERE})
    }
}

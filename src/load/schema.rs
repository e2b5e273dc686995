//! The JSON Schema of the files that people write, made from the structs they are read into.
//!
//! An editor completes by it, and [`super::shape`] reads by it: the two can't drift apart.

use super::catalogue::CatalogueFile;
use super::project::ProjectFile;
use super::readings::ReadingsFile;
use schemars::{JsonSchema, generate::SchemaSettings};
use serde_json::Value as Json;

/// The schema of a project file.
#[must_use]
pub fn project() -> Json {
    of::<ProjectFile>("Project file")
}

/// The schema of a catalogue file.
#[must_use]
pub fn catalogue() -> Json {
    of::<CatalogueFile>("Catalogue file")
}

/// The schema of a readings file.
#[must_use]
pub fn readings() -> Json {
    of::<ReadingsFile>("Readings file")
}

/// The schema of a file that is read into a `T`.
#[must_use]
pub fn of<T: JsonSchema>(title: &str) -> Json {
    let generator = SchemaSettings::draft2020_12().into_generator();
    let mut schema = generator.into_root_schema_for::<T>().to_value();
    without_null(&mut schema);
    if let Some(root) = schema.as_object_mut() {
        root.insert("title".to_owned(), title.into());
    }
    schema
}

/// Takes out the `null` that stands for a key left out: a key is left out, never null.
fn without_null(schema: &mut Json) {
    match schema {
        Json::Array(items) => items.iter_mut().for_each(without_null),
        Json::Object(object) => {
            if let Some(Json::Array(arms)) = object.get_mut("anyOf") {
                arms.retain(|arm| arm.get("type").and_then(Json::as_str) != Some("null"));
                if let [Json::Object(only)] = arms.as_mut_slice() {
                    let only = std::mem::take(only);
                    object.remove("anyOf");
                    for (key, value) in only {
                        object.entry(key).or_insert(value);
                    }
                }
            }
            if let Some(Json::Array(types)) = object.get_mut("type") {
                types.retain(|name| name.as_str() != Some("null"));
                if let [only] = types.as_mut_slice() {
                    let only = only.take();
                    object.insert("type".to_owned(), only);
                }
            }
            object.values_mut().for_each(without_null);
        }
        _ => {}
    }
}

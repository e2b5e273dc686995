//! YAML → model, with every complaint in one pass, each with its place.
//!
//! A file goes through [`mod@file`] (bytes → text), [`document`] (text → a tree with places),
//! [`shape`] (tree → the structs of its blocks, by the schema made from them) and the file of each
//! block (structs → model). Knows nothing of physics.

pub mod alone;
pub mod bus;
pub mod cable;
pub mod catalogue;
pub mod circuits;
pub mod commissioning;
pub mod desk;
pub mod document;
pub mod driver;
pub mod driver_mains;
pub mod entries;
pub mod extra;
pub mod feed;
pub mod file;
pub mod flicker;
pub mod format;
pub mod heading;
pub mod house_rules;
pub mod issued;
pub mod limits;
pub mod loops;
pub mod measure;
pub mod nearest;
pub mod node;
pub mod offer;
pub mod options;
pub mod overrides;
pub mod per_white;
pub mod plain;
pub mod pricing;
pub mod project;
pub mod rails;
pub mod readings;
pub mod run;
pub mod scene;
pub mod schema;
pub mod shape;
pub mod shelf;
pub mod site;
pub mod strip;
pub mod strip_case;
mod strip_case_keys;
mod strip_detail;
pub mod takeoff;
pub mod wiring;
pub mod words;
pub mod written;

use crate::diagnostic::{Diagnostic, Diagnostics, Source};
use crate::model::catalogue::Catalogue;
use crate::model::project::Project;
use desk::Desk;
use node::Node;
use overrides::Overrides;
use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use shelf::Shelf;
use std::path::Path;
use std::sync::Arc;

/// A project as read.
#[derive(Debug)]
pub struct Loaded {
    /// The project.
    pub project: Project,
    /// What the reader should look at; none of it is an error.
    pub warnings: Diagnostics,
    /// The files read: the project, then its catalogues in order.
    pub sources: Vec<Arc<Source>>,
}

/// Reads a project and its catalogues, whose paths are relative to it. `-` reads the project from
/// standard input, with catalogues relative to the current folder.
///
/// # Errors
/// Everything that is wrong with the files, each with its place.
pub fn project(path: &str) -> Result<Loaded, Diagnostics> {
    project_of(opened(path)?, path)
}

/// The text of a file; `-` is standard input.
///
/// # Errors
/// When it can't be read as text.
pub fn opened(path: &str) -> Result<Arc<Source>, Diagnostic> {
    if path == "-" {
        return file::standard_input();
    }
    file::read(Path::new(path), path)
}

/// Reads a project from the text that was read from `path`, and its catalogues, whose paths are
/// relative to that.
///
/// # Errors
/// Everything that is wrong with the files, each with its place.
pub fn project_of(source: Arc<Source>, path: &str) -> Result<Loaded, Diagnostics> {
    project_from(source, &beside(folder_of(path)))
}

/// The folder that a project's files are relative to: its own, or the current one for standard
/// input.
#[must_use]
pub fn folder_of(path: &str) -> &Path {
    let own = Path::new(path).parent().filter(|_| path != "-");
    own.unwrap_or(Path::new(""))
}

/// The catalogues that a project names, as it writes them; of a text that can't be read, none.
#[must_use]
pub fn catalogues_named(source: &Arc<Source>) -> Vec<String> {
    let root = document::read(source).ok();
    let entry = root.as_ref().and_then(|root| root.entry("catalogues"));
    let Some(node::Content::List(nodes)) = entry.map(|entry| &entry.value.content) else {
        return Vec::new();
    };
    let names = nodes.iter().filter_map(|node| match &node.content {
        node::Content::Scalar { text, .. } => Some(text.clone()),
        node::Content::List(_) | node::Content::Mapping(_) => None,
    });
    names.collect()
}

/// Reads a project from text. `name` is how it is spoken of; catalogues are relative to `base`.
///
/// # Errors
/// Everything that is wrong with the files, each with its place.
pub fn project_from_text(name: &str, text: &str, base: &Path) -> Result<Loaded, Diagnostics> {
    let source = file::text(text.as_bytes().to_vec(), name)?;
    project_from(source, &beside(base))
}

/// Reads a project from text, with catalogues that are texts too, each with its name.
///
/// # Errors
/// Everything that is wrong with the texts, each with its place.
pub fn project_from_texts(
    name: &str,
    text: &str,
    catalogues: &[(&str, &str)],
) -> Result<Loaded, Diagnostics> {
    let source = file::text(text.as_bytes().to_vec(), name)?;
    project_from(source, &|wanted| {
        let found = catalogues.iter().find(|(name, _)| *name == wanted);
        match found {
            Some((name, text)) => file::text(text.as_bytes().to_vec(), name),
            None => {
                let message = format!("there is no catalogue `{wanted}`");
                Err(Diagnostic::error("unread", message))
            }
        }
    })
}

/// Opens catalogue files by paths that are relative to a folder.
fn beside(base: &Path) -> impl Fn(&str) -> Result<Arc<Source>, Diagnostic> + '_ {
    |path| {
        let path = base.join(path);
        file::read(&path, &path.to_string_lossy())
    }
}

/// What opens a catalogue by the name that a project gives it.
type Open<'a> = &'a dyn Fn(&str) -> Result<Arc<Source>, Diagnostic>;

/// Reads a catalogue alone.
///
/// # Errors
/// Everything that is wrong with the file, each with its place.
pub fn catalogue(path: &str) -> Result<Catalogue, Diagnostics> {
    let source = file::read(Path::new(path), path)?;
    let mut desk = Desk::new(source);
    let mut shelf = Shelf::default();
    if let Some(raw) = structs(&mut desk) {
        catalogue::read(&raw, &mut shelf, &mut desk);
    }
    unless_errors(desk.complaints, shelf.catalogue).map(|(catalogue, _)| catalogue)
}

/// Reads a file's text into the structs of its blocks: guarded, its format checked, its shape
/// held against the schema made from the structs. `None` when there is nothing to go on with.
/// Complaints are on the desk either way.
pub fn structs<T: DeserializeOwned + JsonSchema>(desk: &mut Desk) -> Option<T> {
    let root = tree(desk)?;
    fitted(&root, desk)
}

/// Reads a file's text into a tree, guarded, its format checked. `None` with complaints on the
/// desk.
fn tree(desk: &mut Desk) -> Option<Arc<Node>> {
    match document::read(&desk.source) {
        Ok(root) => format::check(&root, desk).then_some(root),
        Err(complaints) => {
            desk.complaints.append(complaints);
            None
        }
    }
}

/// Fits a tree to the structs of its blocks.
fn fitted<T: DeserializeOwned + JsonSchema>(root: &Node, desk: &mut Desk) -> Option<T> {
    let schema = schema::of::<T>("");
    let (value, complaints) = shape::fit(root, &schema, &desk.source);
    desk.complaints.append(complaints);
    match serde_yaml::from_value(value?) {
        Ok(structs) => Some(structs),
        // What is wrong has been said already, and where.
        Err(_) if desk.complaints.has_errors() => None,
        Err(error) => {
            let message = format!("the file could not be read: {error}");
            let fault = Diagnostic::error("unread", message);
            desk.complaints
                .push(fault.at(&desk.source, root.span.clone()));
            None
        }
    }
}

fn project_from(source: Arc<Source>, open: Open) -> Result<Loaded, Diagnostics> {
    let mut desk = Desk::new(Arc::clone(&source));
    let mut sources = vec![source];
    let root = tree(&mut desk);
    let raw = root
        .as_ref()
        .and_then(|root| fitted::<project::ProjectFile>(root, &mut desk));
    let (Some(root), Some(raw)) = (root, raw) else {
        return Err(desk.complaints);
    };
    let mut overrides = Overrides::read(&raw.overrides, &root, &mut desk);
    let mut shelf = Shelf::default();
    let mut others = Diagnostics::default();
    for written in raw.catalogues.iter().flatten() {
        match catalogue_file(&written.text, open, &mut shelf, &mut overrides, &desk) {
            Ok((source, complaints)) => {
                sources.push(source);
                others.append(complaints);
            }
            Err(fault) => {
                shelf.incomplete = true;
                let fault = fault.at(&desk.source, written.at.range());
                desk.complaints.push(fault);
            }
        }
    }
    if raw.catalogues.is_none() || others.has_errors() {
        shelf.incomplete = true;
    }
    if !shelf.incomplete {
        overrides.complain_of_unused(&mut desk);
    }
    let mut project = project::read(&raw, shelf, &mut desk);
    if let Some(project) = &mut project {
        project.assumptions.append(&mut overrides.assumptions);
        project.issued.inputs = issued::digest(sources.iter().map(|source| source.text()));
    }
    let mut complaints = desk.complaints;
    complaints.append(others);
    let (project, warnings) = unless_errors(complaints, project)?;
    let incomplete = || Diagnostic::error("unread", "the project could not be read");
    Ok(Loaded {
        project: project.ok_or_else(incomplete)?,
        warnings,
        sources,
    })
}

/// Reads one of a project's catalogues onto the shelf. An error is about the file as a whole.
fn catalogue_file(
    path: &str,
    open: Open,
    shelf: &mut Shelf,
    overrides: &mut Overrides,
    project: &Desk,
) -> Result<(Arc<Source>, Diagnostics), Diagnostic> {
    let source = open(path)?;
    let both = Arc::new(source.followed_by(&project.source));
    let mut desk = Desk::new(both);
    if let Some(root) = tree(&mut desk) {
        let root = overrides.applied(&root, desk.source.end(), source.name());
        if let Some(raw) = fitted(&root, &mut desk) {
            catalogue::read(&raw, shelf, &mut desk);
        }
    }
    Ok((source, desk.complaints))
}

fn unless_errors<T>(complaints: Diagnostics, value: T) -> Result<(T, Diagnostics), Diagnostics> {
    if complaints.has_errors() {
        return Err(complaints);
    }
    Ok((value, complaints))
}

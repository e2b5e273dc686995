//! How a project that is written names a catalogue.

use std::path::{Path, PathBuf};

/// The path of a catalogue as a project in a folder names it: relative where it stands in the
/// folder, or both are in the current one; else absolute.
pub(super) fn named_from(folder: Option<&Path>, catalogue: &str) -> String {
    let beside = folder.and_then(|folder| Path::new(catalogue).strip_prefix(folder).ok());
    let elsewhere = folder.is_some_and(|folder| folder != Path::new("")) && beside.is_none();
    let path = match beside {
        Some(path) => path.to_path_buf(),
        None if elsewhere => std::path::absolute(catalogue).unwrap_or(catalogue.into()),
        None => PathBuf::from(catalogue),
    };
    path.to_string_lossy().into_owned()
}

//! Where the files of a report go.

use super::ReportError;
use std::collections::BTreeMap;
use std::io::Write;
use std::sync::{Mutex, PoisonError};

/// A file that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct File {
    /// Its name, without any folder.
    pub name: String,
    /// Its contents.
    pub bytes: Vec<u8>,
}

/// Takes files, several at a time.
pub trait Shelf: Sync {
    /// Why a file was not taken.
    type Error: From<ReportError> + Send;

    /// Takes a file of that name, without any folder. `write` gives its contents.
    ///
    /// # Errors
    /// When the contents can't be made or can't be put down.
    fn take(
        &self,
        name: &str,
        write: &mut dyn FnMut(&mut dyn Write) -> Result<(), ReportError>,
    ) -> Result<(), Self::Error>;
}

/// Keeps files in memory.
#[derive(Debug, Default)]
pub(super) struct InMemory(Mutex<BTreeMap<String, Vec<u8>>>);

impl Shelf for InMemory {
    type Error = ReportError;

    fn take(
        &self,
        name: &str,
        write: &mut dyn FnMut(&mut dyn Write) -> Result<(), ReportError>,
    ) -> Result<(), ReportError> {
        let mut bytes = Vec::new();
        write(&mut bytes)?;
        let mut files = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        files.insert(name.to_owned(), bytes);
        Ok(())
    }
}

impl InMemory {
    /// The files of those names.
    pub(super) fn in_order(self, names: Vec<String>) -> Vec<File> {
        let mut files = self.0.into_inner().unwrap_or_else(PoisonError::into_inner);
        let file = |name: String| {
            let bytes = files.remove(&name)?;
            Some(File { name, bytes })
        };
        names.into_iter().filter_map(file).collect()
    }
}

//! The note that lies in a folder while its documents are replaced one by one: whoever finds it
//! there knows that the program was stopped in between.

use super::trouble::Trouble;
use std::path::{Path, PathBuf};

/// Its name.
const NAME: &str = "feedpoint-unfinished.txt";

const TEXT: &str = "The documents in this folder are being replaced, or feedpoint was stopped while it did so: \
some are new, some are as they were before. Do not work from them. Run the same command again.\n";

/// A note that was put.
pub(super) struct Note(PathBuf);

impl Note {
    /// Puts it into a folder; one left from before is replaced.
    pub(super) fn put(folder: &Path) -> Result<Note, Trouble> {
        let path = folder.join(NAME);
        match std::fs::write(&path, TEXT) {
            Ok(()) => Ok(Note(path)),
            Err(error) => Err((path, error)),
        }
    }

    /// Everything is in place, or as it was.
    pub(super) fn take_away(self) -> Result<(), Trouble> {
        std::fs::remove_file(&self.0).map_err(|error| (self.0, error))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_lies_there_until_it_is_taken_away() {
        let scratch = tempfile::tempdir().unwrap();
        let path = scratch.path().join(NAME);
        // A program that is killed never takes it away, and the next one puts its own.
        drop(Note::put(scratch.path()).ok());
        assert!(
            std::fs::read_to_string(&path)
                .unwrap()
                .contains("Do not work from them")
        );
        let note = Note::put(scratch.path()).ok().unwrap();
        note.take_away().ok().unwrap();
        assert!(!path.exists());
    }

    #[test]
    fn a_folder_that_can_not_be_written_is_said() {
        let scratch = tempfile::tempdir().unwrap();
        let (path, _) = Note::put(&scratch.path().join("nowhere")).err().unwrap();
        assert!(path.ends_with(NAME));
    }
}

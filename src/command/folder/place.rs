//! Changing several files at once: all changes are made, or all are taken back. A program that is
//! killed in between leaves a note that says so.

use super::trouble::Trouble;
use super::unfinished::Note;
use super::waiting::Room;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use tempfile::TempPath;

/// What becomes of a name.
pub(super) struct Change {
    name: String,
    /// The file that gets it; none: nothing has it any more.
    to: Option<TempPath>,
}

impl Change {
    pub(super) fn to(name: String, file: TempPath) -> Change {
        Change {
            name,
            to: Some(file),
        }
    }

    pub(super) fn removal(name: String) -> Change {
        Change { name, to: None }
    }
}

/// A change that was made.
struct Made {
    path: PathBuf,
    /// What had the name before.
    before: Option<TempPath>,
}

/// Makes the changes in order, with what was there before waiting in `room` until all are made.
/// After trouble everything is as it was.
pub(super) fn make(folder: &Path, room: &Room, changes: Vec<Change>) -> Result<(), Trouble> {
    let note = (changes.len() > 1).then(|| Note::put(folder)).transpose()?;
    let done = all(folder, room, changes);
    match note {
        Some(note) => done.and(note.take_away()),
        None => done,
    }
}

fn all(folder: &Path, room: &Room, changes: Vec<Change>) -> Result<(), Trouble> {
    let mut made = Vec::with_capacity(changes.len());
    for (number, change) in changes.into_iter().enumerate() {
        let path = folder.join(&change.name);
        // A name of its own: one file may change more than once.
        let aside = room.path().join(format!("before-{number}"));
        match one(aside, &path, change.to) {
            Ok(before) => made.push(Made { path, before }),
            Err(error) => {
                take_back(made);
                return Err((path, error));
            }
        }
    }
    // What had the names before goes with `made`.
    Ok(())
}

fn one(aside: PathBuf, path: &Path, to: Option<TempPath>) -> std::io::Result<Option<TempPath>> {
    let before = moved_aside(aside, path)?;
    let Some(file) = to else { return Ok(before) };
    match file.persist(path) {
        Ok(()) => Ok(before),
        Err(error) => {
            restore(path, before);
            Err(error.error)
        }
    }
}

/// What is at `path` as `aside`, if anything is.
fn moved_aside(aside: PathBuf, path: &Path) -> std::io::Result<Option<TempPath>> {
    let aside = TempPath::try_from_path(aside)?;
    match std::fs::rename(path, &aside) {
        Ok(()) => Ok(Some(aside)),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}

fn take_back(made: Vec<Made>) {
    for Made { path, before } in made.into_iter().rev() {
        restore(&path, before);
    }
}

/// As well as it can be done: there is nothing left to try when it fails.
fn restore(path: &Path, before: Option<TempPath>) {
    match before {
        Some(before) => {
            if let Err(error) = before.persist(path) {
                // Better under an odd name than gone.
                let _ = error.path.keep();
            }
        }
        None => {
            let _ = std::fs::remove_file(path);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;
    use tempfile::NamedTempFile;

    fn aside(room: &Room, text: &str) -> TempPath {
        let file = NamedTempFile::new_in(room.path()).unwrap();
        std::fs::write(file.path(), text).unwrap();
        file.into_temp_path()
    }

    fn contents(folder: &Path) -> BTreeMap<String, String> {
        let files = std::fs::read_dir(folder).unwrap().map(Result::unwrap);
        files
            .filter(|file| file.path().is_file())
            .map(|file| {
                let name = file.file_name().to_string_lossy().into_owned();
                (name, std::fs::read_to_string(file.path()).unwrap())
            })
            .collect()
    }

    #[test]
    fn trouble_half_way_leaves_everything_as_it_was() {
        let scratch = tempfile::tempdir().unwrap();
        let folder = scratch.path();
        let room = Room::make(folder).unwrap();
        std::fs::write(folder.join("a"), "old a").unwrap();
        std::fs::write(folder.join("c"), "old c").unwrap();
        let before = contents(folder);
        // A name in a folder that is not there can't be given.
        let changes = vec![
            Change::to("a".to_owned(), aside(&room, "new a")),
            Change::to("b".to_owned(), aside(&room, "new b")),
            Change::removal("c".to_owned()),
            Change::to("nowhere/d".to_owned(), aside(&room, "new d")),
        ];
        let (path, _) = make(folder, &room, changes).unwrap_err();
        assert!(path.ends_with("nowhere/d"));
        assert_eq!(contents(folder), before);
    }

    #[test]
    fn trouble_after_a_file_changed_twice_leaves_it_as_it_was_at_first() {
        let scratch = tempfile::tempdir().unwrap();
        let folder = scratch.path();
        let room = Room::make(folder).unwrap();
        std::fs::write(folder.join("a"), "old a").unwrap();
        let before = contents(folder);
        let changes = vec![
            Change::to("a".to_owned(), aside(&room, "both")),
            Change::to("a".to_owned(), aside(&room, "new a")),
            Change::to("nowhere/d".to_owned(), aside(&room, "new d")),
        ];
        assert!(make(folder, &room, changes).is_err());
        assert_eq!(contents(folder), before);
    }

    #[test]
    fn all_changes_are_made() {
        let scratch = tempfile::tempdir().unwrap();
        let folder = scratch.path();
        let room = Room::make(folder).unwrap();
        std::fs::write(folder.join("a"), "old a").unwrap();
        std::fs::write(folder.join("c"), "old c").unwrap();
        let changes = vec![
            Change::to("a".to_owned(), aside(&room, "new a")),
            Change::to("b".to_owned(), aside(&room, "new b")),
            Change::removal("c".to_owned()),
        ];
        make(folder, &room, changes).unwrap();
        let expected = [("a", "new a"), ("b", "new b")];
        let expected = expected.map(|(name, text)| (name.to_owned(), text.to_owned()));
        assert_eq!(contents(folder), BTreeMap::from(expected));
    }
}

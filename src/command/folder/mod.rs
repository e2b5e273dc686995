//! Writing files into a folder: all of them or none, and none over what someone has changed by
//! hand.

mod hashed;
mod manifest;
mod place;
mod trouble;
mod unfinished;
mod waiting;

use super::{Failure, new_file};
use crate::present::report::{ReportError, Shelf};
use hashed::Hashed;
use manifest::{Digest, MANIFEST, Manifest};
use place::Change;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use tempfile::TempPath;
use trouble::Trouble;
use waiting::Room;

/// Files named in one message at most.
const MOST_NAMED: usize = 8;

/// A folder into which files are being written. Until [`Folder::finish`] they wait in a folder of
/// their own in it, and go when this does.
pub(super) struct Folder {
    path: PathBuf,
    made_here: bool,
    waiting: Mutex<Waiting>,
}

/// The files that wait.
#[derive(Default)]
struct Waiting {
    files: Vec<Aside>,
    /// Where they wait; none before the first.
    room: Option<Room>,
}

/// A file that waits for its name.
struct Aside {
    name: String,
    path: TempPath,
    digest: Digest,
}

/// How the files are to take their places.
#[derive(Debug, Clone, Copy)]
pub(super) struct Manner {
    /// Whether they are everything that the folder should hold, so that what an earlier writing
    /// left beside them is stale.
    pub whole: bool,
    /// Whether files that were changed by hand are overwritten.
    pub force: bool,
}

/// What happened to files other than those written.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Swept {
    /// Stale files that were removed.
    pub removed: Vec<String>,
    /// Stale files that were left, since someone has changed them.
    pub kept: Vec<String>,
}

impl Folder {
    /// Opens the folder, made when it is not there.
    pub(super) fn open(path: &Path) -> Result<Folder, Failure> {
        let made_here = !path.exists();
        let folder = Folder {
            path: path.to_path_buf(),
            made_here,
            waiting: Mutex::default(),
        };
        std::fs::create_dir_all(path).map_err(|error| failed(&(path.to_path_buf(), error)))?;
        Ok(folder)
    }

    /// Writes a file aside.
    pub(super) fn put(&self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        self.take(name, &mut |out| Ok(out.write_all(bytes)?))
    }

    fn waiting(&self) -> MutexGuard<'_, Waiting> {
        self.waiting.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// An empty file that waits for contents.
    fn empty(&self) -> std::io::Result<Hashed> {
        let mut waiting = self.waiting();
        let room = match waiting.room.take() {
            Some(room) => room,
            None => Room::make(&self.path)?,
        };
        let room = waiting.room.insert(room);
        Ok(Hashed::new(new_file::aside(room.path())?))
    }

    /// Gives all files their names, or none; notes what was written, so that a change by hand is
    /// seen the next time.
    pub(super) fn finish(mut self, manner: Manner) -> Result<Swept, Failure> {
        let before = Manifest::read(&self.path).or_else(|failure| {
            if manner.force {
                Ok(Manifest::default())
            } else {
                Err(failure)
            }
        })?;
        let changed = self.changed_by_hand(&before)?;
        if !changed.is_empty() && !manner.force {
            return Err(refusal(&self.path, &changed));
        }
        let mut after = Manifest::default();
        for aside in &self.waiting().files {
            after.insert(&aside.name, aside.digest);
        }
        let (swept, gone) = self.sweep(&before, &mut after, manner.whole)?;
        let mut waiting = std::mem::take(&mut self.waiting().files);
        // They were put down as they came, several at a time.
        waiting.sort_by(|a, b| a.name.cmp(&b.name));
        // While files change places, both what was and what will be are ours.
        self.put(MANIFEST, before.with(&after).text().as_bytes())?;
        let both = self.waiting().files.pop();
        self.put(MANIFEST, after.text().as_bytes())?;
        let last = self.waiting().files.pop();
        let mut changes: Vec<Change> = Vec::new();
        changes.extend(both.map(|it| Change::to(it.name, it.path)));
        changes.extend(waiting.into_iter().map(|it| Change::to(it.name, it.path)));
        changes.extend(gone.into_iter().map(Change::removal));
        changes.extend(last.map(|it| Change::to(it.name, it.path)));
        self.make(changes)?;
        Ok(swept)
    }

    /// Makes changes, all or none.
    fn make(&mut self, changes: Vec<Change>) -> Result<(), Failure> {
        if let Some(room) = &self.waiting().room {
            let made = place::make(&self.path, room, changes);
            made.map_err(|trouble| failed(&trouble))?;
        }
        self.made_here = false;
        Ok(())
    }

    /// Files that are in the way of other contents and are not as an earlier writing left them.
    fn changed_by_hand(&self, before: &Manifest) -> Result<Vec<String>, Failure> {
        let mut changed = Vec::new();
        for aside in &self.waiting().files {
            let found = self.digest_of(&aside.name)?;
            let ours = |found: &Digest| *found == aside.digest || before.has(&aside.name, *found);
            if found.is_some_and(|found| !ours(&found)) {
                changed.push(aside.name.clone());
            }
        }
        Ok(changed)
    }

    /// What of an earlier writing is stale. What stays ours is noted in `after`.
    fn sweep(
        &self,
        before: &Manifest,
        after: &mut Manifest,
        whole: bool,
    ) -> Result<(Swept, Vec<String>), Failure> {
        let mut swept = Swept::default();
        for (name, digests) in before.others(after) {
            if !whole {
                for digest in digests {
                    after.insert(&name, digest);
                }
                continue;
            }
            match self.digest_of(&name)? {
                Some(found) if before.has(&name, found) => swept.removed.push(name),
                Some(_) => swept.kept.push(name),
                None => {}
            }
        }
        let gone = swept.removed.clone();
        Ok((swept, gone))
    }

    /// Of the file of that name as it stands; `None` when there is none.
    fn digest_of(&self, name: &str) -> Result<Option<Digest>, Failure> {
        let path = self.path.join(name);
        match Digest::of_file(&path) {
            Ok(digest) => Ok(Some(digest)),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) => Err(failed(&(path, error))),
        }
    }
}

impl Shelf for Folder {
    type Error = Failure;

    /// Writes a file aside.
    fn take(
        &self,
        name: &str,
        write: &mut dyn FnMut(&mut dyn Write) -> Result<(), ReportError>,
    ) -> Result<(), Failure> {
        let path = self.path.join(name);
        let failed = |error| failed(&(path.clone(), error));
        if path.is_dir() {
            return Err(failed(ErrorKind::IsADirectory.into()));
        }
        let mut out = self.empty().map_err(failed)?;
        if let Err(error) = write(&mut out) {
            return Err(out.trouble().map_or_else(|| error.into(), failed));
        }
        let (path, digest) = out.finish().map_err(failed)?;
        self.waiting().files.push(Aside {
            name: name.to_owned(),
            path,
            digest,
        });
        Ok(())
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let mut waiting = std::mem::take(&mut *self.waiting());
        waiting.files.clear();
        drop(waiting.room);
        if self.made_here {
            // Only succeeds when nothing is in it.
            let _ = std::fs::remove_dir(&self.path);
        }
    }
}

/// Writes one file that the user named, over one that is there.
pub(super) fn replace(folder: &Path, name: &str, bytes: &[u8]) -> Result<(), Failure> {
    let mut into = Folder::open(folder)?;
    into.put(name, bytes)?;
    let waiting = std::mem::take(&mut into.waiting().files);
    let changes = waiting.into_iter().map(|it| Change::to(it.name, it.path));
    into.make(changes.collect())
}

fn failed((path, error): &Trouble) -> Failure {
    Failure::saying(format!(
        "can't write {}: {error}; no document was changed",
        path.display()
    ))
}

fn refusal(folder: &Path, changed: &[String]) -> Failure {
    let named = changed.iter().take(MOST_NAMED);
    let named: Vec<String> = named
        .map(|name| folder.join(name).display().to_string())
        .collect();
    let more = match changed.len().saturating_sub(MOST_NAMED) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    Failure::saying(format!(
        "not as this program wrote it, so changed by hand or from elsewhere: {}{more}; no document \
         was changed: move it away, write to another folder (--out), or overwrite it (--force)",
        named.join(", ")
    ))
}

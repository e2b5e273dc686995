//! The hidden folder in which files wait until all of them can take their places. It goes with the
//! program that made it; one that was left by a program that was killed goes with the next.

use std::fs::{File, TryLockError};
use std::io::Result;
use std::path::{Path, PathBuf};

/// How its name begins.
const PREFIX: &str = ".feedpoint-";
/// A file in it that is locked for as long as its program runs.
const LOCK: &str = "lock";

/// A folder to wait in.
pub(super) struct Room {
    path: PathBuf,
    lock: Option<File>,
}

impl Room {
    /// Makes one in a folder, and removes what a killed program left there.
    pub(super) fn make(folder: &Path) -> Result<Room> {
        sweep(folder);
        let made = tempfile::Builder::new().prefix(PREFIX).tempdir_in(folder)?;
        let file = File::create_new(made.path().join(LOCK))?;
        match file.try_lock() {
            Err(TryLockError::Error(error)) => return Err(error),
            // Nobody else knows of the file yet.
            Err(TryLockError::WouldBlock) | Ok(()) => {}
        }
        Ok(Room {
            path: made.keep(),
            lock: Some(file),
        })
    }

    /// Where it is.
    pub(super) fn path(&self) -> &Path {
        &self.path
    }
}

impl Drop for Room {
    /// A file that could not be put back stays, and so does the folder: better under an odd name
    /// than gone.
    fn drop(&mut self) {
        self.lock.take();
        let _ = std::fs::remove_file(self.path.join(LOCK));
        let _ = std::fs::remove_dir(&self.path);
    }
}

/// Removes the rooms whose program runs no more. What can't be removed is in nobody's way.
fn sweep(folder: &Path) {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let ours = entry.file_name().to_string_lossy().starts_with(PREFIX);
        if ours && is_left(&entry.path()) {
            let _ = std::fs::remove_dir_all(entry.path());
        }
    }
}

/// Whether a room has a lock that nobody holds.
fn is_left(room: &Path) -> bool {
    let lock = File::options().write(true).open(room.join(LOCK));
    lock.is_ok_and(|lock| lock.try_lock().is_ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rooms(folder: &Path) -> usize {
        std::fs::read_dir(folder).unwrap().count()
    }

    #[test]
    fn it_goes_with_what_made_it() {
        let scratch = tempfile::tempdir().unwrap();
        let room = Room::make(scratch.path()).unwrap();
        let file = tempfile::NamedTempFile::new_in(room.path()).unwrap();
        drop(file);
        drop(room);
        assert_eq!(rooms(scratch.path()), 0);
    }

    #[test]
    fn one_left_by_a_killed_program_goes_and_one_in_use_stays() {
        let scratch = tempfile::tempdir().unwrap();
        let left = scratch.path().join(".feedpoint-left");
        std::fs::create_dir(&left).unwrap();
        std::fs::write(left.join(LOCK), "").unwrap();
        std::fs::write(left.join("waiting"), "a document").unwrap();
        let used = Room::make(scratch.path()).unwrap();
        assert!(!left.exists());
        let other = Room::make(scratch.path()).unwrap();
        assert!(used.path().exists() && other.path().exists());
    }

    #[test]
    fn what_could_not_be_put_back_stays() {
        let scratch = tempfile::tempdir().unwrap();
        let room = Room::make(scratch.path()).unwrap();
        let kept = room.path().join("kept");
        std::fs::write(&kept, "as it was").unwrap();
        drop(room);
        drop(Room::make(scratch.path()).unwrap());
        assert!(kept.exists());
    }
}

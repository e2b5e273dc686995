//! Writing one file that appears whole or not at all, and is not overwritten unasked.

use super::Failure;
use std::io::{ErrorKind, Write};
use std::path::Path;
use tempfile::{Builder, NamedTempFile};

/// Writes the text to a file at `path`; over one that is there only by `force`.
///
/// # Errors
/// When a file is there and was not to be overwritten, or the folder can't be written.
pub(super) fn write(path: &Path, text: &str, force: bool) -> Result<(), Failure> {
    let folder = match path.parent() {
        Some(folder) if folder != Path::new("") => folder,
        _ => Path::new("."),
    };
    if path.is_dir() {
        let message = format!("{} is a folder: give the name of a file", path.display());
        return Err(Failure::saying(message));
    }
    let file = prepared(folder, text)?;
    let kept = if force {
        file.persist(path)
    } else {
        file.persist_noclobber(path)
    };
    match kept {
        Ok(_) => Ok(()),
        Err(error) if error.error.kind() == ErrorKind::AlreadyExists => {
            Err(Failure::saying(format!(
                "{} is there already, and nothing was written: give another name, or --force",
                path.display()
            )))
        }
        Err(error) => Err(cannot("write", path, &error.error)),
    }
}

/// The text in a file beside its place, complete before it gets its name.
pub(super) fn prepared(folder: &Path, text: &str) -> Result<NamedTempFile, Failure> {
    let written = aside(folder).and_then(|mut file| {
        file.write_all(text.as_bytes())?;
        file.as_file().sync_all()?;
        Ok(file)
    });
    written.map_err(|error| cannot("write into", folder, &error))
}

/// An empty file under another name, which goes again unless it gets its own.
pub(super) fn aside(folder: &Path) -> std::io::Result<NamedTempFile> {
    let mut builder = Builder::new();
    builder.prefix(".feedpoint-");
    readable_by_all(&mut builder);
    builder.tempfile_in(folder)
}

/// Gives the file the mode of any other new file; one made to be temporary is for its owner alone.
#[cfg(unix)]
fn readable_by_all(builder: &mut Builder<'_, '_>) {
    use std::os::unix::fs::PermissionsExt;
    builder.permissions(std::fs::Permissions::from_mode(0o666));
}

#[cfg(not(unix))]
fn readable_by_all(_: &mut Builder<'_, '_>) {}

pub(super) fn cannot(what: &str, path: &Path, error: &std::io::Error) -> Failure {
    Failure::saying(format!("can't {what} {}: {error}", path.display()))
}

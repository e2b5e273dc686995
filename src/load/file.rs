//! A file's bytes → text, or one clear message why not.

use crate::diagnostic::{Diagnostic, Source};
use std::io::Read;
use std::path::Path;
use std::sync::Arc;

/// Largest file read, in bytes.
pub const LARGEST: usize = 16 * 1024 * 1024;

/// The name under which standard input is spoken of.
pub const STANDARD_INPUT: &str = "<standard input>";

/// The name of a path as it is spoken of.
#[must_use]
pub fn spoken(path: &str) -> &str {
    if path == "-" { STANDARD_INPUT } else { path }
}

/// Reads a file's bytes, whatever they are. `name` is how it is spoken of.
///
/// # Errors
/// When it can't be read or is too large.
pub fn bytes(path: &Path, name: &str) -> Result<Vec<u8>, Diagnostic> {
    if path.is_dir() {
        let message = format!("{name} is a folder, not a file");
        return Err(Diagnostic::error("not-a-file", message));
    }
    let file = std::fs::File::open(path).map_err(|error| unreadable(name, &error))?;
    bytes_from(file, name)
}

/// Reads the bytes of standard input, whatever they are.
///
/// # Errors
/// When it can't be read or is too large.
pub fn bytes_of_standard_input() -> Result<Vec<u8>, Diagnostic> {
    bytes_from(std::io::stdin().lock(), STANDARD_INPUT)
}

/// Reads a file. `name` is how it is spoken of.
///
/// # Errors
/// When it can't be read, is too large or is not UTF-8.
pub fn read(path: &Path, name: &str) -> Result<Arc<Source>, Diagnostic> {
    text(bytes(path, name)?, name)
}

/// Reads standard input.
///
/// # Errors
/// When it can't be read, is too large or is not UTF-8.
pub fn standard_input() -> Result<Arc<Source>, Diagnostic> {
    text(bytes_of_standard_input()?, STANDARD_INPUT)
}

fn bytes_from(reader: impl Read, name: &str) -> Result<Vec<u8>, Diagnostic> {
    let mut bytes = Vec::new();
    let most = u64::try_from(LARGEST).unwrap_or(u64::MAX) + 1;
    let read = reader.take(most).read_to_end(&mut bytes);
    read.map_err(|error| unreadable(name, &error))?;
    if bytes.len() > LARGEST {
        return Err(too_large(name));
    }
    Ok(bytes)
}

fn too_large(name: &str) -> Diagnostic {
    let mebibytes = LARGEST / 1024 / 1024;
    Diagnostic::error(
        "too-large",
        format!("{name} is larger than {mebibytes} MiB"),
    )
}

/// Text from bytes: not too many, UTF-8, a byte order mark taken off.
///
/// # Errors
/// When there are too many or they are not UTF-8.
pub fn text(bytes: Vec<u8>, name: &str) -> Result<Arc<Source>, Diagnostic> {
    if bytes.len() > LARGEST {
        return Err(too_large(name));
    }
    let text = String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let before = error.as_bytes().get(..at).unwrap_or_default();
        let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
        let message =
            format!("{name} is not UTF-8 text: byte {at}, in line {line}, does not belong");
        Diagnostic::error("not-utf-8", message).help("save the file as UTF-8")
    })?;
    let text = match text.strip_prefix('\u{feff}') {
        Some(rest) => rest.to_owned(),
        None => text,
    };
    Ok(Arc::new(Source::new(name, text)))
}

fn unreadable(name: &str, error: &std::io::Error) -> Diagnostic {
    use std::io::ErrorKind;
    match error.kind() {
        ErrorKind::NotFound => Diagnostic::error("no-file", format!("there is no file {name}")),
        ErrorKind::PermissionDenied => Diagnostic::error(
            "unreadable",
            format!("{name} may not be read (permission denied)"),
        ),
        _ => Diagnostic::error("unreadable", format!("{name} can't be read: {error}")),
    }
}

//! A file's bytes → text, or one clear message why not.

use crate::diagnostic::{Diagnostic, Source};
use std::io::Read;
use std::path::Path;
use std::sync::Arc;

/// Largest file read, in bytes.
pub const LARGEST: usize = 16 * 1024 * 1024;

/// The name under which standard input is spoken of.
pub const STANDARD_INPUT: &str = "<standard input>";

/// Reads a file. `name` is how it is spoken of.
///
/// # Errors
/// When it can't be read, is too large or is not UTF-8.
pub fn read(path: &Path, name: &str) -> Result<Arc<Source>, Diagnostic> {
    if path.is_dir() {
        let message = format!("{name} is a folder, not a file");
        return Err(Diagnostic::error("not-a-file", message));
    }
    let file = std::fs::File::open(path).map_err(|error| unreadable(name, &error))?;
    from_reader(file, name)
}

/// Reads standard input.
///
/// # Errors
/// When it can't be read, is too large or is not UTF-8.
pub fn standard_input() -> Result<Arc<Source>, Diagnostic> {
    from_reader(std::io::stdin().lock(), STANDARD_INPUT)
}

fn from_reader(reader: impl Read, name: &str) -> Result<Arc<Source>, Diagnostic> {
    let mut bytes = Vec::new();
    let most = u64::try_from(LARGEST).unwrap_or(u64::MAX) + 1;
    let read = reader.take(most).read_to_end(&mut bytes);
    read.map_err(|error| unreadable(name, &error))?;
    text(bytes, name)
}

/// Text from bytes: not too many, UTF-8, a byte order mark taken off.
///
/// # Errors
/// When there are too many or they are not UTF-8.
pub fn text(bytes: Vec<u8>, name: &str) -> Result<Arc<Source>, Diagnostic> {
    if bytes.len() > LARGEST {
        let mebibytes = LARGEST / 1024 / 1024;
        let message = format!("{name} is larger than {mebibytes} MiB");
        return Err(Diagnostic::error("too-large", message));
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

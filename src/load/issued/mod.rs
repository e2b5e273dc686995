//! The issued record of a project: the newest of the files named `issued-<revision>.yaml` beside it.

mod blocks;
mod guard;
mod record;

pub use guard::{digest, guarded};

use super::desk::Desk;
use super::{file, format, structs};
use crate::diagnostic::{Diagnostic, Diagnostics, Source};
use crate::model::issued::Record;
use crate::model::project::Project;
use blocks::RecordFile;
use guard::Broken;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What records' file names begin with.
const PREFIX: &str = "issued-";
/// What they end with.
const SUFFIX: &str = ".yaml";

/// What to do about a record that was changed.
const HELP: &str = "restore the file as it was issued; or take it away and issue the project again, \
     if nothing was built from it";

/// A record with the file it stands in.
#[derive(Debug, Clone)]
pub struct Found {
    /// Where it stands.
    pub path: PathBuf,
    /// What it holds.
    pub record: Arc<Record>,
}

/// The file name of a revision's record; `None` when the revision has characters that a file name
/// can't have on every system.
#[must_use]
pub fn file_name(revision: &str) -> Option<String> {
    let fits = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_' || c == '.';
    let plain = !revision.is_empty() && revision.len() <= 40 && revision.chars().all(fits);
    plain.then(|| format!("{PREFIX}{revision}{SUFFIX}"))
}

/// Every record in a folder, oldest first, with what is wrong with those that can't be used.
#[must_use]
pub fn all(folder: &Path) -> (Vec<Found>, Diagnostics) {
    let mut complaints = Diagnostics::default();
    let mut found = Vec::new();
    for path in files(folder, &mut complaints) {
        match read(&path) {
            Ok(record) => found.push(Found {
                path,
                record: Arc::new(record),
            }),
            Err(wrong) => complaints.append(wrong),
        }
    }
    found.sort_by(|a, b| {
        let number = a.record.number.cmp(&b.record.number);
        number.then_with(|| a.path.cmp(&b.path))
    });
    (found, complaints)
}

fn files(folder: &Path, complaints: &mut Diagnostics) -> Vec<PathBuf> {
    let here = if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    };
    let entries = match std::fs::read_dir(here) {
        Ok(entries) => entries,
        Err(error) => {
            let message = format!(
                "{} can't be searched for issued records: {error}",
                here.display()
            );
            complaints.push(Diagnostic::error("unreadable", message));
            return Vec::new();
        }
    };
    let mut files: Vec<PathBuf> = entries
        .filter_map(Result::ok)
        .filter(|entry| {
            let name = entry.file_name();
            let name = name.to_string_lossy();
            name.starts_with(PREFIX) && name.ends_with(SUFFIX)
        })
        .map(|entry| folder.join(entry.file_name()))
        .collect();
    files.sort();
    files
}

/// Reads one record.
///
/// # Errors
/// Everything that is wrong with it, each with its place.
pub fn read(path: &Path) -> Result<Record, Diagnostics> {
    let source = file::read(path, &path.to_string_lossy())?;
    let mut desk = Desk::new(Arc::clone(&source));
    if !is_newer(&source)
        && let Err(broken) = guard::hold(source.text())
    {
        return Err(changed(&source, broken).into());
    }
    let raw: Option<RecordFile> = structs(&mut desk);
    let record = raw.and_then(|raw| record::read(&raw, &mut desk));
    match record {
        Some(record) if !desk.complaints.has_errors() => Ok(record),
        _ => Err(desk.complaints),
    }
}

/// Whether a file is an issued record: one of its keys at the margin is `issued`.
#[must_use]
pub fn is_record(path: &Path) -> bool {
    let read = file::read(path, &path.to_string_lossy());
    read.is_ok_and(|source| {
        source
            .text()
            .lines()
            .any(|line| line.starts_with("issued:"))
    })
}

/// Whether a record says that a newer program wrote it, which may guard it in another way.
fn is_newer(source: &Source) -> bool {
    let line = source
        .text()
        .lines()
        .find_map(|l| l.strip_prefix("format:"));
    let number = line.and_then(|text| text.trim().parse::<u32>().ok());
    number.is_some_and(|number| number > format::FORMAT)
}

fn changed(source: &Arc<Source>, broken: Broken) -> Diagnostic {
    let (message, line) = match broken {
        Broken::Line(line) => ("this line of the record is not as it was issued", line),
        Broken::Cut(line) => (
            "what stood after this line of the record when it was issued is missing",
            line,
        ),
        Broken::Guard(line) => ("the record's guard is not as it was issued", line),
    };
    let start = source.offset(line.max(1), 1);
    let end = start + source.line(start).2.len();
    Diagnostic::error("record-changed", message)
        .at(source, start..end)
        .help(HELP)
}

/// Whether a record is one of this project: by reference where both have one, else by title.
#[must_use]
pub fn is_of(record: &Record, project: &Project) -> bool {
    let heading = &project.heading;
    match (&record.reference, &heading.reference) {
        (Some(one), Some(other)) => one == other,
        _ => record.title == heading.title,
    }
}

/// The newest record of a project in a folder. The diagnostics are warnings: records of other
/// projects.
///
/// # Errors
/// Every record that can't be used, and two that are both the newest.
pub fn newest(
    folder: &Path,
    project: &Project,
) -> Result<(Option<Found>, Diagnostics), Diagnostics> {
    let (found, complaints) = all(folder);
    if complaints.has_errors() {
        return Err(complaints);
    }
    let mut warnings = Diagnostics::default();
    let mut own: Vec<Found> = Vec::new();
    for one in found {
        if is_of(&one.record, project) {
            own.push(one);
        } else {
            warnings.push(Diagnostic::warning(
                "other-record",
                format!(
                    "{} is the record of `{}`, {}: it is left aside",
                    one.path.display(),
                    one.record.title,
                    one.record.called()
                ),
            ));
        }
    }
    if let [.., before, last] = own.as_slice()
        && before.record.number == last.record.number
    {
        let message = format!(
            "{} and {} are both issue {} of this project: keep the one that was built from",
            before.path.display(),
            last.path.display(),
            last.record.number
        );
        return Err(Diagnostic::error("two-records", message).into());
    }
    Ok((own.pop(), warnings))
}

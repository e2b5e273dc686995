//! `feedpoint report`: every document, in a folder.

use super::input::Input;
use super::{Failure, Outcome, Output};
use crate::judge::Counts;
use crate::pipeline;
use crate::present::counts::sentence;
use crate::present::document::DOCUMENTS;
use crate::present::report::{self, File};
use clap::builder::PossibleValuesParser;
use std::io::Write;
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// What to write, and where.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
report.pdf holds the documents that go to site and to the customer; costs.pdf those that show
costs and margins. Every table is also a CSV file, every run a drawing (SVG); report.json holds
all results.
Exit status: 0 no fault; 1 a rule of severity fault is broken; 2 the input can't be used or the
files can't be written.

Examples:
  feedpoint report project.yaml
  feedpoint report project.yaml --only loop-schedule,circuit-schedule --out site")]
pub struct Args {
    #[command(flatten)]
    input: Input,
    /// The folder to write to, made when it is not there [default: reports, beside the project]
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Only these documents, with commas between them
    #[arg(
        long,
        value_name = "NAME,…",
        value_delimiter = ',',
        value_parser = PossibleValuesParser::new(DOCUMENTS.iter().map(|listed| listed.name)),
    )]
    only: Vec<String>,
}

/// Makes the documents and writes them, all or none.
///
/// # Errors
/// When the project can't be used, or a file can't be made or written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let mut job = args.input.job(out)?;
    pipeline::price_alternatives(&mut job);
    let files = report::files(&job, &args.only).map_err(Failure::saying)?;
    let folder = args
        .out
        .clone()
        .unwrap_or_else(|| beside(&args.input.project));
    write_all(&folder, &files)?;
    for file in &files {
        out.result(&format!("{}\n", folder.join(&file.name).display()))?;
    }
    out.result(&format!("{}\n", sentence(Counts::of(&job.verdicts))))?;
    Ok(Outcome::by_faults(&job))
}

/// `reports` in the project's folder; in the current one for standard input.
fn beside(project: &str) -> PathBuf {
    let folder = Path::new(project).parent().unwrap_or(Path::new(""));
    folder.join("reports")
}

/// Writes all files under other names first, and gives them theirs only when every one is whole.
pub(super) fn write_all(folder: &Path, files: &[File]) -> Result<(), Failure> {
    let made_here = !folder.exists();
    let written = std::fs::create_dir_all(folder)
        .map_err(|error| (folder.to_path_buf(), error))
        .and_then(|()| write_aside(folder, files))
        .and_then(|aside| put_in_place(folder, files, aside));
    written.map_err(|(path, error)| {
        if made_here {
            // Only succeeds when nothing is in it.
            let _ = std::fs::remove_dir(folder);
        }
        Failure::saying(format!(
            "can't write {}: {error}; no document was changed",
            path.display()
        ))
    })
}

type Trouble = (PathBuf, std::io::Error);

fn write_aside(folder: &Path, files: &[File]) -> Result<Vec<NamedTempFile>, Trouble> {
    files
        .iter()
        .map(|file| {
            let path = folder.join(&file.name);
            if path.is_dir() {
                return Err((path, std::io::ErrorKind::IsADirectory.into()));
            }
            let mut aside = readable(&mut tempfile::Builder::new())
                .prefix(".feedpoint-")
                .tempfile_in(folder)
                .map_err(|error| (folder.to_path_buf(), error))?;
            aside
                .write_all(&file.bytes)
                .and_then(|()| aside.flush())
                .map_err(|error| (path, error))?;
            Ok(aside)
        })
        .collect()
}

/// Files get the permissions that any new file has, not those of a private scratch file.
fn readable<'a, 'b, 'c>(
    builder: &'c mut tempfile::Builder<'a, 'b>,
) -> &'c mut tempfile::Builder<'a, 'b> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(std::fs::Permissions::from_mode(0o666))
    }
    #[cfg(not(unix))]
    builder
}

fn put_in_place(folder: &Path, files: &[File], aside: Vec<NamedTempFile>) -> Result<(), Trouble> {
    for (file, aside) in files.iter().zip(aside) {
        let path = folder.join(&file.name);
        if let Err(error) = aside.persist(&path) {
            return Err((path, error.error));
        }
    }
    Ok(())
}

//! `feedpoint compare`: two projects against each other, by price line, place and figure.

use super::folder::{Folder, Manner};
use super::input::Input;
use super::results::Printing;
use super::{Failure, Outcome, Output};
use crate::load::issued::{is_of, is_record, read};
use crate::pipeline;
use crate::present::comparison::Comparison;
use crate::present::document::comparison::document;
use crate::present::job::Job;
use crate::present::json::Issue;
use crate::present::{json, report};
use std::path::{Path, PathBuf};

/// What to compare.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Against an issued record of the project: what was moved, added and removed since, and its price. \
Lines that did not change are counted, not listed. Drivers are recognised by what hangs on them.
Exit status: 0 no fault in NEW; 1 a rule of severity fault is broken in it; 2 the input can't be \
used.

Examples:
  feedpoint compare project-a.yaml project-b.yaml
  feedpoint compare project-a.yaml project-b.yaml --out change-1
  feedpoint compare issued-A.yaml project.yaml")]
pub struct Args {
    /// The project file as it was, - to read it from standard input, or an issued record
    #[arg(value_name = "OLD")]
    old: String,
    /// The project file as it is now; - reads it from standard input
    #[arg(value_name = "NEW")]
    new: String,
    #[command(flatten)]
    printing: Printing,
    /// Also write the comparison as PDF, spreadsheet, web page, CSV and JSON to this folder, made when it is not there
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Overwrite files there that were changed by hand
    #[arg(long, requires = "out")]
    force: bool,
}

/// Compares the projects and prints what differs.
///
/// # Errors
/// When a project can't be used, the two can't be compared, or something can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    if is_record(Path::new(&args.new)) {
        let message = format!(
            "{} is an issued record: a record can be OLD; NEW is a project file",
            args.new
        );
        return Err(Failure::saying(message));
    }
    if is_record(Path::new(&args.old)) {
        return since(args, out);
    }
    if args.old == "-" && args.new == "-" {
        let message = "only one of the two projects can come from standard input: name a file for \
                       the other";
        return Err(Failure::saying(message));
    }
    let old = Input::of(&args.old).job(out)?;
    let new = Input::of(&args.new).job(out)?;
    let comparison = Comparison::of(&old, &new).map_err(Failure::saying)?;
    let document = document(&comparison);
    let object = json::Comparison::of(&comparison);
    if let Some(folder) = &args.out {
        write(folder, args.force, out, |kept| {
            report::alone(&new, &document, &object, kept)
        })?;
    }
    args.printing.print_documents(out, &[document], || object)?;
    Ok(Outcome::by_faults(&new))
}

/// What is not as it was issued, and the price of that.
fn since(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let was = read(Path::new(&args.old))
        .map_err(|complaints| Failure::shown(vec![complaints.to_string()]))?;
    let mut job = Input::of(&args.new).job(out)?;
    if !is_of(&was, &job.project) {
        return Err(Failure::saying(format!(
            "{} is the record of `{}`, {}, not of `{}`",
            args.old,
            was.title,
            was.called(),
            job.project.heading.title
        )));
    }
    pipeline::since(&mut job, was);
    if let Some(folder) = &args.out {
        write(folder, args.force, out, |kept| {
            report::each(&job, &CHANGES.map(str::to_owned), &|_| {}, kept)
        })?;
    }
    let object = |job: &Job| Issue::of(job, &args.old, false);
    args.printing.print(out, &job, &CHANGES, object)?;
    Ok(Outcome::by_faults(&job))
}

/// The documents that say what is not as it was issued.
const CHANGES: [&str; 2] = ["changes", "change-prices"];

/// Writes what `made` puts into a folder, and says which files.
fn write(
    folder: &Path,
    force: bool,
    out: &mut Output,
    made: impl FnOnce(&Folder) -> Result<Vec<String>, Failure>,
) -> Result<(), Failure> {
    let kept = Folder::open(folder)?;
    let names = made(&kept)?;
    let whole = false;
    kept.finish(Manner { whole, force })?;
    for name in names {
        out.message(&format!("{}", folder.join(name).display()));
    }
    Ok(())
}

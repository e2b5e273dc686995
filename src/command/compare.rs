//! `feedpoint compare`: two projects against each other, by price line, place and figure.

use super::folder::{Folder, Manner};
use super::input::Input;
use super::results::Printing;
use super::{Failure, Outcome, Output};
use crate::present::comparison::Comparison;
use crate::present::document::comparison::document;
use crate::present::{json, report};
use std::path::PathBuf;

/// What to compare.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Lines that did not change are counted, not listed. Drivers are recognised by what hangs on them.
Exit status: 0 no fault in NEW; 1 a rule of severity fault is broken in it; 2 the input can't be
used.

Examples:
  feedpoint compare project-a.yaml project-b.yaml
  feedpoint compare project-a.yaml project-b.yaml --out change-1")]
pub struct Args {
    /// The project file as it was; - reads it from standard input
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
        let files = report::document_files(&new, &document, &object).map_err(Failure::saying)?;
        let mut kept = Folder::open(folder)?;
        for file in &files {
            kept.put(&file.name, &file.bytes)?;
        }
        kept.finish(Manner {
            whole: false,
            force: args.force,
        })?;
        for file in &files {
            out.message(&format!("{}", folder.join(&file.name).display()));
        }
    }
    args.printing.print_documents(out, &[document], || object)?;
    Ok(Outcome::by_faults(&new))
}

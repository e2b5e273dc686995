//! `feedpoint report`: every document, in a folder.

use super::folder::{Folder, Manner, Swept};
use super::input::Input;
use super::{Failure, Outcome, Output};
use crate::judge::Counts;
use crate::pipeline;
use crate::present::counts::{counted, sentence};
use crate::present::document::{DOCUMENTS, headline};
use crate::present::job::Job;
use crate::present::report::{self, ReportError, Step};
use clap::builder::PossibleValuesParser;
use std::panic::resume_unwind;
use std::path::{Path, PathBuf};
use std::sync::mpsc;
use std::thread;

/// What to write, and where.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
report.pdf holds the documents that go to site and to the customer; costs.pdf those that show \
costs and margins. Both are also workbooks (XLSX) and single web pages (HTML) to read on a phone. \
Every table is also a CSV file; every run, control loop and cupboard is a drawing (SVG); \
report.json holds all results. With --only each document named has a PDF, a workbook and a web page of its own. \
All files are written or none. What was written is noted in report.sha256: a file that someone has \
changed since is not overwritten without --force, and files of an earlier report that are no longer \
part of it are removed unless someone has changed them.
Exit status: 0 no fault; 1 a rule of severity fault is broken; 2 the input can't be used or the \
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
    /// Overwrite files that were changed by hand
    #[arg(long)]
    force: bool,
}

/// Makes the documents and writes them, all or none.
///
/// # Errors
/// When the project can't be used, or a file can't be made or written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let mut job = args.input.job(out)?;
    out.progress("pricing what may be had instead");
    pipeline::price_alternatives(&mut job);
    let path = args
        .out
        .clone()
        .unwrap_or_else(|| beside(&args.input.project));
    let folder = Folder::open(&path)?;
    out.progress("putting the documents together");
    let (tell, told) = mpsc::channel();
    let written = thread::scope(|scope| {
        let (job, folder) = (&job, &folder);
        let made = scope.spawn(move || {
            let tell = |step: Step<'_>| {
                // Nobody to hear of it: then it is not told.
                let _ = tell.send(far(step));
            };
            report::each(job, &args.only, &tell, folder)
        });
        for far in told {
            out.progress(&far);
        }
        made.join()
    });
    let written = written.unwrap_or_else(|panic| resume_unwind(panic))?;
    out.clear_progress();
    let swept = folder.finish(Manner {
        whole: args.only.is_empty(),
        force: args.force,
    })?;
    for name in written {
        out.result(&format!("{}\n", path.join(name).display()))?;
    }
    say_swept(&path, &swept, out);
    if args.only.is_empty() {
        out.message(&things(&job));
        for line in headline(&job) {
            out.message(&line);
        }
        out.message(&format!("Begin with {}.", path.join(FIRST).display()));
    }
    out.result(&format!("{}\n", sentence(Counts::of(&job.verdicts))))?;
    Ok(Outcome::by_faults(&job))
}

/// What a whole report is read from: everything on sheets, with the cautions on each.
const FIRST: &str = "report.pdf";

/// What there is of what is sized: `27 runs, 15 drivers, 3 control loops, 4 mains circuits.`
fn things(job: &Job) -> String {
    let counts = [
        counted(job.sizing.runs.len(), "run"),
        counted(job.sizing.drivers.len(), "driver"),
        counted(job.allocation.loops.len(), "control loop"),
        counted(job.allocation.circuits.len(), "mains circuit"),
    ];
    format!("{}.", counts.join(", "))
}

/// Marks in the bar that shows how far the writing is.
const BAR: usize = 20;

/// How far the writing is.
fn far(step: Step) -> String {
    let Step { number, of, what } = step;
    let done = (BAR * number).checked_div(of).unwrap_or(BAR).min(BAR);
    let (done, left) = ("#".repeat(done), ".".repeat(BAR - done));
    format!("writing {done}{left} {number} of {of}: {what}")
}

fn say_swept(path: &Path, swept: &Swept, out: &mut Output) {
    for name in &swept.removed {
        let path = path.join(name);
        out.message(&format!(
            "removed {}: no longer in the report",
            path.display()
        ));
    }
    for name in &swept.kept {
        let path = path.join(name);
        out.message(&format!(
            "kept {}: no longer in the report, but changed by hand",
            path.display()
        ));
    }
}

impl From<ReportError> for Failure {
    fn from(error: ReportError) -> Failure {
        Failure::saying(error)
    }
}

/// `reports` in the project's folder; in the current one for standard input.
fn beside(project: &str) -> PathBuf {
    let folder = Path::new(project).parent().unwrap_or(Path::new(""));
    folder.join("reports")
}

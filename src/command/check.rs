//! `feedpoint check`: what is broken, what can't be told, and the cautions; of a project, or of a
//! catalogue by itself.

mod catalogue;
mod changed;
mod watch;
mod watched;

use super::input::{Input, complaints};
use super::region;
use super::results::{Format, Printing};
use super::{Failure, Outcome, Output};
use crate::judge::Counts;
use crate::load;
use crate::load::alone::is_catalogue;
use crate::load::plain::Day;
use crate::load::written::Reads;
use crate::norms::region::Region;
use crate::present::job::Job;
use crate::present::json::Check;
use crate::present::{cautions, document, terminal};
use time::Date;

/// What to judge.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
A catalogue is told by its content and checked by itself: figures that can't be, prices that are \
missing or past --date, figures that are missing and what can't be told without them.
Exit status: 0 nothing broken; 1 a rule is broken, or with --strict can't be told; 2 the input \
can't be used.

Examples:
  feedpoint check project.yaml
  feedpoint check project.yaml --strict --format json
  feedpoint check project.yaml --watch
  feedpoint check trade.yaml --date 2026-11-20")]
pub struct Args {
    #[command(flatten)]
    input: Input,
    #[command(flatten)]
    printing: Printing,
    /// Count a rule that can't be told as broken
    #[arg(long)]
    strict: bool,
    /// Check again whenever the project or a file it uses is saved, and print what changed
    #[arg(long, conflicts_with = "format")]
    watch: bool,
    /// Of a catalogue: the day its prices must still hold
    #[arg(long, value_name = "DAY", value_parser = day)]
    date: Option<Date>,
    /// Of a catalogue: the region of the jobs it is for; as its cable sizes show when left out
    #[arg(long, value_name = "REGION", value_parser = region::parser())]
    region: Option<Region>,
}

fn day(text: &str) -> Result<Date, String> {
    Day::read(text).map_err(|unread| unread.message)
}

/// Judges the project or catalogue and prints what is open.
///
/// # Errors
/// When the file can't be used or standard output can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    if args.watch {
        return watch::run(args, out);
    }
    let source = load::opened(&args.input.project).map_err(|fault| complaints(fault.into()))?;
    if is_catalogue(&source) {
        if args.input.afresh {
            return Err(Failure::saying(
                "--afresh is for a project, not a catalogue",
            ));
        }
        return catalogue::run(args, source, out);
    }
    for (given, flag) in [
        (args.date.is_some(), "--date"),
        (args.region.is_some(), "--region"),
    ] {
        if given {
            let name = source.name();
            let message =
                format!("{flag} is for a catalogue; {name} is a project, which says its own");
            return Err(Failure::saying(message));
        }
    }
    let job = args.input.job_of(source, out)?;
    if args.printing.format == Format::Table {
        print_open(&job, out)?;
    } else {
        args.printing.print(out, &job, &["checks"], Check::of)?;
    }
    Ok(outcome(args, &job))
}

fn outcome(args: &Args, job: &Job) -> Outcome {
    let counts = Counts::of(&job.verdicts);
    if counts.broken() > 0 || args.strict && counts.cannot_tell > 0 {
        Outcome::Broken
    } else {
        Outcome::NothingBroken
    }
}

/// The counts first, then the worst, then what anyone who wires must heed.
fn print_open(job: &Job, out: &mut Output) -> Result<(), Failure> {
    if let Some(checks) = document::named("checks", job) {
        let open = checks.parts.first();
        let text = open.map(|part| terminal::part(&checks, part, out.look));
        out.result(&text.unwrap_or_default())?;
    }
    out.result("\n")?;
    out.result(&terminal::list(
        "Cautions",
        &cautions::of_open(job),
        out.look,
    ))
}

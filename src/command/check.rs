//! `feedpoint check`: what is broken, what can't be told, and the cautions.

use super::input::Input;
use super::results::{Format, Printing};
use super::{Failure, Outcome, Output};
use crate::judge::Counts;
use crate::present::job::Job;
use crate::present::json::Check;
use crate::present::{cautions, document, terminal};

/// What to judge.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Exit status: 0 nothing broken; 1 a rule is broken, or with --strict can't be told; 2 the input
can't be used.

Examples:
  feedpoint check project.yaml
  feedpoint check project.yaml --strict --format json")]
pub struct Args {
    #[command(flatten)]
    input: Input,
    #[command(flatten)]
    printing: Printing,
    /// Count a rule that can't be told as broken
    #[arg(long)]
    strict: bool,
}

/// Judges the project and prints what is open.
///
/// # Errors
/// When the project can't be used or standard output can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let job = args.input.job(out)?;
    if args.printing.format == Format::Table {
        print_open(&job, out)?;
    } else {
        args.printing.print(out, &job, &["checks"], Check::of)?;
    }
    let counts = Counts::of(&job.verdicts);
    if counts.broken() > 0 || args.strict && counts.cannot_tell > 0 {
        Ok(Outcome::Broken)
    } else {
        Ok(Outcome::NothingBroken)
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

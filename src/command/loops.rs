//! `feedpoint loops`: the loop and circuit schedules.

use super::input::Input;
use super::results::Printing;
use super::{Failure, Outcome, Output};
use crate::present::json::Loops;

/// What to put on loops.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Exit status: 0 no fault; 1 a rule of severity fault is broken; 2 the input can't be used.

Example:
  feedpoint loops project.yaml")]
pub struct Args {
    #[command(flatten)]
    input: Input,
    #[command(flatten)]
    printing: Printing,
}

/// Puts drivers on loops and circuits and prints the schedules.
///
/// # Errors
/// When the project can't be used or standard output can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let job = args.input.job(out)?;
    let names = ["loop-schedule", "circuit-schedule"];
    args.printing.print(out, &job, &names, Loops::of)?;
    Ok(Outcome::by_faults(&job))
}

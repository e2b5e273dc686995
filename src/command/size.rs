//! `feedpoint size`: the run, driver and cable schedules.

use super::input::Input;
use super::results::Printing;
use super::{Failure, Outcome, Output};
use crate::present::json::Size;

/// What to size.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Exit status: 0 no fault; 1 a rule of severity fault is broken; 2 the input can't be used.

Example:
  feedpoint size project.yaml")]
pub struct Args {
    #[command(flatten)]
    input: Input,
    #[command(flatten)]
    printing: Printing,
}

/// Sizes the project and prints the schedules.
///
/// # Errors
/// When the project can't be used or standard output can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let job = args.input.job(out)?;
    let names = ["run-schedule", "driver-schedule", "cable-schedule"];
    args.printing.print(out, &job, &names, Size::of)?;
    Ok(Outcome::by_faults(&job))
}

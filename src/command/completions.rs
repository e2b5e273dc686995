//! `feedpoint completions`: the script by which a shell completes commands and options.

use super::{Cli, Failure, Outcome, Output};
use clap::CommandFactory;
use clap_complete::{Shell, generate};

/// Which shell.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  feedpoint completions bash > ~/.local/share/bash-completion/completions/feedpoint")]
pub struct Args {
    /// The shell it is for
    #[arg(value_enum, value_name = "SHELL")]
    shell: Shell,
}

/// Prints the script.
///
/// # Errors
/// When standard output can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let mut script = Vec::new();
    generate(args.shell, &mut Cli::command(), "feedpoint", &mut script);
    out.result(&String::from_utf8_lossy(&script))?;
    Ok(Outcome::NothingBroken)
}

//! `feedpoint manual`: the manual page of the program, or of one of its commands.

use super::{Cli, Failure, Outcome, Output};
use clap::{Command, CommandFactory};
use clap_mangen::Man;

/// Which page.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  feedpoint manual > feedpoint.1
  feedpoint manual along > feedpoint-along.1")]
pub struct Args {
    /// The command that the page is about; the whole program when left out
    #[arg(value_name = "COMMAND")]
    command: Option<String>,
}

/// Prints the page, as `man` reads it.
///
/// # Errors
/// When there is no such command or standard output can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let mut program = Cli::command();
    program.build();
    let about = match &args.command {
        None => program,
        Some(name) => page_of(&program, name)?,
    };
    let mut page = Vec::new();
    Man::new(about)
        .render(&mut page)
        .map_err(|error| Failure::saying(format!("the page can't be written: {error}")))?;
    out.result(&String::from_utf8_lossy(&page))?;
    Ok(Outcome::NothingBroken)
}

/// The command with the name that its page goes by, `feedpoint-check`.
fn page_of(program: &Command, name: &str) -> Result<Command, Failure> {
    let Some(command) = program.find_subcommand(name) else {
        let known: Vec<&str> = program.get_subcommands().map(Command::get_name).collect();
        let known = known.join(", ");
        return Err(Failure::saying(format!(
            "no command `{name}`: it is one of {known}"
        )));
    };
    Ok(command.clone())
}

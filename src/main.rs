//! The `feedpoint` command: reads the command line, runs the command, turns its outcome into an
//! exit status.

use clap::Parser;
use feedpoint::command::{self, Cli, Failure, Output};
use std::io::{self, IsTerminal};
use std::process::ExitCode;

fn main() -> ExitCode {
    let cli = Cli::parse();
    let (mut results, mut messages) = (io::stdout(), io::stderr());
    let look = command::look_of_standard_output();
    let watched = messages.is_terminal();
    let mut out = Output::new(&mut results, &mut messages, look, cli.quiet).watched(watched);
    match command::run(&cli, &mut out) {
        Ok(outcome) => outcome.status(),
        Err(failure) => {
            out.failure(&failure);
            ExitCode::from(Failure::STATUS)
        }
    }
}

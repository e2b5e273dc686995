//! The commands: one file each, with its arguments and what it does with the pipeline's answer.
//!
//! Results go to standard output, messages to standard error. A new command is a file here, a
//! `pub mod`, a variant of [`Command`] and an arm of [`run`].

pub mod along;
mod catalogue_path;
pub mod check;
pub mod compare;
pub mod completions;
pub mod explain;
mod folder;
pub mod import;
pub mod init;
pub mod input;
pub mod issue;
pub mod loops;
pub mod manual;
mod new_file;
pub mod output;
pub mod quote;
pub mod readings;
mod region;
pub mod report;
pub mod results;
pub mod schema;
pub mod size;
pub mod strip;
pub mod tolerance;

pub use output::{Output, look_of_standard_output};
pub use results::Format;

use crate::judge::Counts;
use crate::load::format;
use crate::present::job::Job;
use crate::present::json;
use clap::{Parser, Subcommand};
use std::fmt::Display;
use std::process::ExitCode;
use std::sync::LazyLock;

/// The command line.
#[derive(Debug, Parser)]
#[command(
    name = "feedpoint",
    version = VERSION.as_str(),
    about = "Sizes LED strip lighting and prices it",
    after_help = CLOSING,
    disable_help_subcommand = true
)]
pub struct Cli {
    /// Print results only, no messages
    #[arg(long, short, global = true)]
    pub quiet: bool,
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// The program's version, with that of the files it reads and writes.
static VERSION: LazyLock<String> = LazyLock::new(|| {
    format!(
        "{} (files: format {}; output: format {})",
        env!("CARGO_PKG_VERSION"),
        format::FORMAT,
        json::FORMAT,
    )
});

const CLOSING: &str = "\
Exit status: 0 nothing broken; 1 a rule is broken; 2 the input can't be used.
A calculation aid: local wiring rules and the makers' instructions take precedence.

Example:
  feedpoint check project.yaml";

/// What the program can be asked to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write a small project and catalogue to begin from
    Init(init::Args),
    /// Read a take-off, CSV or workbook, into the runs of a project
    Import(Box<import::Args>),
    /// Judge a project by every rule, or a catalogue by itself: what is broken, what can't be told
    Check(check::Args),
    /// Size a project: where each run is fed, with which cable, from which driver
    Size(size::Args),
    /// Show volts, light and white along one run; try another arrangement of its feeds
    Along(Box<along::Args>),
    /// Put drivers on control loops and mains circuits
    Loops(loops::Args),
    /// Price a project: materials, labour, totals, assumptions, exclusions
    Quote(quote::Args),
    /// Compare two projects: what was added, removed and moved, and what that costs
    Compare(compare::Args),
    /// Write every document: PDF, spreadsheet, web page, SVG, CSV and JSON
    Report(report::Args),
    /// Freeze the present answer as the issued record of this revision
    Issue(issue::Args),
    /// Hold site readings against what was expected; where they differ, rank the causes
    Readings(readings::Args),
    /// Explain a rule in full, or list the rules
    Explain(explain::Args),
    /// Print the JSON Schema of a project, catalogue or readings file, or of what --format json prints
    Schema(schema::Args),
    /// Print the script by which a shell completes commands and options
    Completions(completions::Args),
    /// Print the manual page of the program or of one command
    Manual(manual::Args),
    /// One strip without a project: its light, the feeds it needs, how long it may be
    Strip(Box<strip::StripArgs>),
}

/// How a command that could do its work ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// No rule is broken, or the command judges none.
    NothingBroken,
    /// A rule is broken.
    Broken,
}

impl Outcome {
    /// The exit status that says so.
    #[must_use]
    pub fn status(self) -> ExitCode {
        match self {
            Outcome::NothingBroken => ExitCode::from(0),
            Outcome::Broken => ExitCode::from(1),
        }
    }

    /// Broken when any fault is: what a command says that shows results rather than checks.
    #[must_use]
    pub fn by_faults(job: &Job) -> Outcome {
        if Counts::of(&job.verdicts).broken_faults > 0 {
            Outcome::Broken
        } else {
            Outcome::NothingBroken
        }
    }
}

/// Why a command could not do its work: the input can't be used, or a file can't be read or
/// written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failure {
    /// What to tell, in order; each is shown on its own, as it stands.
    pub messages: Vec<String>,
}

impl Failure {
    /// Its exit status.
    pub const STATUS: u8 = 2;

    /// A failure with one message. The word `error` is put before it.
    #[must_use]
    pub fn saying(message: impl Display) -> Self {
        Failure {
            messages: vec![format!("error: {message}")],
        }
    }

    /// A failure with messages that are already laid out, such as complaints that show the line
    /// of the file.
    #[must_use]
    pub fn shown(messages: Vec<String>) -> Self {
        Failure { messages }
    }
}

/// Does what the command line asks.
///
/// # Errors
/// When the input can't be used, or a file can't be read or written.
pub fn run(cli: &Cli, out: &mut Output) -> Result<Outcome, Failure> {
    match &cli.command {
        Command::Init(args) => init::run(args, out),
        Command::Import(args) => import::run(args, out),
        Command::Check(args) => check::run(args, out),
        Command::Size(args) => size::run(args, out),
        Command::Along(args) => along::run(args, out),
        Command::Loops(args) => loops::run(args, out),
        Command::Quote(args) => quote::run(args, out),
        Command::Compare(args) => compare::run(args, out),
        Command::Report(args) => report::run(args, out),
        Command::Issue(args) => issue::run(args, out),
        Command::Readings(args) => readings::run(args, out),
        Command::Explain(args) => explain::run(args, out),
        Command::Schema(args) => schema::run(args, out),
        Command::Completions(args) => completions::run(args, out),
        Command::Manual(args) => manual::run(args, out),
        Command::Strip(args) => strip::run(args, out),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn every_command_ends_its_help_with_an_example() {
        let mut cli = Cli::command();
        cli.build();
        let mut seen = 0;
        for command in cli.get_subcommands_mut() {
            let name = command.get_name().to_owned();
            let help = command.render_long_help().to_string();
            let example = help.rfind("Example").map(|at| &help[at..]);
            let example = example.unwrap_or_else(|| panic!("{name} has no example"));
            assert!(example.contains(&format!("feedpoint {name}")), "{name}");
            seen += 1;
        }
        assert!(seen > 5);
    }

    /// A paragraph that is broken by hand is broken twice where the terminal is narrower.
    #[test]
    fn paragraphs_of_help_are_left_to_the_terminal_to_break() {
        let cli = Cli::command();
        for command in cli.get_subcommands() {
            let closing = command.get_after_help().map(ToString::to_string);
            for line in closing.unwrap_or_default().lines() {
                let whole = line.is_empty() || line.starts_with(' ') || line.ends_with(['.', ':']);
                assert!(whole, "{}: {line}", command.get_name());
            }
        }
    }

    #[test]
    fn the_command_line_is_well_formed() {
        Cli::command().debug_assert();
    }
}

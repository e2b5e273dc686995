//! The commands: one file each, with its arguments and what it does with the pipeline's answer.
//!
//! Results go to standard output, messages to standard error. A new command is a file here, a
//! `pub mod`, a variant of [`Command`] and an arm of [`run`].

pub mod init;
pub mod output;
pub mod schema;
pub mod strip;

pub use output::{Output, look_of_standard_output};

use clap::{Parser, Subcommand, ValueEnum};
use std::fmt::Display;
use std::process::ExitCode;

/// The command line.
#[derive(Debug, Parser)]
#[command(
    name = "feedpoint",
    version,
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
    /// Print the JSON Schema of a project or catalogue file
    Schema(schema::Args),
    /// One strip without a project: its light, the feeds it needs, how long it may be
    Strip(Box<strip::StripArgs>),
}

/// How results are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum Format {
    /// Tables for people
    #[default]
    Table,
    /// One JSON object, whose keys do not change within a format
    Json,
    /// Comma-separated values, one table after the other
    Csv,
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
        Command::Schema(args) => schema::run(args, out),
        Command::Strip(args) => strip::run(args, out),
    }
}

//! `feedpoint schema`: the JSON Schema by which an editor completes and checks a file.

use super::{Failure, Outcome, Output};
use crate::load::schema;
use crate::present::json;
use clap::ValueEnum;

/// Which file's schema.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  feedpoint schema project > project.schema.json")]
pub struct Args {
    /// The file it is for
    #[arg(value_enum, default_value_t = File::Project, value_name = "FILE")]
    file: File,
}

/// The files that people write.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum File {
    /// A project
    Project,
    /// A catalogue
    Catalogue,
    /// Site readings
    Readings,
    /// What commands print with --format json, and report.json
    Output,
    /// What compare prints with --format json
    Comparison,
    /// What import prints with --format json
    TakeOff,
}

/// Prints the schema.
///
/// # Errors
/// When standard output can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let text = match args.file {
        File::Project => format!("{:#}\n", schema::project()),
        File::Catalogue => format!("{:#}\n", schema::catalogue()),
        File::Readings => format!("{:#}\n", schema::readings()),
        File::Output => json::schema().map_err(Failure::saying)?,
        File::Comparison => json::schema_of::<json::Comparison>().map_err(Failure::saying)?,
        File::TakeOff => json::schema_of::<json::TakeOff>().map_err(Failure::saying)?,
    };
    out.result(&text)?;
    Ok(Outcome::NothingBroken)
}

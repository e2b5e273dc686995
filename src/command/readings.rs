//! `feedpoint readings`: site readings against what was expected, and what is wrong.

use super::input::Input;
use super::results::Printing;
use super::{Failure, Outcome, Output};
use crate::diagnostic::render::plain;
use crate::load;
use crate::present::document::readings::document;
use crate::present::json::Readings;
use crate::present::readings::{compared, readable};

/// Which readings of which project.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
A readings file is YAML, or test-sheet.csv as `report` writes it with its reading column filled in; \
rows left blank are passed over. Tests are called by the names on that sheet:
  format: 1
  readings:
    - {test: hall-cove/1/2/volts-warm, reading: 22.71 V}
    - {run: hall-cove, at: 18.4 m, lit: warm, reading: 21.9 V}
Exit status: 0 all as expected; 1 a reading is outside its band, or readings don't agree; 2 the \
input can't be used.

Examples:
  feedpoint readings project.yaml readings.yaml
  feedpoint readings project.yaml test-sheet.csv --format json")]
pub struct Args {
    #[command(flatten)]
    input: Input,
    /// The readings: YAML, or a test sheet that ends in .csv; - reads YAML from standard input
    #[arg(value_name = "FILE")]
    file: String,
    #[command(flatten)]
    printing: Printing,
}

/// Compares the readings and prints what is outside, and why it may be.
///
/// # Errors
/// When the project or the readings can't be used, or standard output can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    if args.file == "-" && args.input.project == "-" {
        let message = "only one of project and readings can come from standard input: name a file \
                       for the other";
        return Err(Failure::saying(message));
    }
    let job = args.input.job(out)?;
    let (given, warnings) = load::readings::readings(&args.file, &readable(&job))
        .map_err(|complaints| Failure::shown(complaints.texts(false)))?;
    for warning in warnings.in_order() {
        out.message(&format!("{}\n", plain(warning)));
    }
    let compared = compared(&job, &given);
    let document = document(&compared);
    let object = || Readings::of(&compared);
    args.printing.print_documents(out, &[document], object)?;
    Ok(if compared.is_wrong() {
        Outcome::Broken
    } else {
        Outcome::NothingBroken
    })
}

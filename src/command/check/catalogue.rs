//! `feedpoint check CATALOGUE`: what is impossible in a catalogue, and what is missing.

use super::super::input::{complaints, print_warnings};
use super::super::results::Format;
use super::super::{Failure, Outcome, Output};
use super::Args;
use crate::diagnostic::{Diagnostics, Source};
use crate::judge::catalogue::entry::Found;
use crate::judge::catalogue::{judge, region_of};
use crate::load::alone;
use crate::present::{document, json};
use std::sync::Arc;

/// Judges the catalogue and prints what is open.
pub(super) fn run(args: &Args, source: Arc<Source>, out: &mut Output) -> Result<Outcome, Failure> {
    let (found, warnings) = found(args, source).map_err(complaints)?;
    print_warnings(&warnings, out);
    let document = match args.printing.format {
        Format::Table => document::catalogue::document(&found),
        Format::Json | Format::Csv => document::catalogue::document_of_each(&found),
    };
    let object = || json::Catalogue::of(&found);
    args.printing.print_documents(out, &[document], object)?;
    Ok(outcome(args, &found))
}

/// What is found of the catalogue.
pub(super) fn found(args: &Args, source: Arc<Source>) -> Result<(Found, Diagnostics), Diagnostics> {
    let (alone, warnings) = alone::read(source)?;
    let region = args.region.unwrap_or_else(|| region_of(&alone));
    Ok((judge(&alone, region, args.date), warnings))
}

/// Whether anything in it is broken.
pub(super) fn outcome(args: &Args, found: &Found) -> Outcome {
    let untold = found.counted("cannot tell", None);
    if found.counted("broken", None) > 0 || args.strict && untold > 0 {
        Outcome::Broken
    } else {
        Outcome::NothingBroken
    }
}

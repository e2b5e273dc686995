//! Site readings: a YAML readings file, or the data file of the test sheet with its blanks filled
//! in. Either is held against what can be read on the project.

mod keys;
mod sheet;
mod value;

pub use keys::ReadingsFile;

use super::desk::Desk;
use super::nearest::hint;
use super::{file, structs};
use crate::diagnostic::{Diagnostic, Diagnostics, Source};
use crate::model::reading::{Asked, AskedRun, Given, GivenOf, Readable};
use keys::ReadingKeys;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

/// Readings as read; the diagnostics are warnings.
pub type Read = (Vec<Given>, Diagnostics);

/// Reads a file of readings; `-` is standard input. A file that ends in `.csv` is a test sheet.
///
/// # Errors
/// Everything that is wrong with the file, each with its place.
pub fn readings(path: &str, readable: &Readable) -> Result<Read, Diagnostics> {
    let source = if path == "-" {
        file::standard_input()?
    } else {
        file::read(Path::new(path), path)?
    };
    from_source(source, readable)
}

/// Reads readings from text. `name` is how it is spoken of.
///
/// # Errors
/// Everything that is wrong with the text, each with its place.
pub fn readings_from_text(
    name: &str,
    text: &str,
    readable: &Readable,
) -> Result<Read, Diagnostics> {
    from_source(file::text(text.as_bytes().to_vec(), name)?, readable)
}

fn from_source(source: Arc<Source>, readable: &Readable) -> Result<Read, Diagnostics> {
    let is_sheet = source.name().to_lowercase().ends_with(".csv");
    let mut desk = Desk::new(source);
    let given = if is_sheet {
        sheet::read(readable, &mut desk)
    } else {
        of_yaml(readable, &mut desk)
    };
    refuse_twice(&given, &mut desk);
    match given {
        given if !given.is_empty() && !desk.complaints.has_errors() => Ok((given, desk.complaints)),
        _ => Err(desk.complaints),
    }
}

fn of_yaml(readable: &Readable, desk: &mut Desk) -> Vec<Given> {
    let Some(raw) = structs::<ReadingsFile>(desk) else {
        return Vec::new();
    };
    if desk.read(&raw.format).is_none() {
        return Vec::new();
    }
    let heads = [
        ("reference", &raw.project, &readable.reference),
        ("revision", &raw.revision, &readable.revision),
    ];
    for (what, written, own) in heads {
        let Some(written) = written else { continue };
        if let Some(said) = desk.one(written)
            && Some(&said) != own.as_ref()
        {
            let own = own.as_deref().unwrap_or("none");
            let message =
                format!("these readings are of {what} `{said}`, the project's is `{own}`");
            let warning = Diagnostic::warning("other-project", message);
            let at = written.at.range();
            desk.complaints.push(warning.at(&desk.source, at));
        }
    }
    let blocks = raw.readings.iter().flatten();
    let given: Vec<Given> = blocks
        .filter_map(|block| one(block, readable, desk))
        .collect();
    if raw.readings.as_ref().is_some_and(Vec::is_empty) {
        let message = "`readings` is empty: nothing was read";
        desk.complain("nothing-read", message, raw.place);
    }
    given
}

fn one(raw: &ReadingKeys, readable: &Readable, desk: &mut Desk) -> Option<Given> {
    match (&raw.test, &raw.run) {
        (Some(test), None) => {
            let name = desk.one(test)?;
            let Some(asked) = readable.tests.iter().find(|it| it.test == name) else {
                let message = unknown_test(&name, readable);
                desk.complain("unknown-test", message, test.at);
                return None;
            };
            for (key, at) in [
                ("at", raw.at.as_ref().map(|it| it.at)),
                ("lit", raw.lit.as_ref().map(|it| it.at)),
            ] {
                if let Some(at) = at {
                    let message =
                        format!("`{key}` goes with `run`: the test says where it is read");
                    desk.complain("reading-of", message, at);
                }
            }
            let reading = raw.reading.as_ref()?;
            let found = value::read(&reading.text, &asked.answer);
            let found = desk.taken(found, reading)?;
            Some(Given {
                of: GivenOf::Test(name),
                found,
                place: desk.place(reading.at),
            })
        }
        (None, Some(run)) => on_strip(raw, &desk.one(run)?, run.at, readable, desk),
        _ => {
            let message = "a reading needs either its `test`, or the `run` and where `at` on it";
            desk.complain("reading-of", message, raw.place);
            None
        }
    }
}

fn on_strip(
    raw: &ReadingKeys,
    name: &str,
    named_at: super::written::Span,
    readable: &Readable,
    desk: &mut Desk,
) -> Option<Given> {
    let Some(run) = readable.runs.iter().find(|it| it.run == name) else {
        let known: Vec<&str> = readable.runs.iter().map(|it| it.run.as_str()).collect();
        let message = format!("the project has no run `{name}`{}", hint(name, &known));
        desk.complain("unknown-run", message, named_at);
        return None;
    };
    let Some(written) = &raw.at else {
        let message = format!("run `{name}`: `at` is missing: how far from its start was it read");
        desk.complain("reading-of", message, raw.place);
        return None;
    };
    let at = desk.one(written)?;
    if at > run.length {
        let message = format!(
            "run `{name}` is {} long: `{}` is past its end",
            crate::quantity::length::write(run.length),
            written.text
        );
        desk.complain("past-the-end", message, written.at);
        return None;
    }
    let channel = channel(raw, run, desk)?;
    let reading = raw.reading.as_ref()?;
    let found = desk.taken(value::volts(&reading.text, run.most), reading)?;
    Some(Given {
        of: GivenOf::OnStrip {
            run: name.to_owned(),
            at,
            channel,
        },
        found,
        place: desk.place(reading.at),
    })
}

/// Which channel was on.
fn channel(raw: &ReadingKeys, run: &AskedRun, desk: &mut Desk) -> Option<usize> {
    match (&raw.lit, run.channels) {
        (None, 1) => Some(0),
        (Some(written), 1) => {
            let message = format!("run `{}` has one white: leave `lit` out", run.run);
            desk.complain("reading-of", message, written.at);
            None
        }
        (Some(written), _) => desk.one(written).map(|white| white.channel()),
        (None, _) => {
            let message = format!("run `{}`: `lit` is missing: was warm or cool on", run.run);
            desk.complain("reading-of", message, raw.place);
            None
        }
    }
}

fn unknown_test(name: &str, readable: &Readable) -> String {
    let known: Vec<&str> = readable
        .tests
        .iter()
        .map(|it: &Asked| it.test.as_str())
        .collect();
    let run = name.split('/').next().unwrap_or_default();
    let of_run: Vec<&str> = known
        .iter()
        .copied()
        .filter(|test| test.split('/').next() == Some(run))
        .collect();
    let likely = if of_run.is_empty() { known } else { of_run };
    format!("the test sheet has no test `{name}`{}", hint(name, &likely))
}

/// Two readings of one thing: which counts is not for the program to say.
fn refuse_twice(given: &[Given], desk: &mut Desk) {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for one in given {
        let of = format!("{:?}", one.of);
        match seen.get(&of) {
            None => {
                seen.insert(of, one.place.line);
            }
            Some(first) => {
                let message = format!("this was read already, in line {first}: keep one reading");
                let at = desk.source.offset(one.place.line, one.place.column);
                let fault = Diagnostic::error("read-twice", message);
                desk.complaints.push(fault.at(&desk.source, at..at + 1));
            }
        }
    }
}

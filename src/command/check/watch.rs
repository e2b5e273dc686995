//! `feedpoint check --watch`: checks again whenever a file is saved, and prints what changed.

use super::super::input::{complaints, shown};
use super::super::{Failure, Outcome, Output};
use super::changed::{Seen, changes};
use super::watched::{Watched, contents};
use super::{Args, catalogue, outcome, print_open};
use crate::diagnostic::Diagnostics;
use crate::judge::catalogue::entry::Found;
use crate::load;
use crate::load::alone::is_catalogue;
use crate::pipeline;
use crate::present::counts::counted;
use crate::present::job::Job;
use crate::present::{document, terminal};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError};
use std::time::Duration;

/// From one look at the files to the next.
const EVERY: Duration = Duration::from_millis(300);

/// Checks, and checks again when a file is saved, until it is interrupted.
///
/// # Errors
/// When standard output can't be written, or the last check could not use the files.
pub(super) fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let path = args.input.project.as_str();
    if path == "-" {
        return Err(Failure::saying(
            "standard input can't be watched: give the name of a file",
        ));
    }
    let stop = interrupt()?;
    let mut watched = Watched::after(contents(path));
    let mut checked = Checked::default();
    checked.check(args, out)?;
    let files = watched.count();
    out.message(&format!("watching {}; Ctrl-C ends", counted(files, "file")));
    while let Err(RecvTimeoutError::Timeout) = stop.recv_timeout(EVERY) {
        if watched.is_due(contents(path)) {
            checked.check(args, out)?;
        }
    }
    out.message("stopped");
    checked.outcome
}

/// What receives a word when the user interrupts.
fn interrupt() -> Result<Receiver<()>, Failure> {
    let (send, receive) = mpsc::channel();
    let handler = move || {
        // Nobody listens any more only when the command has ended.
        let _ = send.send(());
    };
    let set = ctrlc::set_handler(handler);
    set.map_err(|error| Failure::saying(format!("can't watch for Ctrl-C: {error}")))?;
    Ok(receive)
}

/// How the checks ended so far.
struct Checked {
    /// The last that could use the files.
    seen: Option<Seen>,
    /// Whether the last could.
    usable: bool,
    /// Warnings of the last.
    warnings: Vec<String>,
    outcome: Result<Outcome, Failure>,
}

impl Default for Checked {
    fn default() -> Self {
        Checked {
            seen: None,
            usable: true,
            warnings: Vec::new(),
            outcome: Ok(Outcome::NothingBroken),
        }
    }
}

/// What a file was.
enum Judged {
    Project(Box<Job>),
    Catalogue(Box<Found>),
}

impl Checked {
    /// Checks; prints all of it the first time, and then what changed. Files that can't be used
    /// are told of, and the next check is held against the last that could.
    fn check(&mut self, args: &Args, out: &mut Output) -> Result<(), Failure> {
        let (judged, warnings) = match judged(args) {
            Ok(judged) => judged,
            Err(faults) => {
                let failure = complaints(faults);
                out.failure(&failure);
                out.message("can't be checked as it stands: waiting for the next save");
                self.usable = false;
                // It was told already.
                self.outcome = Err(Failure::shown(Vec::new()));
                return Ok(());
            }
        };
        let warnings = shown(&warnings);
        for new in warnings.iter().filter(|one| !self.warnings.contains(one)) {
            out.message(new);
        }
        self.warnings = warnings;
        let seen = match &judged {
            Judged::Project(job) => Seen::of_job(job),
            Judged::Catalogue(found) => Seen::of_catalogue(found),
        };
        match &self.seen {
            None => print_all(&judged, out)?,
            Some(before) => print_changes(before, &seen, self.usable, out)?,
        }
        self.outcome = Ok(match &judged {
            Judged::Project(job) => outcome(args, job),
            Judged::Catalogue(found) => catalogue::outcome(args, found),
        });
        self.usable = true;
        self.seen = Some(seen);
        Ok(())
    }
}

fn judged(args: &Args) -> Result<(Judged, Diagnostics), Diagnostics> {
    let path = args.input.project.as_str();
    let source = load::opened(path)?;
    if is_catalogue(&source) {
        let (found, warnings) = catalogue::found(args, source)?;
        return Ok((Judged::Catalogue(Box::new(found)), warnings));
    }
    let (job, warnings) = pipeline::job_of(source, path, args.input.afresh)?;
    Ok((Judged::Project(Box::new(job)), warnings))
}

fn print_all(judged: &Judged, out: &mut Output) -> Result<(), Failure> {
    match judged {
        Judged::Project(job) => print_open(job, out),
        Judged::Catalogue(found) => {
            let document = document::catalogue::document(found);
            out.result(&terminal::write(&[document], out.look))
        }
    }
}

fn print_changes(before: &Seen, now: &Seen, usable: bool, out: &mut Output) -> Result<(), Failure> {
    let changes = changes(before, now);
    let again = if usable { "" } else { "can be checked again: " };
    let nothing = if changes.is_empty() {
        "; no verdict changed"
    } else {
        ""
    };
    let heading = format!("{again}{}{nothing}", now.counts);
    let fields: Vec<(&str, &str)> = changes
        .iter()
        .map(|(what, of)| (*what, of.as_str()))
        .collect();
    let text = terminal::fields(&heading, &fields, out.look);
    out.result(&format!("\n{text}"))
}

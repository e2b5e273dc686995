//! `feedpoint issue`: freezes the present answer as the record of this revision.

use super::folder::replace;
use super::input::Input;
use super::results::Printing;
use super::{Failure, Outcome, Output};
use crate::judge::Counts;
use crate::load::folder_of;
use crate::load::issued::{file_name, read};
use crate::model::issued::Record;
use crate::present::counts::counted;
use crate::present::issued::{record, same, text};
use crate::present::job::Job;
use crate::present::json::Issue;
use std::path::Path;

/// What to issue.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
The record, issued-<revision>.yaml, stands beside the project. Every later command starts from the \
newest record: what still fits stays as it is; only what breaks a rule, or is new, is placed.
Exit status: 0 issued, or issued before as it is; 1 issued with faults; 2 not issued.

Examples:
  feedpoint issue project.yaml
  feedpoint issue project.yaml --replace")]
pub struct Args {
    #[command(flatten)]
    input: Input,
    /// Replace the record of this revision, if it says something else
    #[arg(long)]
    replace: bool,
    /// Issue although a rule of severity fault is broken
    #[arg(long)]
    with_faults: bool,
    #[command(flatten)]
    printing: Printing,
}

/// Writes the record, and prints what is not as it was issued before.
///
/// # Errors
/// When the project can't be used, has no revision, breaks a rule or was issued otherwise, or the
/// record can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let job = args.input.job(out)?;
    let mut new = record(&job);
    let name = name(&job, &new)?;
    let folder = folder_of(&args.input.project);
    let path = folder.join(&name);
    let known = before(&path, &job)?;
    let (written, outcome) = match known {
        Some(known) if same(&known, &new) => (false, Outcome::by_faults(&job)),
        Some(_) if !args.replace => return Err(refused(&path, &job)),
        known => {
            faults_allowed(args, &job)?;
            if let Some(known) = known {
                new.number = known.number.max(new.number - 1);
            }
            let bytes = text(&new).into_bytes();
            replace(folder, &name, &bytes)?;
            (true, Outcome::by_faults(&job))
        }
    };
    let path = path.display();
    out.message(&if written {
        format!("issued revision {} as {path}", new.revision)
    } else {
        format!(
            "revision {} was issued as it is: {path} is left",
            new.revision
        )
    });
    let documents: &[&str] = match job.project.issued.record {
        Some(_) => &["changes", "change-prices"],
        None => &["summary"],
    };
    let answer = |job: &Job| Issue::of(job, &path.to_string(), written);
    args.printing.print(out, &job, documents, answer)?;
    Ok(outcome)
}

fn name(job: &Job, new: &Record) -> Result<String, Failure> {
    if job.project.heading.revision.is_none() {
        return Err(Failure::saying(
            "the project has no revision to issue: give it one, as in `revision: A` in `project`",
        ));
    }
    file_name(&new.revision).ok_or_else(|| {
        Failure::saying(format!(
            "revision `{}` can't name a file: use letters, digits, -, _ and ., at most 40",
            new.revision
        ))
    })
}

/// The record that stands where this one would.
fn before(path: &Path, job: &Job) -> Result<Option<Record>, Failure> {
    if !path.exists() {
        return Ok(None);
    }
    let known = read(path).map_err(|complaints| Failure::shown(vec![complaints.to_string()]))?;
    if crate::load::issued::is_of(&known, &job.project) {
        return Ok(Some(known));
    }
    Err(Failure::saying(format!(
        "{} is the record of `{}`, {}: keep each project in a folder of its own",
        path.display(),
        known.title,
        known.called()
    )))
}

fn refused(path: &Path, job: &Job) -> Failure {
    Failure::saying(format!(
        "revision {} was issued with other contents, in {}: give the project a new revision, or \
         replace the record with --replace if nothing was built from it",
        job.project.heading.revision.as_deref().unwrap_or_default(),
        path.display()
    ))
}

fn faults_allowed(args: &Args, job: &Job) -> Result<(), Failure> {
    let faults = Counts::of(&job.verdicts).broken_faults;
    if faults == 0 || args.with_faults {
        return Ok(());
    }
    Err(Failure::saying(format!(
        "not issued: {} (feedpoint check says which); --with-faults issues it all the same",
        match faults {
            1 => "1 rule of severity fault is broken".to_owned(),
            _ => format!("{} of severity fault are broken", counted(faults, "rule")),
        }
    )))
}

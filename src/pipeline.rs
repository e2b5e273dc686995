//! The whole job on one page: load, choose, allocate, price, judge.

use crate::choose::ChooseError;
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::judge::rule::Evidence;
use crate::load::{self, Loaded};
use crate::present::job::Job;
use crate::{allocate, choose, judge, present, price};
use std::path::{Path, PathBuf};

/// Reads a project and works out everything for it, starting from the newest record that was
/// issued of it, or `afresh`. `-` reads it from standard input. The diagnostics are warnings.
///
/// # Errors
/// Everything that is wrong with the files, and every run that can't be laid out at all, each with
/// its place.
pub fn job(path: &str, afresh: bool) -> Result<(Job, Diagnostics), Diagnostics> {
    let mut loaded = load::project(path)?;
    let (found, others) = load::issued::newest(&folder(path), &loaded.project)?;
    loaded.warnings.append(others);
    loaded.project.issued.record = found.map(|found| found.record);
    loaded.project.issued.afresh = afresh;
    run(loaded)
}

/// The folder that a project's records stand in: its own, or the current one for standard input.
#[must_use]
pub fn folder(path: &str) -> PathBuf {
    let own = Path::new(path).parent().filter(|_| path != "-");
    own.unwrap_or(Path::new("")).to_path_buf()
}

/// Works out everything for a project that was read.
///
/// # Errors
/// Every run that can't be laid out at all, with its place.
pub fn run(loaded: Loaded) -> Result<(Job, Diagnostics), Diagnostics> {
    let mut sizing = choose::size(&loaded.project).map_err(|errors| explained(&loaded, &errors))?;
    price::strip::set_joints(&mut sizing);
    let project = loaded.project;
    let allocation = allocate::allocate(&project, &sizing);
    let quote = price::price(&project, &sizing, &allocation);
    let evidence = Evidence {
        project: &project,
        sizing: &sizing,
        allocation: &allocation,
        quote: &quote,
    };
    let verdicts = judge::judge(&evidence);
    let cautions = present::cautions::of(&project, judge::cautions(&verdicts));
    let job = Job {
        project,
        sizing,
        allocation,
        quote,
        verdicts,
        cautions,
    };
    Ok((job, loaded.warnings))
}

/// The errors with the lines of the files that they are about.
fn explained(loaded: &Loaded, errors: &[ChooseError]) -> Diagnostics {
    let mut complaints = Diagnostics::default();
    for error in errors {
        let place = error.place();
        let complaint = Diagnostic::error("layout", error.to_string());
        let source = loaded
            .sources
            .iter()
            .find(|source| source.name() == &*place.file);
        complaints.push(match source {
            Some(source) => {
                let start = source.offset(place.line, place.column);
                let (_, _, line) = source.line(start);
                complaint.at(source, start..start + line.trim_start().len())
            }
            None => complaint,
        });
    }
    complaints
}

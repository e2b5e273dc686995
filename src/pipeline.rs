//! The whole job on one page: load, choose, allocate, price, judge.

use crate::allocate::allocated::Allocation;
use crate::choose::sized::Sizing;
use crate::choose::{ChooseError, Known};
use crate::diagnostic::{Diagnostic, Diagnostics, Source};
use crate::judge::rule::Evidence;
use crate::load::{self, Loaded};
use crate::model::alternate::Alteration;
use crate::model::by_name::ByName;
use crate::model::issued::Record;
use crate::model::project::Project;
use crate::present::job::Job;
use crate::price::priced::{Otherwise, PricedOption, Quote, Reckoned};
use crate::price::stake;
use crate::{allocate, choose, judge, present, price};
use rayon::prelude::*;
use std::sync::Arc;

/// Reads a project and works out everything for it, starting from the newest record that was
/// issued of it, or `afresh`. `-` reads it from standard input. The diagnostics are warnings.
///
/// # Errors
/// Everything that is wrong with the files, and every run that can't be laid out at all, each with
/// its place.
pub fn job(path: &str, afresh: bool) -> Result<(Job, Diagnostics), Diagnostics> {
    job_of(load::opened(path)?, path, afresh)
}

/// The same of a project's text, which was read from `path`.
///
/// # Errors
/// Everything that is wrong with the files, and every run that can't be laid out at all, each with
/// its place.
pub fn job_of(
    source: Arc<Source>,
    path: &str,
    afresh: bool,
) -> Result<(Job, Diagnostics), Diagnostics> {
    let mut loaded = load::project_of(source, path)?;
    let folder = load::folder_of(path);
    let (found, others) = load::issued::newest(folder, &loaded.project)?;
    loaded.warnings.append(others);
    loaded.project.issued.record = found.map(|found| found.record);
    loaded.project.issued.afresh = afresh;
    run(loaded)
}

/// Works out everything for a project that was read.
///
/// # Errors
/// Every run that can't be laid out at all, with its place.
pub fn run(loaded: Loaded) -> Result<(Job, Diagnostics), Diagnostics> {
    match worked_out(loaded.project.clone(), None) {
        Ok(worked) => Ok((worked.judged(), loaded.warnings)),
        Err(errors) => Err(explained(&loaded, &errors)),
    }
}

/// A project worked out up to its price.
struct Worked {
    project: Project,
    sizing: Sizing,
    allocation: Allocation,
    quote: Quote,
}

impl Worked {
    /// What it is judged by.
    fn evidence(&self) -> Evidence<'_> {
        Evidence {
            project: &self.project,
            sizing: &self.sizing,
            allocation: &self.allocation,
            quote: &self.quote,
        }
    }

    /// The job, with what every check says of it, and of what is broken which edit of the project
    /// cures it, where one was found by trying.
    fn judged(self) -> Job {
        let evidence = self.evidence();
        let verdicts = judge::cure::cured(&evidence, judge::judge(&evidence));
        let cautions = present::cautions::of(&self.project, judge::cautions(&verdicts));
        Job {
            project: self.project,
            sizing: self.sizing,
            allocation: self.allocation,
            quote: self.quote,
            verdicts,
            cautions,
            by_subject: ByName::default(),
            joints: ByName::default(),
        }
    }
}

/// Works a project out; of one that differs in part from one that is known, what the difference
/// touches.
fn worked_out(project: Project, known: Option<&Known>) -> Result<Worked, Vec<ChooseError>> {
    let mut sizing = choose::size_beside(&project, known)?;
    price::strip::set_joints(&mut sizing);
    let allocation = allocate::allocate(&project, &sizing);
    let quote = price::price(&project, &sizing, &allocation);
    Ok(Worked {
        project,
        sizing,
        allocation,
        quote,
    })
}

/// Runs that are worked out at once in alternatives, about: each of them takes some ten kilobytes
/// until its alternative is priced.
const RUNS_AT_ONCE: usize = 4_000;

/// Prices what else the job could be: each option, and the other way of each assumption where that
/// can be computed. Every one is the job worked out again, as many side by side as memory allows
/// whatever the number of processors; those of a large job one by one, its runs side by side.
pub fn price_alternatives(job: &mut Job) {
    let known = &Known::of(&job.project, &job.sizing);
    let options = side_by_side(&job.project.options, job, |option| PricedOption {
        name: option.name.clone(),
        title: option.title.clone(),
        outcome: reckoned(job, known, &option.alterations),
    });
    let others = side_by_side(&job.quote.assumptions, job, |assumption| {
        let (words, alterations) = stake::otherwise(assumption, &job.project, &job.sizing)?;
        let outcome = reckoned(job, known, &alterations);
        Some(Otherwise { words, outcome })
    });
    job.quote.options = options;
    for (stake, otherwise) in job.quote.stakes.iter_mut().zip(others) {
        stake.otherwise = otherwise;
    }
}

/// What comes of each of some alternatives of a job, in their order.
fn side_by_side<T: Sync, R: Send>(all: &[T], job: &Job, work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let at_once = (RUNS_AT_ONCE / job.project.runs.len().max(1)).max(1);
    let some = |some: &[T]| -> Vec<R> { some.par_iter().map(&work).collect() };
    all.chunks(at_once).flat_map(some).collect()
}

fn reckoned(job: &Job, known: &Known, alterations: &[Alteration]) -> Result<Reckoned, String> {
    let project = job.project.altered(alterations);
    if project.runs.is_empty() {
        return Err("no run is left".to_owned());
    }
    let other = worked_out(project, Some(known)).map_err(|errors| {
        let errors: Vec<String> = errors.iter().map(ToString::to_string).collect();
        errors.join("; ")
    })?;
    let counts = judge::counted(&other.evidence());
    let (runs, totals) = (&other.sizing.runs, &other.quote.totals);
    let works = runs.iter().all(|sized| sized.figures.works);
    let least = runs
        .iter()
        .map(|sized| sized.figures.light_least)
        .reduce(|least, one| if one < least { one } else { least });
    Ok(Reckoned {
        net: totals.net,
        difference: totals.net - job.quote.totals.net,
        gross: totals.gross,
        labour_hours: totals.hours(),
        light_least: least.filter(|_| works),
        drivers: other.sizing.drivers.len(),
        loops: other.allocation.loops.len(),
        feed_cable: other.sizing.cables.iter().map(|cable| cable.length).sum(),
        faults: counts.broken_faults,
        cannot_tell: counts.cannot_tell,
        lines_without_price: totals.lines_without_price + totals.work_without_price,
    })
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

/// Holds a job against another record than the newest: its changes are then those since that one.
pub fn since(job: &mut Job, was: Record) {
    let newest = job.project.issued.record.as_deref();
    if newest != Some(&was) {
        let now = present::issued::record(job);
        job.allocation.changes = Some(allocate::issued::between(&was, &now, &[]));
        job.project.issued.record = Some(Arc::new(was));
    }
}

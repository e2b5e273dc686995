//! The whole of sizing: cupboards, feeds, drivers, numbers.

use super::alike::{self, Known};
use super::assumed;
use super::drivers;
use super::error::ChooseError;
use super::feed::feed;
use super::feeding::Feeding;
use super::layout::Layout;
use super::number;
use super::pairs;
use super::sized::{Fed, SizedRun, Sizing};
use super::unmet;
use crate::model::issued::Released;
use crate::model::project::Project;
use crate::solve::cable::hottest;
use rayon::prelude::*;
use std::sync::Arc;

/// Sizes every run of a project, its drivers and its feed cables. What was asked for is kept and
/// evaluated; what is left to the program is the cheapest that keeps every limit.
///
/// # Errors
/// Every run that can't be laid out at all; see [`ChooseError`].
pub fn size(project: &Project) -> Result<Sizing, Vec<ChooseError>> {
    size_beside(project, None)
}

/// The same for a project that differs in part from one that is known: runs that the difference
/// doesn't touch are not worked out again.
///
/// # Errors
/// Every run that can't be laid out at all; see [`ChooseError`].
pub fn size_beside(project: &Project, known: Option<&Known>) -> Result<Sizing, Vec<ChooseError>> {
    if let Some(record) = project.issued.held() {
        let mut sections = record.runs.iter().flat_map(|run| &run.sections);
        let pairs = sections.any(|section| section.beside.is_some());
        return with(project, pairs, known);
    }
    let sizing = with(project, true, known)?;
    if !pairs::chosen(project, &sizing) {
        return Ok(sizing);
    }
    let one = with(project, false, known)?;
    Ok(pairs::better(project, sizing, one))
}

/// Sizes with or without two units in place of one.
fn with(project: &Project, pairs: bool, known: Option<&Known>) -> Result<Sizing, Vec<ChooseError>> {
    let layout = Layout::new(project, pairs)?;
    let feedings = layout.each(Ok);
    let leaders = alike::leaders(&feedings);
    let each = feedings.par_iter().zip(&leaders).enumerate();
    let led: Vec<Option<Result<Arc<Fed>, ChooseError>>> = each
        .map(|(index, (feeding, leader))| {
            let feeding = feeding.as_ref().ok().filter(|_| *leader == index)?;
            let before = known.and_then(|known| known.fed(feeding));
            Some(before.map_or_else(|| fed(feeding), Ok))
        })
        .collect();
    let mut errors = Vec::new();
    let mut assumptions = assumed::of_project(project);
    let mut sizing = Sizing {
        pairs,
        ..Sizing::default()
    };
    for (feeding, leader) in feedings.into_iter().zip(leaders) {
        let fed = |feeding: Feeding<'_>| {
            let led = led.get(leader).and_then(Option::as_ref);
            let its = led.map_or_else(|| fed(&feeding), Result::clone)?;
            Ok((sized(&feeding, &its), its, feeding.assumptions))
        };
        match feeding.and_then(fed) {
            Ok((run, its, assumed)) => {
                assumptions.extend(assumed);
                sizing.runs.push(run);
                sizing.fed.push(its);
            }
            Err(error) => errors.push(error),
        }
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    for sized in &sizing.runs {
        let why = sized.reasons.released.clone();
        let name = format!("run {}", sized.run.name);
        sizing
            .released
            .extend(why.map(|why| Released::new(name, why)));
    }
    drivers::place(project, &mut sizing, pairs);
    unmet::under_loaded(&mut sizing);
    number::cables(project, &mut sizing);
    assumptions.extend(assumed::of_drivers(&sizing));
    assumptions.sort();
    assumptions.dedup();
    sizing.assumptions = assumptions;
    Ok(sizing)
}

/// How a run is fed, and what its driver has on at once.
pub(super) fn fed(feeding: &Feeding) -> Result<Arc<Fed>, ChooseError> {
    feed(feeding)
        .map(Arc::new)
        .ok_or_else(|| ChooseError::NoCable {
            run: feeding.run.name.clone(),
            cores: feeding.run.strip.channels.count() + 1,
            place: feeding.run.place.clone(),
        })
}

/// The run as it is fed, without driver numbers.
pub(super) fn sized(feeding: &Feeding, fed: &Fed) -> SizedRun {
    let insulation = fed.sections.first().map(|section| section.cable.insulation);
    SizedRun {
        run: Arc::clone(feeding.run),
        cupboard: Arc::clone(&feeding.cupboard),
        segments: feeding.segments,
        length: feeding.length,
        sections: fed.sections.clone(),
        states: fed.states.clone(),
        figures: fed.figures.clone(),
        reasons: fed.reasons.clone(),
        unmet: fed.unmet.clone(),
        cable_temperature: insulation.map_or_else(|| feeding.cable_ambient(), hottest),
        light_assumed: feeding.strip.untold.clone(),
    }
}

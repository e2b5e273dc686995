//! The whole of sizing: cupboards, feeds, drivers, numbers.

use super::assumed;
use super::cupboard;
use super::drivers;
use super::error::ChooseError;
use super::feed::{Fed, feed};
use super::feeding::Feeding;
use super::number;
use super::pairs;
use super::shift::Whites;
use super::sized::{SizedRun, Sizing};
use super::unit::Sharing;
use super::unmet;
use crate::model::issued::Released;
use crate::model::project::Project;
use crate::model::run::Run;
use crate::model::site::Point;
use crate::solve::cable::hottest;
use crate::solve::route::Routes;
use crate::solve::strip_model::StripModel;
use rayon::prelude::*;
use std::sync::Arc;

/// Sizes every run of a project, its drivers and its feed cables. What was asked for is kept and
/// evaluated; what is left to the program is the cheapest that keeps every limit.
///
/// # Errors
/// Every run that can't be laid out at all; see [`ChooseError`].
pub fn size(project: &Project) -> Result<Sizing, Vec<ChooseError>> {
    if let Some(record) = project.issued.held() {
        let mut sections = record.runs.iter().flat_map(|run| &run.sections);
        return with(project, sections.any(|section| section.beside.is_some()));
    }
    let sizing = with(project, true)?;
    if !pairs::chosen(project, &sizing) {
        return Ok(sizing);
    }
    Ok(pairs::better(project, sizing, with(project, false)?))
}

/// Sizes with or without two units in place of one.
fn with(project: &Project, pairs: bool) -> Result<Sizing, Vec<ChooseError>> {
    let layout = Layout::new(project, pairs)?;
    let mut errors = Vec::new();
    let mut assumptions = assumed::of_project(project);
    let mut sizing = Sizing::default();
    let mut sharings = Vec::new();
    let sized = layout.each(|feeding| Ok((fed(&feeding)?, feeding.assumptions)));
    for sized in sized {
        match sized {
            Ok(((run, sharing), its)) => {
                assumptions.extend(its);
                sizing.runs.push(run);
                sharings.push(sharing);
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
    drivers::place(project, &mut sizing, &sharings, pairs);
    unmet::under_loaded(&mut sizing);
    number::cables(project, &mut sizing);
    assumptions.extend(assumed::of_drivers(&sizing));
    assumptions.sort();
    assumptions.dedup();
    sizing.assumptions = assumptions;
    Ok(sizing)
}

/// Feeds a run; says what its driver has on at once.
pub(super) fn fed(feeding: &Feeding) -> Result<(SizedRun, Sharing), ChooseError> {
    let Some(fed) = feed(feeding) else {
        return Err(ChooseError::NoCable {
            run: feeding.run.name.clone(),
            cores: feeding.run.strip.channels.count() + 1,
            place: feeding.run.place.clone(),
        });
    };
    let sharing = fed.sharing;
    Ok((sized(feeding, fed), sharing))
}

fn sized(feeding: &Feeding, fed: Fed) -> SizedRun {
    let insulation = fed
        .trial
        .sections
        .first()
        .map(|section| section.cable.insulation);
    let light_assumed = feeding
        .strip
        .assumptions
        .first()
        .filter(|_| !feeding.strip.known);
    SizedRun {
        run: Arc::clone(feeding.run),
        cupboard: Arc::clone(&feeding.cupboard),
        segments: feeding.segments,
        length: feeding.length,
        sections: fed.trial.sections,
        states: fed.trial.states,
        figures: fed.trial.figures,
        reasons: fed.reasons,
        unmet: fed.unmet,
        cable_temperature: insulation.map_or_else(|| feeding.cable_ambient(), hottest),
        light_assumed: light_assumed.cloned(),
    }
}

/// A run with its cupboard and its strip as a network.
struct Laid<'a> {
    run: &'a Arc<Run>,
    cupboard: Arc<Point>,
    strip: Arc<StripModel>,
    whites: Option<Whites>,
}

/// Where every run's drivers stand, and every strip as a network, worked out once.
pub(super) struct Layout<'a> {
    project: &'a Project,
    laid: Vec<Laid<'a>>,
    pairs: bool,
}

impl<'a> Layout<'a> {
    /// Works it out; with `pairs` two single-channel units may stand in for a two-channel driver.
    pub fn new(project: &'a Project, pairs: bool) -> Result<Self, Vec<ChooseError>> {
        let routes = Routes::new(&project.site);
        let mut laid: Vec<Laid> = Vec::new();
        let mut errors = Vec::new();
        for run in &project.runs {
            let known = laid
                .iter()
                .find(|other| Arc::ptr_eq(&other.run.strip, &run.strip));
            let strip = match known {
                Some(other) => Ok((Arc::clone(&other.strip), other.whites)),
                None => model(run).map(|strip| (strip, Whites::of(&run.strip))),
            };
            match (cupboard::of(project, &routes, run), strip) {
                (Ok(cupboard), Ok((strip, whites))) => laid.push(Laid {
                    run,
                    cupboard,
                    strip,
                    whites,
                }),
                (cupboard, strip) => errors.extend(cupboard.err().into_iter().chain(strip.err())),
            }
        }
        if errors.is_empty() {
            Ok(Layout {
                project,
                laid,
                pairs,
            })
        } else {
            Err(errors)
        }
    }

    /// What comes of each run and everything that feeding it depends on, in project order; the
    /// runs are worked side by side.
    pub fn each<T: Send>(
        &self,
        work: impl Fn(Feeding<'a>) -> Result<T, ChooseError> + Sync,
    ) -> Vec<Result<T, ChooseError>> {
        let laid = self.laid.par_iter();
        laid.map(|laid| work(self.feeding(laid)?)).collect()
    }

    /// Everything that feeding the run of a name depends on; `None` when there is no such run.
    pub fn named(&self, name: &str) -> Option<Result<Feeding<'a>, ChooseError>> {
        let laid = self.laid.iter().find(|laid| laid.run.name == name)?;
        Some(self.feeding(laid))
    }

    fn feeding(&self, laid: &Laid<'a>) -> Result<Feeding<'a>, ChooseError> {
        let beside = |other: &&Laid| {
            other.run.group.index == laid.run.group.index
                && other.cupboard.index == laid.cupboard.index
        };
        let alone = self.laid.iter().filter(beside).count() == 1;
        let cupboard = Arc::clone(&laid.cupboard);
        let strip = (Arc::clone(&laid.strip), laid.whites);
        let drivers = (alone, self.pairs);
        Feeding::new(self.project, laid.run, cupboard, drivers, strip)
    }
}

fn model(run: &Run) -> Result<Arc<StripModel>, ChooseError> {
    StripModel::of(&run.strip)
        .map(Arc::new)
        .map_err(|error| ChooseError::Strip {
            run: run.name.clone(),
            error,
            place: run.strip.offer.place.clone(),
        })
}

//! Where every run's drivers stand, and every strip as a network.

use super::cupboard;
use super::error::ChooseError;
use super::feeding::Feeding;
use super::shift::Whites;
use super::stretches::Stretches;
use crate::model::project::Project;
use crate::model::run::Run;
use crate::model::site::Point;
use crate::solve::route::Routes;
use crate::solve::strip_model::StripModel;
use rayon::prelude::*;
use std::collections::HashMap;
use std::sync::Arc;

/// A run with its cupboard and its strip as a network.
struct Laid<'a> {
    run: &'a Arc<Run>,
    cupboard: Arc<Point>,
    strip: Arc<StripModel>,
    whites: Option<Whites>,
}

impl Laid<'_> {
    /// The group and the cupboard whose drivers it may share.
    fn shared(&self) -> (usize, usize) {
        (self.run.group.index, self.cupboard.index)
    }
}

/// Where every run's drivers stand, and every strip as a network, worked out once.
pub(super) struct Layout<'a> {
    project: &'a Project,
    laid: Vec<Laid<'a>>,
    /// How many runs share a group and a cupboard, by the indices of both.
    sharing: HashMap<(usize, usize), usize>,
    stretches: Arc<Stretches>,
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
        let mut sharing: HashMap<(usize, usize), usize> = HashMap::new();
        for laid in &laid {
            *sharing.entry(laid.shared()).or_default() += 1;
        }
        if errors.is_empty() {
            Ok(Layout {
                project,
                laid,
                sharing,
                stretches: Arc::default(),
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
        let alone = self.sharing.get(&laid.shared()) == Some(&1);
        let cupboard = Arc::clone(&laid.cupboard);
        let stretches = Arc::clone(&self.stretches);
        let strip = (Arc::clone(&laid.strip), laid.whites, stretches);
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

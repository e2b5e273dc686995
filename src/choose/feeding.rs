//! A run with everything that its feeding depends on, gathered once.

use super::arrangement::fitted;
use super::cable_place;
use super::error::ChooseError;
use super::limits;
use super::reach::Reach;
use super::shift::Whites;
use super::stretches::Stretches;
use super::unit::{Unit, units};
use crate::model::assumption::Assumption;
use crate::model::cable::{Cable, CableUse};
use crate::model::issued::IssuedRun;
use crate::model::limits::Limits;
use crate::model::project::Project;
use crate::model::run::{FeedWish, Run};
use crate::model::site::Point;
use crate::norms::limit::Source;
use crate::quantity::figure::{Figure, Unit as Shown};
use crate::quantity::{Current, Length, Temperature};
use crate::solve::ampacity::ampacity;
use crate::solve::cable::{conductor_resistance, hottest};
use crate::solve::strip_model::StripModel;
use std::sync::Arc;
use uom::si::length::millimeter;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Segments of a run at most: a kilometre of strip with a cut mark every centimetre. More would be
/// worked out for minutes, and is a slip of the pen.
const MOST_SEGMENTS: usize = 100_000;

/// What feeding a run depends on.
pub struct Feeding<'a> {
    /// The project.
    pub project: &'a Project,
    /// The run.
    pub run: &'a Arc<Run>,
    /// How it is to be fed: as the run says, or as is being tried.
    pub wish: FeedWish,
    /// Where its drivers stand.
    pub cupboard: Arc<Point>,
    /// Whole segments.
    pub segments: usize,
    /// Their length.
    pub length: Length,
    /// Cable to places on it.
    pub reach: Reach,
    /// Its strip as a network.
    pub strip: Arc<StripModel>,
    /// What one feed lights, as far as it is known of the project's strips and cables.
    pub stretches: Arc<Stretches>,
    /// Its two whites; `None` for a single colour, and when they are not known.
    pub whites: Option<Whites>,
    /// Its limits, the rules of the house included.
    pub limits: Limits,
    /// Drivers that could serve it.
    pub units: Vec<Unit>,
    /// Cables that could feed it, thinnest first.
    pub cables: Vec<Arc<Cable>>,
    /// Whether no other run shares its group and cupboard, so that its drivers are its own.
    pub alone: bool,
    /// What was assumed.
    pub assumptions: Vec<Assumption>,
    /// How it was issued; `None` when it was not, or nothing is held to that.
    pub issued: Option<&'a IssuedRun>,
}

impl<'a> Feeding<'a> {
    /// Gathers it. `alone` as the field; with `pairs` two single-channel units may stand in for a
    /// two-channel driver.
    ///
    /// # Errors
    /// When the run can't be laid out at all.
    pub fn new(
        project: &'a Project,
        run: &'a Arc<Run>,
        cupboard: Arc<Point>,
        (alone, pairs): (bool, bool),
        (strip, whites, stretches): (Arc<StripModel>, Option<Whites>, Arc<Stretches>),
    ) -> Result<Self, ChooseError> {
        let (segments, length) = fitted(run.length, run.strip.cut);
        if segments == 0 {
            let short = |length: Length| Figure::new(length.get::<millimeter>(), Shown::Millimetre);
            return Err(ChooseError::TooShort {
                run: run.name.clone(),
                length: short(run.length),
                segment: short(run.strip.cut),
                place: run.place.clone(),
            });
        }
        if segments > MOST_SEGMENTS {
            return Err(ChooseError::TooManySegments {
                run: run.name.clone(),
                segments,
                most: MOST_SEGMENTS,
                place: run.place.clone(),
            });
        }
        if run.to_start.is_none() && run.to_end.is_none() {
            return Err(ChooseError::NoWay {
                run: run.name.clone(),
                place: run.place.clone(),
            });
        }
        let limits = limits::of_run(project, run);
        let issued = project.issued.held();
        Ok(Feeding {
            units: units(project, &limits, run, &cupboard, pairs),
            cables: cables(project, run, &cupboard)?,
            wish: run.feed.clone(),
            project,
            run,
            cupboard,
            segments,
            length,
            reach: Reach::new(run, segments),
            assumptions: strip.assumptions.clone(),
            strip,
            stretches,
            whites,
            limits,
            alone,
            issued: issued.and_then(|record| record.run(&run.name)),
        })
    }

    /// Ambient temperature of its feed cables: the warmer of cupboard and run, or the 30 °C to
    /// which cable tables refer.
    #[must_use]
    pub fn cable_ambient(&self) -> Temperature {
        warmest(self.run, &self.cupboard)
    }

    /// What a cable may carry among so many feed cables of the run.
    #[must_use]
    pub fn ampacity(&self, cable: &Cable, feeds: usize) -> Option<(Current, Source)> {
        feed_ampacity(self.project, self.run, &self.cupboard, cable, feeds)
    }

    /// Lets every cable of the catalogue be tried, whatever was asked for.
    pub fn allow_any_cable(&mut self) {
        let all = catalogue_cables(self.project, self.run);
        self.cables = rated_first(self.project, self.run, &self.cupboard, all);
    }
}

/// What a cable may carry among so many feed cables of a run.
#[must_use]
pub fn feed_ampacity(
    project: &Project,
    run: &Run,
    cupboard: &Point,
    cable: &Cable,
    feeds: usize,
) -> Option<(Current, Source)> {
    let ambient = warmest(run, cupboard);
    let usage = CableUse::StripFeed;
    let (most, source) = ampacity(cable, project.region, ambient, feeds.max(1), usage)?;
    Some((most * cable_place::insulation_factor(project, run), source))
}

fn warmest(run: &Run, cupboard: &Point) -> Temperature {
    let known = [run.ambient, cupboard.ambient];
    known
        .into_iter()
        .flatten()
        .max_by(|a, b| a.value.total_cmp(&b.value))
        .unwrap_or_else(|| Temperature::new::<degree_celsius>(30.0))
}

/// The cable that was asked for, or those of the catalogue that could feed the run.
fn cables(project: &Project, run: &Run, cupboard: &Point) -> Result<Vec<Arc<Cable>>, ChooseError> {
    let all = match run.cable.given() {
        Some(cable) if has_resistance(cable) => vec![Arc::clone(cable)],
        Some(_) => Vec::new(),
        None => catalogue_cables(project, run),
    };
    let cables = rated_first(project, run, cupboard, all);
    if cables.is_empty() {
        return Err(ChooseError::NoCable {
            run: run.name.clone(),
            cores: cores(run),
            place: run.place.clone(),
        });
    }
    Ok(cables)
}

/// Plus and a return for each channel.
fn cores(run: &Run) -> usize {
    run.strip.channels.count() + 1
}

fn has_resistance(cable: &Cable) -> bool {
    let hot = hottest(cable.insulation);
    conductor_resistance(cable.conductor, cable.size, hot).is_some()
}

fn catalogue_cables(project: &Project, run: &Run) -> Vec<Arc<Cable>> {
    let feeds = |cable: &&Arc<Cable>| cable.uses.contains(&CableUse::StripFeed);
    project
        .catalogue
        .cables
        .iter()
        .filter(feeds)
        .filter(|cable| cable.cores >= cores(run) && has_resistance(cable))
        .cloned()
        .collect()
}

/// Those not known to be unfit for the place, unless all are; of them those of which is known what
/// they may carry, unless that is known of none, and of equal size
/// those with the fewest cores; thinnest first.
fn rated_first(
    project: &Project,
    run: &Run,
    cupboard: &Point,
    mut cables: Vec<Arc<Cable>>,
) -> Vec<Arc<Cable>> {
    let rated = |cable: &Arc<Cable>| feed_ampacity(project, run, cupboard, cable, 1).is_some();
    let suited = |cable: &Arc<Cable>| !cable_place::is_unsuited(run, cupboard, cable);
    if cables.iter().any(suited) {
        cables.retain(suited);
    }
    if cables.iter().any(rated) {
        cables.retain(rated);
    }
    let fewer_cores = |cable: &Arc<Cable>| {
        cables
            .iter()
            .any(|other| other.size == cable.size && other.cores < cable.cores)
    };
    let mut fewest: Vec<Arc<Cable>> = cables
        .iter()
        .filter(|cable| !fewer_cores(cable))
        .cloned()
        .collect();
    fewest.sort_by(|a, b| a.size.area().value.total_cmp(&b.size.area().value));
    fewest
}

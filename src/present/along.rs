//! Everything that is shown of one run: as it is sized, or as another arrangement would be.

use super::drawing::profile::Profile;
use super::job::Job;
use crate::choose::limits;
use crate::choose::sized::SizedRun;
use crate::choose::what_if::LimitRow;
use crate::judge::verdict::{Outcome, Verdict};
use crate::model::limits::Limits;
use crate::quantity::{Length, Ratio, Temperature};
use crate::solve::mix::MixAlong;
use crate::solve::tolerance::{Tolerances, Within};
use rust_decimal::Decimal;

/// One run with what is asked of it.
#[derive(Debug)]
pub struct Along<'a> {
    /// The job.
    pub job: &'a Job,
    /// The run as the job has it.
    pub present: &'a SizedRun,
    /// The run in another arrangement, when one is tried.
    pub tried: Option<Tried>,
    /// What happens along the run that is shown; `None` without a working point.
    pub profile: Option<Profile>,
    /// What may differ.
    pub tolerances: Tolerances,
    /// Its darkest place within those; `None` without a working point.
    pub within: Option<Within>,
    /// What several limits on light drop cost.
    pub limits: Vec<LimitRow>,
    /// What the next tighter limit on light drop costs; `None` when the run has no light, or is as
    /// good as the tightest.
    pub tighter: Option<LimitRow>,
    /// It in a scene.
    pub scene: Option<SceneAlong>,
}

/// Another arrangement of a run.
#[derive(Debug)]
pub struct Tried {
    /// The run so fed.
    pub sized: SizedRun,
    /// Feeds that no cable is said to reach.
    pub unreached: Vec<Length>,
}

/// A run in a scene.
#[derive(Debug)]
pub struct SceneAlong {
    /// The scene's name.
    pub scene: String,
    /// What it sets; `None` when it leaves the run's group as it is.
    pub set: Option<SceneSet>,
}

/// What a scene sets on a run.
#[derive(Debug)]
pub struct SceneSet {
    /// Light, as a share of full.
    pub light: Ratio,
    /// The level that gives it.
    pub level: Option<u8>,
    /// The white asked for.
    pub white: Option<Temperature>,
    /// The white along the run; `None` when the scene sets none, or the strip can't give it or
    /// says too little.
    pub mixed: Option<MixAlong>,
    /// Light of each segment, as a share of the strip's full light; empty without a working point.
    pub light_along: Vec<f64>,
    /// White of each segment, in K; empty where `mixed` is `None`.
    pub white_along: Vec<Option<f64>>,
    /// Why there is no white to show.
    pub why_not: Option<String>,
}

impl Along<'_> {
    /// The run that is shown: the arrangement tried, or else the job's.
    #[must_use]
    pub fn shown(&self) -> &SizedRun {
        self.tried.as_ref().map_or(self.present, |it| &it.sized)
    }

    /// The limits that the run is sized to.
    #[must_use]
    pub fn run_limits(&self) -> Limits {
        limits::of_run(&self.job.project, &self.present.run)
    }

    /// Verdicts on the run as the job has it that say it is broken.
    pub fn broken(&self) -> impl Iterator<Item = &Verdict> {
        let subject = format!("run {}", self.present.run.name);
        let verdicts = self.job.verdicts_on(&subject);
        verdicts.filter(|it| it.outcome == Outcome::Broken)
    }

    /// Whether the run that is shown breaks a limit.
    #[must_use]
    pub fn breaks_a_limit(&self) -> bool {
        match &self.tried {
            Some(tried) => tried.sized.unmet.is_some() || !tried.unreached.is_empty(),
            None => self.broken().next().is_some(),
        }
    }

    /// What the arrangement tried costs more than the present one.
    #[must_use]
    pub fn cost_difference(&self) -> Option<Decimal> {
        let new = self.tried.as_ref()?.sized.reasons.cost?;
        Some(new - self.present.reasons.cost?)
    }
}

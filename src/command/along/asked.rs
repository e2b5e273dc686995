//! What the command line asks of a run, worked out.

use super::{Args, scene};
use crate::choose::reach::Reach;
use crate::choose::sized::SizedRun;
use crate::choose::what_if::LimitRow;
use crate::choose::{self, ChooseError};
use crate::command::Failure;
use crate::load::feed::{Feed, misfit};
use crate::load::measure::Share;
use crate::load::nearest::hint;
use crate::load::written::Reads;
use crate::norms::usual::LIGHT_DROPS_PERCENT;
use crate::present::along::{Along, Tried};
use crate::present::drawing::profile::Profile;
use crate::present::job::Job;
use crate::present::measured::percent;
use crate::present::printable::printable;
use crate::quantity::Ratio;
use crate::solve::strip::State;
use crate::solve::tolerance::{Lighted, Tolerances, Within, within};
use uom::si::ratio as unit;

/// All that is to be shown.
///
/// # Errors
/// When there is no such run or scene, or a flag can't be read.
pub fn along<'a>(job: &'a Job, args: &Args) -> Result<Along<'a>, Failure> {
    let present = named(job, &args.run)?;
    let feed = args.feed.as_ref();
    let tried = feed.map(|wish| tried(job, present, wish)).transpose()?;
    let shown = tried.as_ref().map_or(present, |it| &it.sized);
    let ladder = shown.sections.first().map(|section| &section.ladder);
    let read = ladder.map(|ladder| args.tolerances.read(ladder));
    let tolerances = read.transpose()?.unwrap_or_default();
    let scene = args.scene.as_ref();
    let scene = scene
        .map(|name| scene::along(job, shown, name))
        .transpose()?;
    Ok(Along {
        job,
        present,
        profile: Profile::of(shown),
        within: darkest_within(shown, &tolerances),
        tolerances,
        limits: limits(job, args)?,
        tighter: tighter(job, present)?,
        scene,
        tried,
    })
}

fn named<'a>(job: &'a Job, name: &str) -> Result<&'a SizedRun, Failure> {
    job.sizing.run(name).ok_or_else(|| {
        let known: Vec<&str> = job
            .sizing
            .runs
            .iter()
            .map(|it| it.run.name.as_str())
            .collect();
        let hint = hint(name, &known);
        let (name, hint) = (printable(name), printable(&hint));
        Failure::saying(format!("the project has no run `{name}`{hint}"))
    })
}

fn all(errors: &[ChooseError]) -> Failure {
    let messages = errors.iter().map(|error| format!("error: {error}"));
    Failure::shown(messages.collect())
}

fn tried(job: &Job, present: &SizedRun, wish: &str) -> Result<Tried, Failure> {
    let run = &present.run;
    let wrong = |why: String| Failure::saying(format!("--feed: {why}"));
    let wish = Feed::read(wish.trim()).map_err(|unread| wrong(unread.message))?;
    if let Some(misfit) = misfit(&wish, run.length, Some(run.strip.cut)) {
        return Err(wrong(misfit));
    }
    let sized = choose::try_feed(&job.project, &run.name, wish).map_err(|errors| all(&errors))?;
    let sized = sized.ok_or_else(|| wrong("the run is gone".to_owned()))?;
    let unreached = unreached(&sized);
    Ok(Tried { sized, unreached })
}

/// Feeds that the project says no cable reaches.
fn unreached(sized: &SizedRun) -> Vec<crate::quantity::Length> {
    let run = &sized.run;
    let reach = Reach::new(run, sized.segments);
    let feeds = sized.sections.iter().flat_map(|section| &section.feeds);
    feeds
        .filter(|feed| {
            let (cut, _) = choose::arrangement::fitted(feed.at, run.strip.cut);
            reach.to(cut).is_none()
        })
        .map(|feed| feed.at)
        .collect()
}

fn limits(job: &Job, args: &Args) -> Result<Vec<LimitRow>, Failure> {
    let wrong = |why: String| Failure::saying(format!("--limits: {why}"));
    let mut limits: Vec<Ratio> = Vec::new();
    for text in &args.limits {
        let share = Share::read(text.trim()).map_err(|unread| wrong(unread.message))?;
        if !(share.value > 0.0 && share.value < 1.0) {
            return Err(wrong(format!("`{text}` must be above 0 % and below 100 %")));
        }
        limits.push(share);
    }
    let rows = choose::limits_table(&job.project, &args.run, &limits);
    Ok(rows.map_err(|errors| all(&errors))?.unwrap_or_default())
}

/// The next limit on light drop that the run as the job has it does not keep already.
fn tighter(job: &Job, present: &SizedRun) -> Result<Option<LimitRow>, Failure> {
    if !present.figures.works {
        return Ok(None);
    }
    let drop = 100.0 - percent(present.figures.light_least);
    let mut usual = LIGHT_DROPS_PERCENT.into_iter();
    let Some(next) = usual.find(|limit| *limit < drop) else {
        return Ok(None);
    };
    let limit = Ratio::new::<unit::percent>(next);
    let rows = choose::limits_table(&job.project, &present.run.name, &[limit]);
    Ok(rows
        .map_err(|errors| all(&errors))?
        .and_then(|rows| rows.into_iter().next()))
}

fn darkest_within(sized: &SizedRun, tolerances: &Tolerances) -> Option<Within> {
    if !sized.figures.works {
        return None;
    }
    let ladders: Vec<Lighted> = sized
        .sections
        .iter()
        .map(|section| {
            let states = section.states.iter().map(|state: &State| state.lit);
            (&*section.ladder, states.collect())
        })
        .collect();
    Some(within(&ladders, tolerances))
}

//! What `feedpoint size --format json` prints: runs, drivers, feed cables.

use super::driver::{Cable, Driver, DriverChoice};
use super::{FORMAT, Number, Project, number};
use crate::choose::sized::{
    Reasons as SizedReasons, Section as SizedSection, SizedFeed, SizedRun, StateFigures,
};
use crate::present::job::Job;
use crate::present::measured::{amperes, metres, percent, volts, watts};
use schemars::JsonSchema;
use serde::Serialize;

/// Runs, drivers, feed cables.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Size {
    /// Number of this format.
    pub format: u32,
    /// The project.
    pub project: Project,
    /// Runs, in project order.
    pub runs: Vec<Run>,
    /// Drivers, by number.
    pub drivers: Vec<Driver>,
    /// How well the choice of drivers is proved, by cupboard and group.
    pub driver_choices: Vec<DriverChoice>,
    /// Feed cables, by number.
    pub cables: Vec<Cable>,
}

impl Size {
    /// The sizing of a job.
    #[must_use]
    pub fn of(job: &Job) -> Size {
        Size {
            format: FORMAT,
            project: Project::of(job),
            runs: job.sizing.runs.iter().map(Run::of).collect(),
            drivers: job.sizing.drivers.iter().map(Driver::of).collect(),
            driver_choices: job.sizing.proofs.iter().map(DriverChoice::of).collect(),
            cables: job
                .sizing
                .cables
                .iter()
                .map(|it| Cable::of(job, it))
                .collect(),
        }
    }
}

/// A run.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Run {
    /// Its name.
    pub run: String,
    /// The room it is in.
    pub room: String,
    /// Id of its strip.
    pub strip: String,
    /// The group it dims with.
    pub group: String,
    /// The cupboard its drivers stand in.
    pub cupboard: String,
    /// Length asked for.
    pub asked_m: Number,
    /// Length that whole segments give.
    pub length_m: Number,
    /// Segments.
    pub segments: usize,
    /// Sections, in order along the run.
    pub sections: Vec<Section>,
    /// Feeds, in order along the run.
    pub feeds: Vec<Feed>,
    /// Least voltage across a segment; `null` when a section has no working point.
    pub volts_least_v: Number,
    /// Most voltage lost from the driver to a segment; `null` likewise.
    pub feed_drop_v: Number,
    /// The same, of nominal.
    pub feed_drop_percent: Number,
    /// Light of the darkest segment, of nominal; `null` likewise.
    pub light_least_percent: Number,
    /// Light of the brightest segment in the least even state, of nominal; `null` likewise.
    pub light_most_percent: Number,
    /// Darkest over brightest segment in the least even state; `null` likewise.
    pub light_evenness_percent: Number,
    /// Where the darkest segment is, from the run's start.
    pub darkest_at_m: Number,
    /// Largest colour shift between two places, in steps of 0.0011 in u′v′; `null` for a single
    /// colour, or when whites or fluxes are not known.
    pub colour_shift_steps: Number,
    /// Segments without light.
    pub dark_segments: usize,
    /// Whether every section has a working point.
    pub works: bool,
    /// What its light rests on, where a figure was missing.
    pub light_assumed: Option<String>,
    /// Figures by state.
    pub states: Vec<State>,
    /// Why it is fed so.
    pub reasons: Reasons,
    /// Why it does not keep every limit, where nothing does.
    pub unmet: Option<Unmet>,
}

impl Run {
    pub(super) fn of(sized: &SizedRun) -> Run {
        let figures = &sized.figures;
        let working = |value: f64| if figures.works { number(value) } else { None };
        let run = &sized.run;
        Run {
            run: run.name.clone(),
            room: run.room.name.clone(),
            strip: run.strip.offer.id.clone(),
            group: run.group.name.clone(),
            cupboard: sized.cupboard.name.clone(),
            asked_m: number(metres(run.length)),
            length_m: number(metres(sized.length)),
            segments: sized.segments,
            sections: numbered(&sized.sections, Section::of),
            feeds: feeds(sized),
            volts_least_v: working(volts(figures.volts_least)),
            feed_drop_v: working(volts(figures.feed_drop)),
            feed_drop_percent: working(percent(figures.feed_drop_share)),
            light_least_percent: working(percent(figures.light_least)),
            light_most_percent: working(percent(figures.light_most)),
            light_evenness_percent: working(percent(figures.evenness)),
            darkest_at_m: working(metres(figures.darkest_at)),
            colour_shift_steps: figures.colour_shift.and_then(number),
            dark_segments: figures.dark_segments,
            works: figures.works,
            light_assumed: sized.light_assumed.as_ref().map(|it| it.statement.clone()),
            states: sized.states.iter().map(State::of).collect(),
            reasons: Reasons::of(&sized.reasons),
            unmet: sized.unmet.as_ref().map(|unmet| Unmet {
                limit: unmet.limit.clone(),
                by: unmet.by.clone(),
                also: unmet.also.clone(),
                cure: unmet.cure.clone(),
            }),
        }
    }
}

fn numbered<T, U>(items: &[T], make: impl Fn(usize, &T) -> U) -> Vec<U> {
    let numbers = 1..;
    numbers.zip(items).map(|(n, item)| make(n, item)).collect()
}

fn feeds(sized: &SizedRun) -> Vec<Feed> {
    numbered(&sized.sections, |number, section| {
        let feeds = section.feeds.iter();
        feeds
            .map(|feed| Feed::of(number, section, feed))
            .collect::<Vec<_>>()
    })
    .into_iter()
    .flatten()
    .collect()
}

/// An uncut piece of a run, on one driver output.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Section {
    /// Number along the run, from 1.
    pub section: usize,
    /// Where it begins, from the run's start.
    pub start_m: Number,
    /// Length.
    pub length_m: Number,
    /// Segments.
    pub segments: usize,
    /// Power from the driver at the worst mix it allows.
    pub power_w: Number,
    /// Most current of each channel.
    pub channel_currents_a: Vec<Number>,
    /// Its driver; `null` when none can feed it.
    pub driver: Option<String>,
    /// The unit that feeds its cool channel, where two single-channel units stand in for one
    /// two-channel driver and `driver` feeds the warm one; else `null`.
    pub beside: Option<String>,
    /// Output of that driver, from 1.
    pub output: usize,
    /// Joints between pieces of reel.
    pub joints: usize,
}

impl Section {
    fn of(section: usize, sized: &SizedSection) -> Section {
        let currents = sized.channel_currents.iter();
        Section {
            section,
            start_m: number(metres(sized.start)),
            length_m: number(metres(sized.length)),
            segments: sized.segments,
            power_w: number(watts(sized.power)),
            channel_currents_a: currents.map(|it| number(amperes(*it))).collect(),
            driver: driver_of(sized),
            beside: sized.beside.clone(),
            output: sized.output,
            joints: sized.joints,
        }
    }
}

fn driver_of(section: &SizedSection) -> Option<String> {
    (!section.driver.is_empty()).then(|| section.driver.clone())
}

/// A feed.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Feed {
    /// Section, from 1.
    pub section: usize,
    /// Place, from the run's start.
    pub at_m: Number,
    /// Its driver; `null` when none can feed it.
    pub driver: Option<String>,
    /// Output of that driver, from 1.
    pub output: usize,
    /// Id of its cable.
    pub cable: String,
    /// Length of that cable, one way.
    pub cable_length_m: Number,
    /// Most current in its plus core.
    pub current_a: Number,
    /// Least voltage where it joins the strip.
    pub volts_v: Number,
}

impl Feed {
    fn of(number_of_section: usize, section: &SizedSection, feed: &SizedFeed) -> Feed {
        Feed {
            section: number_of_section,
            at_m: number(metres(feed.at)),
            driver: driver_of(section),
            output: section.output,
            cable: section.cable.offer.id.clone(),
            cable_length_m: number(metres(feed.cable_length)),
            current_a: number(amperes(feed.current)),
            volts_v: number(volts(feed.volts)),
        }
    }
}

/// Figures in one lit state.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct State {
    /// `on`, `warm`, `cool` or `both`.
    pub lit: String,
    /// Least voltage across a segment.
    pub volts_least_v: Number,
    /// Where that segment is.
    pub darkest_at_m: Number,
    /// Voltage lost from the driver to it.
    pub feed_drop_v: Number,
    /// Light of the darkest segment, of nominal.
    pub light_least_percent: Number,
    /// Light of the brightest segment, of nominal.
    pub light_most_percent: Number,
    /// Segments without light.
    pub dark_segments: usize,
    /// Current from the driver.
    pub current_a: Number,
}

impl State {
    fn of(state: &StateFigures) -> State {
        State {
            lit: state.lit.name().to_owned(),
            volts_least_v: number(volts(state.volts_least)),
            darkest_at_m: number(metres(state.darkest_at)),
            feed_drop_v: number(volts(state.feed_drop)),
            light_least_percent: number(percent(state.light_least)),
            light_most_percent: number(percent(state.light_most)),
            dark_segments: state.dark_segments,
            current_a: number(amperes(state.current)),
        }
    }
}

/// Why an arrangement was taken.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Reasons {
    /// The arrangement in words.
    pub arrangement: String,
    /// Cost that was compared; `null` when a price is missing.
    pub cost: Option<String>,
    /// The next cheapest that keeps every limit.
    pub runner_up: Option<String>,
    /// Its cost.
    pub runner_up_cost: Option<String>,
    /// The limit that the next simpler arrangement breaks.
    pub deciding_limit: Option<String>,
}

impl Reasons {
    fn of(reasons: &SizedReasons) -> Reasons {
        let runner_up = reasons.runner_up.as_ref();
        Reasons {
            arrangement: reasons.arrangement.clone(),
            cost: reasons.cost.map(super::money),
            runner_up: runner_up.map(|(name, _)| name.clone()),
            runner_up_cost: runner_up.map(|(_, cost)| super::money(*cost)),
            deciding_limit: reasons.deciding_limit.clone(),
        }
    }
}

/// A limit that nothing in the catalogue keeps.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Unmet {
    /// Which limit.
    pub limit: String,
    /// By how much, in words with figures.
    pub by: String,
    /// The other limits that fail there, each with by how much.
    pub also: Vec<String>,
    /// What would cure it.
    pub cure: String,
}

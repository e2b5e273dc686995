//! Drivers and feed cables, as `feedpoint size --format json` prints them.

use super::{Number, money, names, number};
use crate::choose::limits::counted_current;
use crate::choose::sized::{FeedCable, OutputUse, PackingProof, SizedDriver};
use crate::present::job::Job;
use crate::present::measured::{amperes, metres, percent, volts, watts};
use schemars::JsonSchema;
use serde::Serialize;

/// A driver.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Driver {
    /// Its number, as in `D-01`.
    pub driver: String,
    /// Its catalogue id.
    pub item: String,
    /// Where it stands.
    pub cupboard: String,
    /// The group it serves.
    pub group: String,
    /// Rated power.
    pub rated_w: Number,
    /// Rated power at the cupboard's ambient.
    pub usable_w: Number,
    /// Load at the worst mix.
    pub load_w: Number,
    /// Load of what is usable.
    pub load_percent: Number,
    /// Names of its runs.
    pub runs: Vec<String>,
    /// Outputs in use.
    pub outputs: Vec<Output>,
    /// The other unit and the white that this one feeds, where two single-channel units stand in
    /// for one two-channel driver; else `null`.
    pub half: Option<Half>,
}

/// One of two single-channel units that stand in for one two-channel driver.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Half {
    /// `warm` or `cool`.
    pub white: String,
    /// Number of the other unit.
    pub other: String,
}

impl Driver {
    pub(super) fn of(sized: &SizedDriver) -> Driver {
        Driver {
            driver: sized.number.clone(),
            item: sized.item.offer.id.clone(),
            cupboard: sized.cupboard.name.clone(),
            group: sized.group.name.clone(),
            rated_w: number(watts(sized.item.output.power)),
            usable_w: number(watts(sized.usable)),
            load_w: number(watts(sized.load)),
            load_percent: number(percent(sized.load_share)),
            runs: names(sized.runs.iter().map(String::as_str)),
            outputs: sized.outputs.iter().map(Output::of).collect(),
            half: sized.half.as_ref().map(|half| Half {
                white: half.white().to_owned(),
                other: half.other.clone(),
            }),
        }
    }
}

/// An output of a driver.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Output {
    /// Its number, from 1.
    pub output: usize,
    /// Most current of each channel.
    pub channel_currents_a: Vec<Number>,
    /// Sections on it.
    pub sections: Vec<OutputSection>,
}

/// A section on an output.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct OutputSection {
    /// Run.
    pub run: String,
    /// Section, from 1.
    pub section: usize,
}

impl Output {
    fn of(used: &OutputUse) -> Output {
        let sections = used.sections.iter();
        Output {
            output: used.output,
            channel_currents_a: used
                .channel_currents
                .iter()
                .map(|current| number(amperes(*current)))
                .collect(),
            sections: sections
                .map(|(run, section)| OutputSection {
                    run: run.clone(),
                    section: *section,
                })
                .collect(),
        }
    }
}

/// A feed cable.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Cable {
    /// Its number, as in `F-001`.
    pub cable: String,
    /// Its driver; `null` when none can feed it.
    pub driver: Option<String>,
    /// The unit on its second return core, where two single-channel units stand in for one
    /// two-channel driver; else `null`.
    pub beside: Option<String>,
    /// The run it feeds.
    pub run: String,
    /// Section, from 1.
    pub section: usize,
    /// Place of the feed, from the run's start.
    pub at_m: Number,
    /// Its catalogue id.
    pub item: String,
    /// Length, one way.
    pub length_m: Number,
    /// Most current in its plus core.
    pub current_a: Number,
    /// That current as it counts against what the cable may carry: 125 % of it in `north-america`,
    /// where lighting is a continuous load.
    pub counted_a: Number,
    /// Current it may carry there; `null` when neither table nor maker says.
    pub ampacity_a: Number,
    /// Voltage lost in it, there and back.
    pub drop_v: Number,
    /// The same, of the strip's nominal voltage.
    pub drop_percent: Number,
}

impl Cable {
    pub(super) fn of(job: &Job, cable: &FeedCable) -> Cable {
        let run = job.sizing.run(&cable.run);
        let share = run.map(|it| percent(cable.drop / it.run.strip.voltage));
        Cable {
            cable: cable.number.clone(),
            driver: (!cable.driver.is_empty()).then(|| cable.driver.clone()),
            beside: cable.beside.clone(),
            run: cable.run.clone(),
            section: cable.section,
            at_m: number(metres(cable.at)),
            item: cable.item.offer.id.clone(),
            length_m: number(metres(cable.length)),
            current_a: number(amperes(cable.current)),
            counted_a: number(amperes(counted_current(job.project.region, cable.current))),
            ampacity_a: cable.ampacity.and_then(|it| number(amperes(it))),
            drop_v: number(volts(cable.drop)),
            drop_percent: share.and_then(number),
        }
    }
}

/// How well the choice of drivers in a cupboard for a group is proved.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct DriverChoice {
    /// Cupboard and group.
    pub subject: String,
    /// Whether no choice is cheaper for these feeds.
    pub proved: bool,
    /// What its drivers cost with their labour; `null` when a price is missing.
    pub cost: Option<String>,
    /// No choice costs less than this; `null` when a price is missing.
    pub bound: Option<String>,
    /// How much of the cost could be saved at most.
    pub gap_percent: Number,
}

impl DriverChoice {
    pub(super) fn of(proof: &PackingProof) -> DriverChoice {
        DriverChoice {
            subject: proof.subject.clone(),
            proved: proof.optimal,
            cost: proof.cost.map(money),
            bound: proof.bound.map(money),
            gap_percent: proof.gap().and_then(|gap| number(percent(gap))),
        }
    }
}

//! What sizing yields: each run with its feeds, the drivers, the feed cables.

use super::places::Places;
use super::sharing::Sharing;
use crate::model::assumption::Assumption;
use crate::model::by_name::ByName;
use crate::model::cable::Cable;
use crate::model::driver::Driver;
use crate::model::issued::Released;
use crate::model::run::Run;
use crate::model::scene::Group;
use crate::model::site::Point;
use crate::norms::limit::Source;
use crate::quantity::{Current, Length, Power, Ratio, Resistance, Temperature, Voltage};
use crate::solve::strip::{Ladder, Lit, State};
use num_traits::ToPrimitive;
use rust_decimal::Decimal;
use std::sync::Arc;
use uom::si::ratio::ratio;

/// One feed of a section.
#[derive(Debug, Clone, PartialEq)]
pub struct SizedFeed {
    /// Place on the run, from its start.
    pub at: Length,
    /// Length of cable from the driver, one way, as the run says it is reached.
    pub cable_length: Length,
    /// Resistance of its plus core at working temperature.
    pub core: Resistance,
    /// Most current in its plus core over all states.
    pub current: Current,
    /// Least voltage where it joins the strip, over all states.
    pub volts: Voltage,
}

/// Figures of one section or run in one lit state.
#[derive(Debug, Clone, PartialEq)]
pub struct StateFigures {
    /// Which channels are on.
    pub lit: Lit,
    /// Least voltage across a segment.
    pub volts_least: Voltage,
    /// Where that segment is (its middle), from the run's start.
    pub darkest_at: Length,
    /// Voltage lost from the driver to the worst segment.
    pub feed_drop: Voltage,
    /// Light of the darkest segment, share of nominal.
    pub light_least: Ratio,
    /// Light of the brightest segment, share of nominal.
    pub light_most: Ratio,
    /// Segments that give no light.
    pub dark_segments: usize,
    /// Current from the driver.
    pub current: Current,
}

/// The worst figures of a run over its sections and states.
#[derive(Debug, Clone, PartialEq)]
pub struct RunFigures {
    /// Least voltage across a segment.
    pub volts_least: Voltage,
    /// Most voltage lost from the driver to a segment.
    pub feed_drop: Voltage,
    /// That, as a share of nominal.
    pub feed_drop_share: Ratio,
    /// Light of the darkest segment, share of nominal.
    pub light_least: Ratio,
    /// Light of the brightest segment in the state where the run is least even.
    pub light_most: Ratio,
    /// Darkest over brightest in the least even state, over the whole run.
    pub evenness: Ratio,
    /// Where the darkest segment is, from the run's start.
    pub darkest_at: Length,
    /// Largest colour shift between two places, in steps; `None` for a single colour, or when the
    /// whites or fluxes are not known.
    pub colour_shift: Option<f64>,
    /// Segments without light.
    pub dark_segments: usize,
    /// Whether every section has a working point.
    pub works: bool,
}

/// An uncut piece of a run, on one driver output.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Where it begins, from the run's start.
    pub start: Length,
    /// Its segments.
    pub segments: usize,
    /// Its length, whole segments.
    pub length: Length,
    /// Its feeds, rising place. All hang on the same driver output.
    pub feeds: Vec<SizedFeed>,
    /// Its feed cable.
    pub cable: Arc<Cable>,
    /// The network that was solved.
    pub ladder: Arc<Ladder>,
    /// The solved states; empty when it has no working point.
    pub states: Arc<[State]>,
    /// Power it takes from the driver at the worst mix the driver allows.
    pub power: Power,
    /// Current of each channel, full on, at the driver.
    pub channel_currents: Vec<Current>,
    /// Number of its driver, as in `D-01`; empty when no driver could be found.
    pub driver: String,
    /// Number of the unit that feeds its cool channel, where two single-channel units stand in for
    /// one two-channel driver; `driver` then feeds the warm one.
    pub beside: Option<String>,
    /// Which output of that driver, from 1.
    pub output: usize,
    /// Joints between pieces of reel, known after cutting; 0 before.
    pub joints: usize,
}

impl Section {
    /// Most current of a channel, at the driver.
    #[must_use]
    pub fn most_current(&self) -> Current {
        let each = self.channel_currents.iter().copied();
        each.fold(Current::default(), Current::max)
    }

    /// Most power of one channel, at the driver.
    #[must_use]
    pub fn channel_power(&self, channel: usize) -> Power {
        let current = self.channel_currents.get(channel).copied();
        self.ladder.supply * current.unwrap_or_default()
    }

    /// Power that it takes with both whites full on; `None` for a single colour.
    #[must_use]
    pub fn both_on(&self) -> Option<Power> {
        let both = self.states.iter().find(|state| state.lit == Lit::Both);
        both.map(|state| state.source_power)
    }

    /// Numbers of the drivers that feed it: `D-01`, or `D-01 + D-02` where two units share it.
    #[must_use]
    pub fn fed_by(&self) -> String {
        joined(&self.driver, self.beside.as_deref())
    }
}

fn joined(driver: &str, beside: Option<&str>) -> String {
    beside.map_or_else(|| driver.to_owned(), |other| format!("{driver} + {other}"))
}

/// Why nothing in the catalogue keeps every limit, in the nearest arrangement tried.
#[derive(Debug, Clone, PartialEq)]
pub struct Unmet {
    /// Which limit fails: "light drop", "driver output current".
    pub limit: String,
    /// By how much, in words with figures: "12.4 % (limit 10 %)".
    pub by: String,
    /// The other limits that fail there, each with by how much: "driver load 88.0 % (limit 85.0 %)".
    pub also: Vec<String>,
    /// What would cure it.
    pub cure: String,
}

impl Unmet {
    /// Every limit that fails, in words: "feed drop 3.5 % (limit 3.0 %), driver load 88.0 % (limit 85.0 %)".
    #[must_use]
    pub fn what(&self) -> String {
        let first = format!("{} {}", self.limit, self.by);
        let all: Vec<&str> = std::iter::once(first.as_str())
            .chain(self.also.iter().map(String::as_str))
            .collect();
        all.join(", ")
    }
}

/// Why this arrangement and not another.
#[derive(Debug, Clone, PartialEq)]
pub struct Reasons {
    /// The arrangement in words: "both ends", "3 feeds", "2 sections".
    pub arrangement: String,
    /// Cost of cable, labour, connectors and driver share that was compared; `None` when a price
    /// is missing.
    pub cost: Option<Decimal>,
    /// The next cheapest that keeps every limit, and its cost.
    pub runner_up: Option<(String, Decimal)>,
    /// The limit that the next simpler arrangement breaks, in words with figures.
    pub deciding_limit: Option<String>,
    /// Why it is no longer fed as it was issued; `None` when it is, or was not issued.
    pub released: Option<String>,
}

/// A run with its sections, feeds and figures.
#[derive(Debug, Clone, PartialEq)]
pub struct SizedRun {
    /// The run as asked for.
    pub run: Arc<Run>,
    /// The cupboard its drivers stand in.
    pub cupboard: Arc<Point>,
    /// Whole segments that fit the length asked for.
    pub segments: usize,
    /// Their length.
    pub length: Length,
    /// Its sections, in order along the run. Never empty.
    pub sections: Vec<Section>,
    /// Figures by state, over all sections.
    pub states: Vec<StateFigures>,
    /// The worst of them.
    pub figures: RunFigures,
    /// Why this arrangement.
    pub reasons: Reasons,
    /// Why it does not keep every limit, when `auto` found nothing that does.
    pub unmet: Option<Unmet>,
    /// Temperature at which its feed cables were judged.
    pub cable_temperature: Temperature,
    /// Whether a figure its light rests on was assumed; such verdicts are *cannot tell*.
    pub light_assumed: Option<Assumption>,
}

/// One output of a driver in use.
#[derive(Debug, Clone, PartialEq)]
pub struct OutputUse {
    /// Output number, from 1. A tunable white output is two channels.
    pub output: usize,
    /// Most current of each channel.
    pub channel_currents: Vec<Current>,
    /// The sections on it, as (run name, section number from 1).
    pub sections: Vec<(String, usize)>,
}

/// What makes a driver one of two single-channel units that stand in for one two-channel driver.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Half {
    /// The channel of the strips that it feeds: 0 is warm, 1 is cool.
    pub channel: usize,
    /// Number of the other unit.
    pub other: String,
}

impl Half {
    /// The white that it feeds.
    #[must_use]
    pub fn white(&self) -> &'static str {
        if self.channel == 0 { "warm" } else { "cool" }
    }
}

/// A driver with what hangs on it.
#[derive(Debug, Clone, PartialEq)]
pub struct SizedDriver {
    /// Its number, as in `D-01`; numbered by cupboard in site order, then by group.
    pub number: String,
    /// What it is.
    pub item: Arc<Driver>,
    /// Where it stands.
    pub cupboard: Arc<Point>,
    /// The group it serves.
    pub group: Arc<Group>,
    /// Outputs in use.
    pub outputs: Vec<OutputUse>,
    /// Load at the worst mix.
    pub load: Power,
    /// Rated power at the cupboard's ambient.
    pub usable: Power,
    /// Load as a share of that.
    pub load_share: Ratio,
    /// Names of the runs it feeds, in project order.
    pub runs: Vec<String>,
    /// Rooms of those runs, in project order.
    pub rooms: Vec<Arc<Point>>,
    /// The other unit and the channel, where two single-channel units stand in for one two-channel
    /// driver; `None` for a driver that feeds its strips by itself.
    pub half: Option<Half>,
}

/// A feed cable from a driver to a feed.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedCable {
    /// Its number, as in `F-001`, in the order of runs, sections and feeds.
    pub number: String,
    /// Where it starts: the driver's number.
    pub driver: String,
    /// The unit on its second return core, as [`Section::beside`].
    pub beside: Option<String>,
    /// The run and section (from 1) it feeds.
    pub run: String,
    /// Section number, from 1.
    pub section: usize,
    /// Place of the feed, from the run's start.
    pub at: Length,
    /// What it is.
    pub item: Arc<Cable>,
    /// Length, one way.
    pub length: Length,
    /// Most current in its plus core.
    pub current: Current,
    /// Current it may carry there, all factors applied; `None` when neither table nor maker says.
    pub ampacity: Option<Current>,
    /// Where that figure comes from; `None` with it.
    pub ampacity_source: Option<Source>,
    /// Voltage lost in it (go and return), worst state.
    pub drop: Voltage,
}

impl FeedCable {
    /// Numbers of the drivers that it starts at, as [`Section::fed_by`].
    #[must_use]
    pub fn from(&self) -> String {
        joined(&self.driver, self.beside.as_deref())
    }

    /// Whether it starts at a driver.
    #[must_use]
    pub fn starts_at(&self, driver: &SizedDriver) -> bool {
        self.driver == driver.number || self.beside.as_ref() == Some(&driver.number)
    }
}

/// How well a packing is proved.
#[derive(Debug, Clone, PartialEq)]
pub struct PackingProof {
    /// Cupboard and group it is about.
    pub subject: String,
    /// What its drivers cost, prices and labour as they are compared; `None` when a price is
    /// missing.
    pub cost: Option<Decimal>,
    /// Whether the packing is proved the cheapest.
    pub optimal: bool,
    /// No packing costs less than this; `None` when a price is missing.
    pub bound: Option<Decimal>,
}

impl PackingProof {
    /// How much of its cost could be saved at most.
    #[must_use]
    pub fn gap(&self) -> Option<Ratio> {
        let (cost, bound) = self.cost.zip(self.bound)?;
        let share = (cost - bound).checked_div(cost).unwrap_or_default();
        share.to_f64().map(Ratio::new::<ratio>)
    }
}

/// How a run is fed, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Fed {
    /// The sections, without driver numbers.
    pub sections: Vec<Section>,
    /// Figures by state.
    pub states: Vec<StateFigures>,
    /// The worst of them.
    pub figures: RunFigures,
    /// What its driver has on at once.
    pub sharing: Sharing,
    /// Why this arrangement.
    pub reasons: Reasons,
    /// Why it does not keep every limit.
    pub unmet: Option<Unmet>,
}

/// The whole of sizing.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sizing {
    /// Runs, in project order.
    pub runs: Vec<SizedRun>,
    /// How each of them is fed, before drivers are shared out.
    pub fed: Vec<Arc<Fed>>,
    /// Whether two single-channel units could stand in for a two-channel driver.
    pub pairs: bool,
    /// Drivers, by number.
    pub drivers: Vec<SizedDriver>,
    /// Feed cables, by number.
    pub cables: Vec<FeedCable>,
    /// What was assumed, without repetition, in order of subject.
    pub assumptions: Vec<Assumption>,
    /// Proofs of the driver packings.
    pub proofs: Vec<PackingProof>,
    /// What could not stay as it was issued.
    pub released: Vec<Released>,
    /// Where things stand, by name.
    pub by_name: ByName<Places>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_limit_that_fails_is_told_the_first_one_first() {
        let mut unmet = Unmet {
            limit: "feed drop".to_owned(),
            by: "3.5 % (limit 3.0 %)".to_owned(),
            also: Vec::new(),
            cure: String::new(),
        };
        assert_eq!(unmet.what(), "feed drop 3.5 % (limit 3.0 %)");
        unmet
            .also
            .push("driver load 88.0 % (limit 85.0 %)".to_owned());
        let both = "feed drop 3.5 % (limit 3.0 %), driver load 88.0 % (limit 85.0 %)";
        assert_eq!(unmet.what(), both);
    }
}

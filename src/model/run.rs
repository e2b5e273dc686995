//! A run of strip as asked for.

use super::Choice;
use super::cable::Cable;
use super::driver::Driver;
use super::extra::Profile;
use super::scene::Group;
use super::site::Point;
use super::strip::{BendWay, Strip};
use crate::diagnostic::Place;
use crate::quantity::{Length, Temperature};
use std::sync::Arc;

/// How a run is fed, as asked for. Places are distances from the run's start.
#[derive(Debug, Clone, PartialEq)]
pub enum FeedWish {
    /// The program chooses.
    Auto,
    /// At the start.
    Start,
    /// At the end.
    End,
    /// At both ends, from one driver output.
    BothEnds,
    /// In the middle.
    Middle,
    /// At the start, then every so far, from one driver output.
    Every(Length),
    /// At these places, from one driver output.
    At(Vec<Length>),
    /// Cut into sections of these lengths, each fed at its start by a driver output of its own.
    Sections(Vec<Length>),
}

/// A bend of a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Bend {
    /// Its radius.
    pub radius: Length,
    /// Which way the strip is bent.
    pub way: BendWay,
    /// Where it stands in the project file.
    pub place: Place,
}

/// What only some projects say of a run.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct RunDetail {
    /// Its bends.
    pub bends: Vec<Bend>,
    /// The name of the view that it is seen in together with others; `None`: with the runs of its
    /// group in its room.
    pub view: Option<String>,
    /// The bin on its reel's label.
    pub bin: Option<String>,
}

/// A run of strip as the project asks for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Its name.
    pub name: String,
    /// The room it is in.
    pub room: Arc<Point>,
    /// The strip.
    pub strip: Arc<Strip>,
    /// Length asked for; fitted down to whole segments.
    pub length: Length,
    /// The group it dims with.
    pub group: Arc<Group>,
    /// Where its driver stands.
    pub cupboard: Choice<Arc<Point>>,
    /// Cable from the cupboard to the strip's start; `None` when the start can't be reached.
    pub to_start: Option<Length>,
    /// Cable from the cupboard to the strip's end; `None` when the end can't be reached.
    pub to_end: Option<Length>,
    /// Whether cable may run beside the strip to a feed along it.
    pub reach_along: bool,
    /// How it is fed.
    pub feed: FeedWish,
    /// Its feed cable.
    pub cable: Choice<Arc<Cable>>,
    /// Its driver.
    pub driver: Choice<Arc<Driver>>,
    /// The profile it is mounted in.
    pub profile: Option<Arc<Profile>>,
    /// Whether it can be reached once built; `None` when not said.
    pub accessible: Option<bool>,
    /// Whether the place is wet.
    pub wet: bool,
    /// Ambient temperature at the strip and its cable.
    pub ambient: Option<Temperature>,
    /// The ways of its feed cables.
    pub wiring: super::wiring::RunWiring,
    /// What only some projects say.
    pub detail: RunDetail,
    /// Its own light drop limit in place of the project's, and so on.
    pub limits: super::limits::RunLimits,
    /// Where it stands in the project file.
    pub place: Place,
    /// Where its `feed` key (or else the run) stands.
    pub feed_place: Place,
}

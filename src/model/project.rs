//! A project as checked.

use super::Choice;
use super::alternate::Alternate;
use super::bus::{BusSupply, ControlDevice, Controller};
use super::cable::Cable;
use super::catalogue::Catalogue;
use super::house_rule::HouseRule;
use super::issued::Record;
use super::limits::Limits;
use super::pricing::Pricing;
use super::protection::Protection;
use super::run::Run;
use super::scene::{Group, Scene};
use super::site::{Point, Site};
use super::wiring::Wiring;
use crate::diagnostic::Place;
use crate::norms::region::Region;
use crate::quantity::{Current, Frequency, Ratio, Temperature, Voltage};
use std::sync::Arc;
use time::Date;

/// What the title block says.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Heading {
    /// Title of the project.
    pub title: String,
    /// Reference.
    pub reference: Option<String>,
    /// Revision.
    pub revision: Option<String>,
    /// Whom it is for.
    pub customer: Option<String>,
    /// Who prepared it.
    pub prepared_by: Option<String>,
    /// Its date; documents carry no other.
    pub date: Option<Date>,
    /// The day on which everything must be on site.
    pub needed: Option<Date>,
    /// Where the title block stands.
    pub place: Option<Place>,
}

/// The mains supply.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// Voltage between line and neutral.
    pub voltage: Voltage,
    /// Frequency.
    pub frequency: Frequency,
    /// Phases: 1 or 3.
    pub phases: usize,
    /// Voltage already lost upstream of the panel, as a share of nominal.
    pub upstream_drop: Ratio,
}

/// Devices on the control bus other than drivers.
#[derive(Debug, Clone, PartialEq)]
pub struct DeviceSet {
    /// Their name in the project file.
    pub name: String,
    /// What each is.
    pub item: Arc<ControlDevice>,
    /// The room they are in.
    pub room: Arc<Point>,
    /// How many.
    pub count: usize,
    /// Where it stands in the project file.
    pub place: Place,
}

/// How bus cable is laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Topology {
    /// Any tree along the routes.
    Free,
    /// One line from point to point.
    Line,
}

/// How a control bus is wired where the NEC holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BusWiring {
    /// By the methods for power and lighting.
    Class1,
    /// As Class 2.
    Class2,
}

/// How loops are laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct LoopSettings {
    /// Share of addresses and current kept free.
    pub spare: Ratio,
    /// Whether a room's devices stay on one loop.
    pub keep_rooms_whole: bool,
    /// How the cable is laid.
    pub topology: Topology,
    /// Bus cable.
    pub cable: Choice<Arc<Cable>>,
    /// Loop controller.
    pub controller: Choice<Arc<Controller>>,
    /// Separate supply on each loop, where the controller has none built in.
    pub supply: Choice<Arc<BusSupply>>,
    /// Where controllers stand; empty: at the first panel.
    pub at: Vec<Arc<Point>>,
    /// A fixed number of loops, instead of the fewest.
    pub count: Option<usize>,
    /// How the bus is wired in north-america; `None` when it is not said.
    pub wiring: Option<BusWiring>,
    /// Temperature of the bus conductors.
    pub temperature: Temperature,
    /// Where the `loops` block (or else the project) stands.
    pub place: Place,
}

/// A breaker's trip curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Curve {
    /// Trips at 3 to 5 times its rating.
    B,
    /// Trips at 5 to 10 times its rating.
    C,
    /// Trips at 10 to 20 times its rating.
    D,
}

/// A circuit breaker: curve and rated amperes, as in B16.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Breaker {
    /// Trip curve.
    pub curve: Curve,
    /// Rated current in whole amperes.
    pub amperes: u32,
}

impl std::fmt::Display for Breaker {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let curve = match self.curve {
            Curve::B => 'B',
            Curve::C => 'C',
            Curve::D => 'D',
        };
        write!(f, "{curve}{}", self.amperes)
    }
}

/// How mains circuits are laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct CircuitSettings {
    /// Breaker of each circuit.
    pub breaker: Breaker,
    /// Share of the breaker's rating kept free.
    pub spare: Ratio,
    /// Rated residual current of the device that protects each circuit; `None`: there is none.
    pub residual: Option<Current>,
    /// Mains cable.
    pub cable: Choice<Arc<Cable>>,
    /// How they are protected and fed.
    pub protection: Protection,
    /// Whether one circuit may serve two cupboards.
    pub share_cupboards: bool,
    /// Whether the circuits of a room may be on several phases.
    pub spread_rooms: bool,
    /// Where the `circuits` block (or else the project) stands.
    pub place: Place,
}

/// How bad a broken rule is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Unsafe, against a rule, or will not work.
    Fault,
    /// Works, but is likely to disappoint or to fail early.
    Caution,
    /// The reader is told.
    Note,
}

impl Severity {
    /// The word used in files, tables and JSON.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Severity::Fault => "fault",
            Severity::Caution => "caution",
            Severity::Note => "note",
        }
    }
}

/// A project as checked.
#[derive(Debug, Clone, PartialEq)]
pub struct Project {
    /// Title block.
    pub heading: Heading,
    /// Region.
    pub region: Region,
    /// Mains supply.
    pub supply: Supply,
    /// What can be bought.
    pub catalogue: Catalogue,
    /// Points and routes.
    pub site: Site,
    /// The ways that cable takes.
    pub wiring: Wiring,
    /// Runs, in file order.
    pub runs: Vec<Arc<Run>>,
    /// Control devices, in file order.
    pub devices: Vec<DeviceSet>,
    /// Groups: those of the file in order, then one for each run that names none.
    pub groups: Vec<Arc<Group>>,
    /// Scenes, in file order.
    pub scenes: Vec<Scene>,
    /// Loops.
    pub loops: LoopSettings,
    /// Circuits.
    pub circuits: CircuitSettings,
    /// Limits, complete.
    pub limits: Limits,
    /// Rules of the house.
    pub house_rules: Vec<HouseRule>,
    /// Pricing.
    pub pricing: Pricing,
    /// What the customer may take instead, in file order.
    pub options: Vec<Alternate>,
    /// What the quote leaves out, in the user's words.
    pub exclusions: Vec<String>,
    /// What was assumed while reading: defaults that matter and were not set.
    pub assumptions: Vec<super::assumption::Assumption>,
    /// What was issued of it last, and what is made of that.
    pub issued: Issued,
}

/// What was issued of a project last.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Issued {
    /// The newest record beside the project; `None` when nothing was issued.
    pub record: Option<Arc<Record>>,
    /// Everything is chosen anew, as if nothing had been issued.
    pub afresh: bool,
    /// Digest of the project file and its catalogues as they were read; empty for a project that
    /// was read from no file.
    pub inputs: String,
}

impl Issued {
    /// The record that the answer starts from.
    #[must_use]
    pub fn held(&self) -> Option<&Record> {
        self.record.as_deref().filter(|_| !self.afresh)
    }
}

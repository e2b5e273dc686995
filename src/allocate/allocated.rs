//! What allocation yields: loops with their members, circuits with their drivers.

use super::issued::Changes;
use super::places::Places;
use crate::model::bus::{BusSupply, Controller};
use crate::model::by_name::ByName;
use crate::model::cable::Cable;
use crate::model::project::Breaker;
use crate::model::site::Point;
use crate::quantity::{Current, Length, Ratio, Voltage};
use std::sync::Arc;

/// Whether a member is control gear or a control device: two address spaces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MemberKind {
    /// A driver.
    Gear,
    /// A sensor, panel or other control device.
    ControlDevice,
}

/// A member of a loop.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// Driver number, or the device set's name with a number: `hall-sensor-3`.
    pub device: String,
    /// Gear or control device.
    pub kind: MemberKind,
    /// Catalogue id.
    pub item: String,
    /// Short addresses, 0 to 63, in its kind's own space. Empty when there was none left.
    pub addresses: Vec<usize>,
    /// Bus current it draws.
    pub current: Current,
    /// Whether that current was assumed (2 mA) because the datasheet is silent.
    pub current_assumed: bool,
    /// The room it serves or is in.
    pub room: Arc<Point>,
    /// Where it stands on the bus: the cupboard for a driver, the room for a device.
    pub at: Arc<Point>,
    /// Bus group numbers, 0 to 15, that it belongs to.
    pub groups: Vec<usize>,
    /// Voltage lost from the loop's supply to it, all members drawing.
    pub drop: Voltage,
}

/// A stretch of bus cable between two points of a loop's tree.
#[derive(Debug, Clone, PartialEq)]
pub struct BusStretch {
    /// The end nearer the supply.
    pub from: Arc<Point>,
    /// The other end.
    pub to: Arc<Point>,
    /// Its length.
    pub length: Length,
    /// Current of all members beyond it.
    pub current: Current,
}

/// A project group's number on a loop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoopGroup {
    /// Bus group number, 0 to 15.
    pub number: usize,
    /// The project's name for it.
    pub group: String,
    /// Its title.
    pub title: String,
}

/// A control loop.
#[derive(Debug, Clone, PartialEq)]
pub struct Loop {
    /// Its name, as in `L1`.
    pub name: String,
    /// The controller unit it hangs on, as in `CTL-1`; empty when there is no controller.
    pub controller: String,
    /// The controller's catalogue item.
    pub controller_item: Option<Arc<Controller>>,
    /// Which of that controller's loops, from 1.
    pub port: usize,
    /// Its separate bus supply, when the controller has none built in.
    pub supply_item: Option<Arc<BusSupply>>,
    /// Where supply and controller stand.
    pub at: Arc<Point>,
    /// Current its supplies always deliver.
    pub supply_guaranteed: Current,
    /// Most current its supplies may deliver.
    pub supply_maximum: Current,
    /// Addresses of gear in use.
    pub gear: usize,
    /// Addresses of control devices in use.
    pub control_devices: usize,
    /// Current of all members.
    pub current: Current,
    /// Worst voltage drop with all members drawing.
    pub drop: Voltage,
    /// Worst voltage drop with the supplies' whole maximum current drawn at the worst member.
    pub drop_full: Voltage,
    /// Longest cable distance between any two members, the supply among them.
    pub longest: Length,
    /// Cable in all.
    pub cable_length: Length,
    /// Bus cable; `None` when the catalogue has none.
    pub cable: Option<Arc<Cable>>,
    /// Members: gear by address, then control devices by address.
    pub members: Vec<Member>,
    /// The cable's tree, from the supply outwards.
    pub tree: Vec<BusStretch>,
    /// Members that no route reaches.
    pub unreached: Vec<String>,
    /// Groups on this loop, by number.
    pub groups: Vec<LoopGroup>,
    /// Scenes on this loop; the position is the scene's number, and an empty name is a number that
    /// nothing has.
    pub scenes: Vec<String>,
}

impl Loop {
    /// What its separate supply is called among what hangs on circuits.
    #[must_use]
    pub fn supply_name(&self) -> String {
        format!("supply of {}", self.name)
    }

    /// Whether a unit among what hangs on circuits is its controller or its separate supply.
    #[must_use]
    pub fn is_served_by(&self, unit: &str) -> bool {
        self.controller == unit || self.supply_name() == unit
    }
}

/// A mains circuit.
#[derive(Debug, Clone, PartialEq)]
pub struct Circuit {
    /// Its name, as in `C1`.
    pub name: String,
    /// The panel it comes from.
    pub panel: Option<Arc<Point>>,
    /// The cupboards (or points with controllers) it serves.
    pub places: Vec<Arc<Point>>,
    /// Its breaker.
    pub breaker: Breaker,
    /// Phase, 1 to 3.
    pub phase: usize,
    /// Numbers of its drivers.
    pub drivers: Vec<String>,
    /// Names of the controllers and bus supplies on it.
    pub supplies: Vec<String>,
    /// Load current; the known part when `unknown_current` is not empty.
    pub current: Current,
    /// Units on it whose mains current is not known.
    pub unknown_current: Vec<String>,
    /// Sum over drivers of 1 / (most on this breaker), as a share of 1; the known part.
    pub inrush_share: Ratio,
    /// Units on it whose inrush count is not known.
    pub unknown_inrush: Vec<String>,
    /// Sum of protective conductor currents; the known part.
    pub leakage: Current,
    /// Units on it whose leakage is not known.
    pub unknown_leakage: Vec<String>,
    /// Mains cable; `None` when the catalogue has none.
    pub cable: Option<Arc<Cable>>,
    /// Cable from the panel to the furthest place; `None` when no route leads there.
    pub length: Option<Length>,
    /// What that cable may carry; `None` when neither table nor maker says.
    pub ampacity: Option<Current>,
    /// Voltage lost to the furthest place as a share of nominal, upstream drop not included.
    pub drop: Option<Ratio>,
}

/// The whole of allocation.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Allocation {
    /// Loops, by name.
    pub loops: Vec<Loop>,
    /// Circuits, by name.
    pub circuits: Vec<Circuit>,
    /// What is not as it was issued; `None` when nothing was issued.
    pub changes: Option<Changes>,
    /// What the reader must be told: a group that spans loops, a bound that is not a proof.
    pub notes: Vec<String>,
    /// Whether the number of loops is proved least.
    pub loops_proved: bool,
    /// Whether the number of circuits is proved least.
    pub circuits_proved: bool,
    /// Where units stand, by name.
    pub by_name: ByName<Places>,
}

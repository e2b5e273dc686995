//! What `feedpoint loops --format json` prints: loops and mains circuits.

use super::{FORMAT, Number, Project, names, number};
use crate::allocate::allocated;
use crate::present::job::Job;
use crate::present::measured::{amperes, metres, milliamperes, percent, volts};
use schemars::JsonSchema;
use serde::Serialize;

/// Loops and mains circuits.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Loops {
    /// Number of this format.
    pub format: u32,
    /// The project.
    pub project: Project,
    /// Loops, by name.
    pub loops: Vec<Loop>,
    /// Mains circuits, by name.
    pub circuits: Vec<Circuit>,
    /// Whether the number of loops is proved least.
    pub loops_proved: bool,
    /// Whether the number of circuits is proved least.
    pub circuits_proved: bool,
    /// What the reader must be told.
    pub notes: Vec<String>,
}

impl Loops {
    /// The allocation of a job.
    #[must_use]
    pub fn of(job: &Job) -> Loops {
        let allocation = &job.allocation;
        Loops {
            format: FORMAT,
            project: Project::of(job),
            loops: allocation.loops.iter().map(Loop::of).collect(),
            circuits: allocation.circuits.iter().map(Circuit::of).collect(),
            loops_proved: allocation.loops_proved,
            circuits_proved: allocation.circuits_proved,
            notes: allocation.notes.clone(),
        }
    }
}

/// A control loop.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Loop {
    /// Its name, as in `L1`.
    #[serde(rename = "loop")]
    pub name: String,
    /// The controller unit it hangs on; `null` when there is none.
    pub controller: Option<String>,
    /// Catalogue id of that controller.
    pub controller_item: Option<String>,
    /// Which of that controller's loops, from 1.
    pub port: usize,
    /// Catalogue id of a separate supply.
    pub supply_item: Option<String>,
    /// Where supply and controller stand.
    pub at: String,
    /// Addresses of gear in use.
    pub gear: usize,
    /// Addresses of control devices in use.
    pub control_devices: usize,
    /// Current of all members.
    pub current_ma: Number,
    /// Current its supplies always deliver.
    pub supply_ma: Number,
    /// Most current its supplies may deliver.
    pub supply_most_ma: Number,
    /// Worst voltage drop with all members drawing.
    pub drop_v: Number,
    /// Worst voltage drop with the supplies' most current at the worst member.
    pub drop_full_v: Number,
    /// Longest cable distance between two members.
    pub longest_m: Number,
    /// Cable in all.
    pub cable_m: Number,
    /// Catalogue id of its cable; `null` when the catalogue has none.
    pub cable: Option<String>,
    /// Gear by address, then control devices by address.
    pub members: Vec<Member>,
    /// Its cable, from the supply outwards.
    pub tree: Vec<Stretch>,
    /// Members that no route reaches.
    pub unreached: Vec<String>,
    /// Groups, by number.
    pub groups: Vec<Group>,
    /// Scenes; the position is the scene's number, and an empty name is a number that is free.
    pub scenes: Vec<String>,
}

impl Loop {
    fn of(on: &allocated::Loop) -> Loop {
        Loop {
            name: on.name.clone(),
            controller: (!on.controller.is_empty()).then(|| on.controller.clone()),
            controller_item: on.controller_item.as_ref().map(|it| it.offer.id.clone()),
            port: on.port,
            supply_item: on.supply_item.as_ref().map(|it| it.offer.id.clone()),
            at: on.at.name.clone(),
            gear: on.gear,
            control_devices: on.control_devices,
            current_ma: number(milliamperes(on.current)),
            supply_ma: number(milliamperes(on.supply_guaranteed)),
            supply_most_ma: number(milliamperes(on.supply_maximum)),
            drop_v: number(volts(on.drop)),
            drop_full_v: number(volts(on.drop_full)),
            longest_m: number(metres(on.longest)),
            cable_m: number(metres(on.cable_length)),
            cable: on.cable.as_ref().map(|it| it.offer.id.clone()),
            members: on.members.iter().map(Member::of).collect(),
            tree: on.tree.iter().map(Stretch::of).collect(),
            unreached: on.unreached.clone(),
            groups: on.groups.iter().map(Group::of).collect(),
            scenes: on.scenes.clone(),
        }
    }
}

/// A member of a loop.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Member {
    /// Driver number, or the device set's name with a number.
    pub device: String,
    /// `gear` or `control device`.
    pub kind: String,
    /// Its first short address; `null` when there was none left.
    pub address: Option<usize>,
    /// All its short addresses.
    pub addresses: Vec<usize>,
    /// Its catalogue id.
    pub item: String,
    /// The room it serves or is in.
    pub room: String,
    /// Where it stands on the bus.
    pub at: String,
    /// Groups it belongs to.
    pub groups: Vec<usize>,
    /// Bus current it draws.
    pub current_ma: Number,
    /// Whether that current was assumed.
    pub current_assumed: bool,
    /// Voltage lost from the supply to it.
    pub drop_v: Number,
}

impl Member {
    fn of(member: &allocated::Member) -> Member {
        let kind = match member.kind {
            allocated::MemberKind::Gear => "gear",
            allocated::MemberKind::ControlDevice => "control device",
        };
        Member {
            device: member.device.clone(),
            kind: kind.to_owned(),
            address: member.addresses.first().copied(),
            addresses: member.addresses.clone(),
            item: member.item.clone(),
            room: member.room.name.clone(),
            at: member.at.name.clone(),
            groups: member.groups.clone(),
            current_ma: number(milliamperes(member.current)),
            current_assumed: member.current_assumed,
            drop_v: number(volts(member.drop)),
        }
    }
}

/// A stretch of bus cable.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Stretch {
    /// The end nearer the supply.
    pub from: String,
    /// The other end.
    pub to: String,
    /// Length.
    pub length_m: Number,
    /// Current of all members beyond it.
    pub current_ma: Number,
}

impl Stretch {
    fn of(stretch: &allocated::BusStretch) -> Stretch {
        Stretch {
            from: stretch.from.name.clone(),
            to: stretch.to.name.clone(),
            length_m: number(metres(stretch.length)),
            current_ma: number(milliamperes(stretch.current)),
        }
    }
}

/// A group on a loop.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Group {
    /// Group number, 0 to 15.
    pub number: usize,
    /// The project's name for it.
    pub group: String,
    /// Its name for people.
    pub title: String,
}

impl Group {
    fn of(group: &allocated::LoopGroup) -> Group {
        Group {
            number: group.number,
            group: group.group.clone(),
            title: group.title.clone(),
        }
    }
}

/// A mains circuit. Where units do not say what they draw, the sum is of those that do, and
/// `unknown_…` names the others.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Circuit {
    /// Its name, as in `C1`.
    pub circuit: String,
    /// The panel it comes from.
    pub panel: Option<String>,
    /// Places it serves.
    pub places: Vec<String>,
    /// Its breaker, as in `B16`.
    pub breaker: String,
    /// Phase, 1 to 3.
    pub phase: usize,
    /// Numbers of its drivers.
    pub drivers: Vec<String>,
    /// Controllers and bus supplies on it.
    pub supplies: Vec<String>,
    /// Load current.
    pub current_a: Number,
    /// Units whose mains current is not known.
    pub unknown_current: Vec<String>,
    /// Share of the drivers that the breaker can start.
    pub inrush_share_percent: Number,
    /// Units whose inrush count is not known.
    pub unknown_inrush: Vec<String>,
    /// Protective conductor current.
    pub leakage_ma: Number,
    /// Units whose leakage is not known.
    pub unknown_leakage: Vec<String>,
    /// Catalogue id of its cable.
    pub cable: Option<String>,
    /// Cable from the panel to the furthest place.
    pub length_m: Number,
    /// What that cable may carry.
    pub ampacity_a: Number,
    /// Voltage lost to the furthest place, of nominal.
    pub drop_percent: Number,
}

impl Circuit {
    fn of(circuit: &allocated::Circuit) -> Circuit {
        Circuit {
            circuit: circuit.name.clone(),
            panel: circuit.panel.as_ref().map(|it| it.name.clone()),
            places: names(circuit.places.iter().map(|it| it.name.as_str())),
            breaker: circuit.breaker.to_string(),
            phase: circuit.phase,
            drivers: circuit.drivers.clone(),
            supplies: circuit.supplies.clone(),
            current_a: number(amperes(circuit.current)),
            unknown_current: circuit.unknown_current.clone(),
            inrush_share_percent: number(percent(circuit.inrush_share)),
            unknown_inrush: circuit.unknown_inrush.clone(),
            leakage_ma: number(milliamperes(circuit.leakage)),
            unknown_leakage: circuit.unknown_leakage.clone(),
            cable: circuit.cable.as_ref().map(|it| it.offer.id.clone()),
            length_m: circuit.length.and_then(|it| number(metres(it))),
            ampacity_a: circuit.ampacity.and_then(|it| number(amperes(it))),
            drop_percent: circuit.drop.and_then(|it| number(percent(it))),
        }
    }
}

//! What was issued of a project: every choice and allocation by id and number, with its price.
//!
//! A record holds names rather than the things themselves: what it names may since have left the
//! project or the catalogue.

use crate::quantity::Length;
use rust_decimal::Decimal;
use time::Date;

/// An issued revision of a project.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Record {
    /// Its position among the project's issues, from 1.
    pub number: usize,
    /// Title of the project.
    pub title: String,
    /// Reference of the project.
    pub reference: Option<String>,
    /// The revision that was issued.
    pub revision: String,
    /// The project's date then.
    pub date: Option<Date>,
    /// Digest of the project file and its catalogues then.
    pub inputs: String,
    /// Rules of severity fault that were broken then.
    pub faults: usize,
    /// Highest numbers ever given, those of things that have gone included.
    pub highest: Highest,
    /// Runs, in project order.
    pub runs: Vec<IssuedRun>,
    /// Drivers, by number.
    pub drivers: Vec<IssuedDriver>,
    /// Feed cables, by number.
    pub cables: Vec<IssuedCable>,
    /// Loops, by name.
    pub loops: Vec<IssuedLoop>,
    /// Circuits, by name.
    pub circuits: Vec<IssuedCircuit>,
    /// What it came to.
    pub prices: Prices,
}

/// The highest number given to each kind of thing. A number is not given twice.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Highest {
    /// Of drivers: 15 for `D-15`.
    pub drivers: usize,
    /// Of feed cables.
    pub cables: usize,
    /// Of loops.
    pub loops: usize,
    /// Of controllers.
    pub controllers: usize,
    /// Of circuits.
    pub circuits: usize,
}

/// How a run was fed.
#[derive(Debug, Clone, PartialEq)]
pub struct IssuedRun {
    /// Its name.
    pub run: String,
    /// Its room.
    pub room: String,
    /// Its strip.
    pub strip: String,
    /// Its group.
    pub group: String,
    /// Its length, whole segments.
    pub length: Length,
    /// Where its drivers stand.
    pub cupboard: String,
    /// The arrangement in words.
    pub arrangement: String,
    /// Its sections, in order along it.
    pub sections: Vec<IssuedSection>,
}

/// An uncut piece of a run.
#[derive(Debug, Clone, PartialEq)]
pub struct IssuedSection {
    /// Where it begins, from the run's start.
    pub start: Length,
    /// Its length.
    pub length: Length,
    /// Its feed cable's item.
    pub cable: String,
    /// Its driver's number.
    pub driver: String,
    /// The number of the unit on its cool channel, where two units stand in for one driver.
    pub beside: Option<String>,
    /// Which output of that driver, from 1.
    pub output: usize,
    /// Its feeds: places from the run's start.
    pub feeds: Vec<Length>,
}

/// A driver.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IssuedDriver {
    /// Its number.
    pub driver: String,
    /// What it is.
    pub item: String,
    /// Where it stands.
    pub cupboard: String,
    /// The group it serves.
    pub group: String,
}

/// A feed cable.
#[derive(Debug, Clone, PartialEq)]
pub struct IssuedCable {
    /// Its number.
    pub cable: String,
    /// The driver it comes from.
    pub driver: String,
    /// The run it feeds.
    pub run: String,
    /// Section of that run, from 1.
    pub section: usize,
    /// Which feed of that section, from 1.
    pub feed: usize,
    /// What it is.
    pub item: String,
    /// Its length.
    pub length: Length,
}

/// A control loop.
#[derive(Debug, Clone, PartialEq)]
pub struct IssuedLoop {
    /// Its name.
    pub name: String,
    /// The controller unit it hangs on.
    pub controller: Option<String>,
    /// That controller's item.
    pub controller_item: Option<String>,
    /// Which of its loops, from 1.
    pub port: usize,
    /// Item of its separate supply.
    pub supply: Option<String>,
    /// Where supply and controller stand.
    pub at: String,
    /// Item of its cable.
    pub cable: Option<String>,
    /// Members, gear by address and then control devices by address.
    pub members: Vec<IssuedMember>,
    /// Groups with their numbers.
    pub groups: Vec<IssuedNumber>,
    /// Scenes with their numbers.
    pub scenes: Vec<IssuedNumber>,
}

/// A member of a loop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IssuedMember {
    /// Driver number, or the device set's name with a number.
    pub device: String,
    /// Whether it is a control device; else gear.
    pub control_device: bool,
    /// Its short addresses.
    pub addresses: Vec<usize>,
}

/// A group's or scene's number on a loop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IssuedNumber {
    /// The number.
    pub number: usize,
    /// The project's name for it.
    pub name: String,
}

/// A mains circuit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IssuedCircuit {
    /// Its name.
    pub name: String,
    /// The panel it comes from.
    pub panel: Option<String>,
    /// Its breaker, as in `B16`.
    pub breaker: String,
    /// Its phase, from 1.
    pub phase: usize,
    /// Item of its cable.
    pub cable: Option<String>,
    /// Its drivers.
    pub drivers: Vec<String>,
    /// Controllers and bus supplies on it.
    pub supplies: Vec<String>,
}

/// What an issue came to, at selling prices.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Prices {
    /// Currency code.
    pub currency: String,
    /// Lines of materials, labour, commissioning and provisional sums.
    pub lines: Vec<PriceLine>,
    /// Net total of the lines that have a price.
    pub net: Decimal,
}

/// A priced line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PriceLine {
    /// What it is: a catalogue item, `labour`, `commissioning` or `provisional sum`.
    pub item: String,
    /// Description for people.
    pub description: String,
    /// How much is bought, or the hours of work.
    pub quantity: Decimal,
    /// Its price; `None` when there is none.
    pub price: Option<Decimal>,
}

/// Something that could not stay as it was issued.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Released {
    /// What: `run hall-cove`, `driver D-04`, `hall-sensor-3`.
    pub subject: String,
    /// Why.
    pub reason: String,
}

impl Released {
    /// That something could not stay, and why.
    #[must_use]
    pub fn new(subject: impl Into<String>, reason: impl Into<String>) -> Released {
        Released {
            subject: subject.into(),
            reason: reason.into(),
        }
    }
}

impl Record {
    /// How a run was fed; `None` when it was not there.
    #[must_use]
    pub fn run(&self, name: &str) -> Option<&IssuedRun> {
        self.runs.iter().find(|run| run.run == name)
    }

    /// A driver by its number.
    #[must_use]
    pub fn driver(&self, number: &str) -> Option<&IssuedDriver> {
        self.drivers.iter().find(|driver| driver.driver == number)
    }

    /// What people call it: `revision B (ML-014)`.
    #[must_use]
    pub fn called(&self) -> String {
        match &self.reference {
            Some(reference) => format!("revision {} ({reference})", self.revision),
            None => format!("revision {}", self.revision),
        }
    }
}

/// The number in a name such as `D-07`, `F-012`, `L3`: its last digits; `None` without any.
#[must_use]
pub fn number_in(name: &str) -> Option<usize> {
    let digits = name.len() - name.bytes().rev().take_while(u8::is_ascii_digit).count();
    name.get(digits..)?.parse().ok()
}

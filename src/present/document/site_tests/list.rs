//! One test on site, and all tests of a job in the order in which they are done.

use super::{bus, feeds, mains};
use crate::present::job::Job;
use crate::quantity::figure::Unit;
use std::collections::BTreeMap;

/// When a test is done. Dead tests first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Mains circuits, isolated, nothing connected to them.
    MainsDead,
    /// Control bus, nothing connected to it.
    BusDead,
    /// Feed cables, neither driver nor strip connected.
    FeedsDead,
    /// Mains circuits, live.
    MainsLive,
    /// Control bus, live.
    BusLive,
    /// Drivers and strip, live, at full level.
    FeedsLive,
}

impl Stage {
    /// What it is called on the sheet.
    #[must_use]
    pub fn heading(self) -> &'static str {
        match self {
            Stage::MainsDead => {
                "Dead: mains circuits, isolated and locked off, nothing connected to them"
            }
            Stage::BusDead => "Dead: control bus, every unit and supply disconnected",
            Stage::FeedsDead => "Dead: feed cables, drivers and strip disconnected",
            Stage::MainsLive => "Live: mains circuits, all drivers at full level",
            Stage::BusLive => "Live: control bus, all units connected, no command being sent",
            Stage::FeedsLive => "Live: drivers and strip at full level",
        }
    }

    /// In a word, for data files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Stage::MainsDead => "mains dead",
            Stage::BusDead => "bus dead",
            Stage::FeedsDead => "feeds dead",
            Stage::MainsLive => "mains live",
            Stage::BusLive => "bus live",
            Stage::FeedsLive => "feeds live",
        }
    }
}

/// What a test is done with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Instrument {
    /// Resolves 0.01 Ω, leads nulled.
    LowOhms,
    /// At the voltage that the test states.
    InsulationTester,
    /// For d.c.
    Voltmeter,
    /// For d.c.
    Clamp,
    /// For mains.
    MainsVoltmeter,
    /// For mains.
    MainsClamp,
    /// Of the residual-current device.
    ResidualTester,
}

impl Instrument {
    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Instrument::LowOhms => "low-ohm meter",
            Instrument::InsulationTester => "insulation tester",
            Instrument::Voltmeter => "d.c. voltmeter",
            Instrument::Clamp => "d.c. clamp",
            Instrument::MainsVoltmeter => "a.c. voltmeter",
            Instrument::MainsClamp => "a.c. clamp",
            Instrument::ResidualTester => "RCD tester",
        }
    }

    /// What it reads in.
    #[must_use]
    pub fn unit(self) -> Unit {
        match self {
            Instrument::LowOhms => Unit::Ohm,
            Instrument::InsulationTester => Unit::Megohm,
            Instrument::Voltmeter | Instrument::MainsVoltmeter => Unit::Volt,
            Instrument::Clamp | Instrument::MainsClamp => Unit::Ampere,
            Instrument::ResidualTester => Unit::Second,
        }
    }
}

/// What a test must find.
#[derive(Debug, Clone, PartialEq)]
pub enum Expected {
    /// A reading between two bounds; one of them may be missing, and so may the reading that is
    /// expected between them.
    Reading {
        /// What is expected.
        value: Option<f64>,
        /// Least.
        low: Option<f64>,
        /// Most.
        high: Option<f64>,
        /// Unit of all three.
        unit: Unit,
    },
    /// A finding: `yes`, `none`.
    Finding(&'static str),
    /// It can't be told, and why.
    Unknown(String),
}

impl Expected {
    /// A reading between bounds.
    #[must_use]
    pub fn between(value: Option<f64>, low: f64, high: f64, unit: Unit) -> Expected {
        Expected::Reading {
            value,
            low: Some(low),
            high: Some(high),
            unit,
        }
    }

    /// A reading of at least so much.
    #[must_use]
    pub fn at_least(low: f64, unit: Unit) -> Expected {
        Expected::Reading {
            value: None,
            low: Some(low),
            high: None,
            unit,
        }
    }

    /// A reading of at most so much.
    #[must_use]
    pub fn at_most(high: f64, unit: Unit) -> Expected {
        Expected::Reading {
            value: None,
            low: None,
            high: Some(high),
            unit,
        }
    }
}

/// A test on site.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteTest {
    /// Stays the same as long as what is tested does, and no other test has it: `C1/insulation`,
    /// `hall-cove-north/1/2/volts-warm` (run, section, feed).
    pub id: String,
    /// When it is done.
    pub stage: Stage,
    /// Where one stands.
    pub place: String,
    /// The run it is about, if it is about one.
    pub run: Option<String>,
    /// What is tested: a circuit, loop, driver output or feed cable.
    pub subject: String,
    /// What to measure, between which cores.
    pub what: String,
    /// With what.
    pub instrument: Instrument,
    /// What it must find.
    pub expected: Expected,
}

/// All tests of a job, in the order in which they are done: by stage, then by where one stands.
#[must_use]
pub fn all(job: &Job) -> Vec<SiteTest> {
    let mut tests = mains::dead(job);
    tests.extend(bus::dead(job));
    tests.extend(feeds::dead(job));
    tests.extend(mains::live(job));
    tests.extend(bus::live(job));
    tests.extend(feeds::live(job));
    let mut order: BTreeMap<String, usize> = BTreeMap::new();
    for test in &tests {
        let next = order.len();
        order.entry(test.place.clone()).or_insert(next);
    }
    tests.sort_by_key(|test| (test.stage, order.get(&test.place).copied()));
    tests
}

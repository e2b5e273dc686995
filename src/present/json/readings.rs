//! What `feedpoint readings --format json` prints: readings beside what was expected, and causes.

use super::{FORMAT, Number, Project, number};
use crate::model::reading::Found;
use crate::present::cautions;
use crate::present::document::readings::told;
use crate::present::document::site_tests::Expected;
use crate::present::readings::bus::BusFinding;
use crate::present::readings::section::SectionFinding;
use crate::present::readings::{Compared, Row, Verdict, words};
use crate::solve::diagnose;
use schemars::JsonSchema;
use serde::Serialize;

/// Readings of a project.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Readings {
    /// Number of this format.
    pub format: u32,
    /// The project.
    pub project: Project,
    /// What comes before any measuring.
    pub before_measuring: Vec<String>,
    /// How many there are of each.
    pub counts: Counts,
    /// Readings, in the order of the test sheet, then places along strips.
    pub readings: Vec<Reading>,
    /// Sections with readings outside their bands.
    pub sections: Vec<Section>,
    /// Loops on which something is wrong.
    pub loops: Vec<Loop>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// How many readings there are of each verdict.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Counts {
    /// Within their bands.
    pub within: usize,
    /// Outside.
    pub outside: usize,
    /// What should be found is not known.
    pub cannot_tell: usize,
    /// Tests on the sheet that were not read.
    pub not_read: usize,
}

/// A reading.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Reading {
    /// Number on the test sheet; `null` for a place on a strip that it does not name.
    pub number: Option<usize>,
    /// The test's name.
    pub test: String,
    /// When it is done: `feeds live`.
    pub stage: String,
    /// Where one stands.
    pub place: String,
    /// What is tested.
    pub subject: String,
    /// What is measured.
    pub what: String,
    /// What is expected.
    pub expected: Number,
    /// Least.
    pub low: Number,
    /// Most.
    pub high: Number,
    /// Unit of these and of the reading; empty for a finding.
    pub unit: String,
    /// What was read; `null` for a finding or where the instrument showed more than it can.
    pub reading: Number,
    /// A finding: whether it was so; `null` for a number.
    pub found: Option<bool>,
    /// `within`, `outside` or `cannot tell`.
    pub verdict: String,
    /// Where the reading is written: file, line, column.
    pub given_at: String,
}

/// A section with readings outside their bands.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Section {
    /// Its run.
    pub run: String,
    /// Its number, from 1.
    pub section: usize,
    /// Tests whose readings are outside.
    pub outside: Vec<String>,
    /// Readings that were weighed.
    pub weighed: usize,
    /// χ² of them if nothing is wrong; `null` where nothing can be told.
    pub misfit_sound: Number,
    /// Causes, the best first.
    pub causes: Vec<Cause>,
    /// How many of them, from the first, the readings don't tell apart.
    pub alike: usize,
    /// The reading that would; `null` where they are told apart or none would.
    pub read_next: Option<ReadNext>,
    /// What it comes to, in sentences.
    pub told: Vec<String>,
}

/// A cause.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Cause {
    /// `feed-open`, `return-open`, `swapped`, `supply-low`, `thinner`, `longer`, `joint`, `shorted`
    /// or `joined`.
    pub cause: String,
    /// In words.
    pub what: String,
    /// Where.
    #[serde(rename = "where")]
    pub place: String,
    /// Its fitted number; `null` where it has none.
    pub fitted: Number,
    /// Unit of that; empty for a multiple.
    pub unit: String,
    /// χ² of the readings with it.
    pub misfit: Number,
    /// Whether that explains all of them.
    pub fits: bool,
    /// What to check first.
    pub check: String,
}

/// A reading that would tell two causes apart.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ReadNext {
    /// What to read.
    pub what: String,
    /// Unit of the two figures.
    pub unit: String,
    /// What it would be with the first cause.
    pub with_first: Number,
    /// The other cause, by its place in the list from 1.
    pub other: usize,
    /// What it would be with that.
    pub with_other: Number,
}

/// A loop on which something is wrong.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Loop {
    /// Its name.
    #[serde(rename = "loop")]
    pub name: String,
    /// Volts at the supply.
    pub supply_v: Number,
    /// Volts at the furthest unit.
    pub far_v: Number,
    /// That unit.
    pub far_unit: String,
    /// What should be lost on the way.
    pub expected_drop_v: Number,
    /// Causes, those that are checked soonest first.
    pub causes: Vec<LoopCause>,
}

/// A cause on a loop.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LoopCause {
    /// In words.
    pub what: String,
    /// What to check first.
    pub check: String,
}

impl Readings {
    /// The readings of a job.
    #[must_use]
    pub fn of(compared: &Compared) -> Readings {
        let job = compared.job;
        Readings {
            format: FORMAT,
            project: Project::of(job),
            before_measuring: cautions::before_measuring(job.project.region),
            counts: Counts {
                within: compared.count(Verdict::Within),
                outside: compared.count(Verdict::Outside),
                cannot_tell: compared.count(Verdict::CannotTell),
                not_read: compared.not_read,
            },
            readings: compared.rows.iter().map(Reading::of).collect(),
            sections: compared.sections.iter().map(Section::of).collect(),
            loops: compared.loops.iter().map(Loop::of).collect(),
            cautions: cautions::on_sheets(job),
        }
    }
}

impl Reading {
    fn of(row: &Row) -> Reading {
        let test = &row.test;
        let (value, low, high, unit) = match &test.expected {
            Expected::Reading {
                value,
                low,
                high,
                unit,
            } => (*value, *low, *high, unit.sign()),
            Expected::Finding(_) => (None, None, None, ""),
            Expected::Unknown(_) => (None, None, None, test.instrument.unit().sign()),
        };
        Reading {
            number: row.number,
            test: test.id.clone(),
            stage: test.stage.name().to_owned(),
            place: test.place.clone(),
            subject: test.subject.clone(),
            what: test.what.clone(),
            expected: value.and_then(number),
            low: low.and_then(number),
            high: high.and_then(number),
            unit: unit.to_owned(),
            reading: match row.given.found {
                Found::Number(value) => number(value),
                Found::MoreThan(_) | Found::Yes | Found::No => None,
            },
            found: match row.given.found {
                Found::Yes => Some(true),
                Found::No => Some(false),
                Found::Number(_) | Found::MoreThan(_) => None,
            },
            verdict: row.verdict.name().to_owned(),
            given_at: row.given.place.to_string(),
        }
    }
}

impl Section {
    fn of(finding: &SectionFinding) -> Section {
        let found = finding.diagnosis.as_ref();
        let causes = found.map_or(&[][..], |it| &it.causes);
        let next = found.and_then(|it| it.further.as_ref());
        Section {
            run: finding.run.run.name.clone(),
            section: finding.number,
            outside: finding.outside.clone(),
            weighed: found.map_or(0, |it| it.readings),
            misfit_sound: found.and_then(|it| number(it.healthy)),
            causes: causes.iter().map(|it| Cause::of(finding, it)).collect(),
            alike: found.map_or(0, |it| it.alike),
            read_next: next.map(|further| ReadNext {
                what: words::quantity(finding, further.quantity),
                unit: words::unit(further.quantity).sign().to_owned(),
                with_first: number(further.first),
                other: further.other + 1,
                with_other: number(further.second),
            }),
            told: found.map_or_else(Vec::new, |it| told(finding, it)),
        }
    }
}

impl Cause {
    fn of(finding: &SectionFinding, cause: &diagnose::Cause) -> Cause {
        let unit = cause.fault.number.map_or("", |it| it.unit.sign());
        Cause {
            cause: cause.fault.key.to_owned(),
            what: cause.fault.name.to_owned(),
            place: words::place(finding, cause),
            fitted: cause.number.and_then(number),
            unit: unit.to_owned(),
            misfit: number(cause.misfit),
            fits: cause.fits,
            check: cause.fault.check.to_owned(),
        }
    }
}

impl Loop {
    fn of(finding: &BusFinding) -> Loop {
        let volts = |it: crate::quantity::Voltage| number(crate::present::measured::volts(it));
        Loop {
            name: finding.name.clone(),
            supply_v: finding.supply.and_then(volts),
            far_v: finding.far.and_then(volts),
            far_unit: finding.unit.clone(),
            expected_drop_v: volts(finding.expected_lost),
            causes: finding
                .causes
                .iter()
                .map(words::bus)
                .map(|(what, check)| LoopCause {
                    what,
                    check: check.to_owned(),
                })
                .collect(),
        }
    }
}

//! Sections on which something was read outside its band, each with what may be wrong with it.

use super::{Row, Verdict, alone, segment_at, words};
use crate::choose::sized::{FeedCable, Section, SizedRun};
use crate::model::reading::{Found, GivenOf};
use crate::present::document::site_tests::{feeds, meter};
use crate::present::job::Job;
use crate::quantity::Length;
use crate::solve::cable::{conductor_resistance, core_resistance, next_thinner};
use crate::solve::diagnose::case::Differs;
use crate::solve::diagnose::{Case, Diagnosis, Meters, Quantity, Reading, diagnose};
use crate::solve::expected::{CABLE_LENGTH, readings};
use crate::solve::strip::Ladder;
use crate::solve::tolerance::{STRIP_POWER, SUPPLY};
use uom::si::electrical_resistance::ohm;

/// What a display's last digit adds to a voltmeter's error, in V. Common practice, no source.
const LAST_VOLTS: f64 = 0.01;
/// What a clamp shows of nothing, in A. Common practice, no source.
const LAST_AMPERES: f64 = 0.02;

/// A feed as it is called.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedName {
    /// Number of its cable; empty when it has none.
    pub cable: String,
    /// Where it is on the run.
    pub at: Length,
}

/// A section with readings outside their bands.
#[derive(Debug)]
pub struct SectionFinding<'a> {
    /// Its run.
    pub run: &'a SizedRun,
    /// Its number, from 1.
    pub number: usize,
    /// It.
    pub section: &'a Section,
    /// Its feeds, in order.
    pub feeds: Vec<FeedName>,
    /// Tests whose readings are outside.
    pub outside: Vec<String>,
    /// What may be wrong; `None` where the section has no working point even as sized.
    pub diagnosis: Option<Diagnosis>,
}

/// Every section with a reading outside its band.
pub(super) fn findings<'a>(job: &'a Job, rows: &[Row]) -> Vec<SectionFinding<'a>> {
    let mut found = Vec::new();
    for run in &job.sizing.runs {
        for (number, section) in (1..).zip(&run.sections) {
            found.extend(finding(job, rows, run, number, section));
        }
    }
    found
}

fn finding<'a>(
    job: &'a Job,
    rows: &[Row],
    run: &'a SizedRun,
    number: usize,
    section: &'a Section,
) -> Option<SectionFinding<'a>> {
    let named = named(run, number, section);
    let mut outside = Vec::new();
    let mut readings = Vec::new();
    for row in rows {
        let Some(quantity) = quantity(row, run, number, &named) else {
            continue;
        };
        if row.verdict == Verdict::Outside {
            outside.push(row.test.id.clone());
        }
        if let Found::Number(value) = row.given.found {
            readings.push(Reading { quantity, value });
        }
    }
    if outside.is_empty() {
        return None;
    }
    let cables: Vec<Option<&FeedCable>> = section
        .feeds
        .iter()
        .map(|feed| {
            let mut cables = job.sizing.cables.iter();
            cables.find(|cable| {
                cable.run == run.run.name && cable.section == number && cable.at == feed.at
            })
        })
        .collect();
    let feeds = section.feeds.iter().zip(&cables);
    let case = case(run, number, section, &cables);
    Some(SectionFinding {
        run,
        number,
        section,
        feeds: feeds
            .map(|(feed, cable)| FeedName {
                cable: cable.map_or_else(String::new, |it| it.number.clone()),
                at: feed.at,
            })
            .collect(),
        outside,
        diagnosis: case.and_then(|case| diagnose(&case, &readings)),
    })
}

/// The tests of a section by name, with what each reads.
fn named(run: &SizedRun, number: usize, section: &Section) -> Vec<(String, Quantity)> {
    let prefix = format!("{}/{number}", run.run.name);
    let mut named = Vec::new();
    if section.beside.is_none() {
        let output = format!("{}/{}/volts", section.driver, section.output);
        named.push((output, Quantity::Output));
    }
    let states = (0..run.run.strip.channels.count()).map(|channel| alone(run, channel));
    let spread = feeds::spread(run, section);
    for lit in states {
        let suffix = words::suffix(lit);
        for feed in 0..section.feeds.len() {
            let id = |key: &str| format!("{prefix}/{}/{key}{suffix}", feed + 1);
            named.push((id("volts"), Quantity::FeedVolts { feed, lit }));
            named.push((id("current"), Quantity::FeedCurrent { feed, lit }));
        }
        let expected = spread.and_then(|spread| readings(&section.ladder, lit, &spread));
        if let Some(expected) = expected {
            let segment = expected.darkest;
            let dimmest = Quantity::SegmentVolts { segment, lit };
            named.push((format!("{prefix}/dimmest{suffix}"), dimmest));
        }
    }
    let dead = (0..section.feeds.len()).map(|feed| {
        let id = format!("{prefix}/{}/continuity", feed + 1);
        (id, Quantity::ColdLoop { feed })
    });
    named.extend(dead);
    named
}

/// What a row reads on a section; `None` when it is about something else.
fn quantity(
    row: &Row,
    run: &SizedRun,
    number: usize,
    named: &[(String, Quantity)],
) -> Option<Quantity> {
    match &row.given.of {
        GivenOf::Test(name) => {
            let found = named.iter().find(|(id, _)| id == name);
            found.map(|(_, quantity)| *quantity)
        }
        GivenOf::OnStrip {
            run: name,
            at,
            channel,
        } => {
            if *name != run.run.name {
                return None;
            }
            let (on, _, segment) = segment_at(run, *at)?;
            (on == number).then(|| Quantity::SegmentVolts {
                segment,
                lit: alone(run, *channel),
            })
        }
    }
}

fn case(
    run: &SizedRun,
    number: usize,
    section: &Section,
    cables: &[Option<&FeedCable>],
) -> Option<Case> {
    let spread = feeds::spread(run, section)?;
    let beside = |number: Option<usize>| {
        let other = run.sections.get(number?.checked_sub(1)?)?;
        (!other.driver.is_empty()).then(|| Ladder::clone(&other.ladder))
    };
    let cable = &section.cable;
    let cold = |size| conductor_resistance(cable.conductor, size, meter::cold());
    let thinner = next_thinner(cable.size).and_then(|thinner| {
        let times = cold(thinner)? / cold(cable.size)?;
        Some(times.value)
    });
    let loop_of = |cable: &Option<&FeedCable>| {
        let cable = (*cable)?;
        let core = core_resistance(&cable.item, cable.length, meter::cold())?;
        Some(2.0 * core.get::<ohm>())
    };
    Some(Case {
        ladder: Ladder::clone(&section.ladder),
        before: beside(number.checked_sub(1)),
        after: beside(Some(number + 1)),
        cold_loops: cables.iter().map(loop_of).collect(),
        thinner,
        spread: Differs {
            power: STRIP_POWER,
            supply: SUPPLY,
            length: CABLE_LENGTH,
            coldest: spread.cable[0] / (1.0 - CABLE_LENGTH),
        },
        meters: Meters {
            volts: [meter::VOLTS, LAST_VOLTS],
            amperes: [meter::CLAMP, LAST_AMPERES],
            ohms: [meter::LOW_OHMS, meter::LEADS_OHM],
        },
    })
}

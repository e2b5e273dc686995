//! Readings against what was expected, and what is wrong where they lie outside.

pub mod bus;
pub mod section;
pub mod words;

use super::document::site_tests::{self, Expected, SiteTest, meter};
use super::job::Job;
use super::measured::{metres, volts};
use crate::choose::sized::{Section, SizedRun};
use crate::model::reading::{Answer, Asked, AskedRun, Found, Given, GivenOf, Readable};
use crate::quantity::Length;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::whole;
use crate::solve::expected::volts_in;
use crate::solve::strip::Lit;
use bus::BusFinding;
use section::SectionFinding;

/// Whether a reading is as expected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Within its band.
    Within,
    /// Outside it.
    Outside,
    /// What should be found is not known.
    CannotTell,
}

impl Verdict {
    /// In words.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Verdict::Within => "within",
            Verdict::Outside => "outside",
            Verdict::CannotTell => "cannot tell",
        }
    }
}

/// A reading beside what was expected.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Number of the test on the sheet; `None` for a place on a strip that the sheet does not name.
    pub number: Option<usize>,
    /// The test.
    pub test: SiteTest,
    /// What was read.
    pub given: Given,
    /// Whether that is as expected.
    pub verdict: Verdict,
}

/// All readings of a job, compared.
#[derive(Debug)]
pub struct Compared<'a> {
    /// The job.
    pub job: &'a Job,
    /// Readings, in the order of the test sheet, then places along strips.
    pub rows: Vec<Row>,
    /// Tests on the sheet that were not read.
    pub not_read: usize,
    /// Sections with readings outside their bands.
    pub sections: Vec<SectionFinding<'a>>,
    /// Loops on which something is wrong.
    pub loops: Vec<BusFinding>,
}

impl Compared<'_> {
    /// How many readings have a verdict.
    #[must_use]
    pub fn count(&self, verdict: Verdict) -> usize {
        self.rows
            .iter()
            .filter(|row| row.verdict == verdict)
            .count()
    }

    /// Whether anything is not as it should be.
    #[must_use]
    pub fn is_wrong(&self) -> bool {
        self.count(Verdict::Outside) > 0 || !self.loops.is_empty()
    }
}

/// What can be read on a job.
#[must_use]
pub fn readable(job: &Job) -> Readable {
    let heading = &job.project.heading;
    let runs = job.sizing.runs.iter();
    Readable {
        reference: heading.reference.clone(),
        revision: heading.revision.clone(),
        tests: site_tests::all(job).iter().map(asked).collect(),
        runs: runs
            .map(|sized| AskedRun {
                run: sized.run.name.clone(),
                length: sized.length,
                channels: sized.run.strip.channels.count(),
                most: volts(sized.run.strip.voltage),
            })
            .collect(),
    }
}

fn asked(test: &SiteTest) -> Asked {
    let answer = match (&test.expected, test.instrument) {
        (Expected::Reading { unit, high, .. }, _) => Answer::Number {
            unit: *unit,
            most: *high,
        },
        (Expected::Finding("none"), _) => Answer::NoneOrSome,
        (Expected::Finding(_), _) => Answer::YesOrNo,
        (Expected::Unknown(_), instrument) => Answer::Number {
            unit: instrument.unit(),
            most: None,
        },
    };
    Asked {
        test: test.id.clone(),
        answer,
    }
}

/// Holds readings against what was expected.
#[must_use]
pub fn compared<'a>(job: &'a Job, given: &[Given]) -> Compared<'a> {
    let tests = site_tests::all(job);
    let mut rows: Vec<Row> = Vec::new();
    for (number, test) in (1..).zip(&tests) {
        let is_it = |it: &&Given| matches!(&it.of, GivenOf::Test(name) if *name == test.id);
        rows.extend(given.iter().find(is_it).map(|it| Row {
            number: Some(number),
            test: test.clone(),
            given: it.clone(),
            verdict: verdict(&test.expected, it.found),
        }));
    }
    let not_read = tests.len() - rows.len();
    rows.extend(given.iter().filter_map(|it| on_strip(job, it)));
    let sections = section::findings(job, &rows);
    let loops = bus::findings(job, &rows);
    Compared {
        job,
        rows,
        not_read,
        sections,
        loops,
    }
}

fn verdict(expected: &Expected, found: Found) -> Verdict {
    let is_within = match (expected, found) {
        (Expected::Unknown(_), _) => return Verdict::CannotTell,
        (Expected::Finding("none"), found) => found == Found::No,
        (Expected::Finding(_), found) => found == Found::Yes,
        (Expected::Reading { low, high, .. }, Found::Number(value)) => {
            low.is_none_or(|low| value >= low) && high.is_none_or(|high| value <= high)
        }
        (Expected::Reading { low, high, .. }, Found::MoreThan(value)) => match (low, high) {
            (_, Some(high)) if value >= *high => false,
            (Some(low), None) if value >= *low => true,
            _ => return Verdict::CannotTell,
        },
        (Expected::Reading { .. }, Found::Yes | Found::No) => return Verdict::CannotTell,
    };
    if is_within {
        Verdict::Within
    } else {
        Verdict::Outside
    }
}

/// The section that a place of a run is on, with its number and the segment.
pub(super) fn segment_at(run: &SizedRun, at: Length) -> Option<(usize, &Section, usize)> {
    let mut numbered = (1..).zip(&run.sections);
    let (number, section) = numbered.find(|(_, it)| at <= it.start + it.length)?;
    let along = (at - section.start) / section.ladder.segment;
    // On a cut mark the segment before it is read, as the test sheet has it.
    let segment = whole((along.value - 1e-6).max(0.0)).unwrap_or(0);
    Some((
        number,
        section,
        segment.min(section.segments.saturating_sub(1)),
    ))
}

/// The state in which a channel of a run is on alone.
pub(super) fn alone(run: &SizedRun, channel: usize) -> Lit {
    match (run.run.strip.channels.count(), channel) {
        (1, _) => Lit::On,
        (_, 0) => Lit::Warm,
        _ => Lit::Cool,
    }
}

/// A place along a strip that the sheet does not name.
fn on_strip(job: &Job, given: &Given) -> Option<Row> {
    let GivenOf::OnStrip { run, at, channel } = &given.of else {
        return None;
    };
    let sized = job.sizing.run(run)?;
    let (number, section, segment) = segment_at(sized, *at)?;
    let lit = alone(sized, *channel);
    let expected = site_tests::feeds::spread(sized, section)
        .and_then(|spread| volts_in(&section.ladder, lit, &spread, segment))
        .map_or_else(
            || Expected::Unknown("within its tolerances the strip has no working point".to_owned()),
            |band| meter::read(site_tests::feeds::in_volts(band), meter::VOLTS, Unit::Volt),
        );
    let (back, state) = words::lit(lit);
    let at_m = Figure::new(metres(*at), Unit::Metre);
    let test = SiteTest {
        id: format!("{run}/{number}/at {at_m}{}", words::suffix(lit)),
        stage: site_tests::Stage::FeedsLive,
        place: sized.run.room.title.clone(),
        run: Some(run.clone()),
        subject: run.clone(),
        what: format!("plus to {back}, on the strip, {at_m}{state}"),
        instrument: site_tests::Instrument::Voltmeter,
        expected,
    };
    Some(Row {
        number: None,
        verdict: verdict(&test.expected, given.found),
        test,
        given: given.clone(),
    })
}

//! The feed-point sheets: one for each run, with its strip drawn to scale, where to cut, join and
//! feed it, and what a meter must read on it.

use super::site_tests::{self, SiteTest, Stage};
use super::{Cell, Column, Part, Table};
use crate::choose::sized::{FeedCable, Section, SizedRun};
use crate::present::cable_size::cores;
use crate::present::drawing::layout;
use crate::present::drawing::run::drawing;
use crate::present::job::Job;
use crate::quantity::Length;
use crate::quantity::figure::Unit;
use crate::quantity::number::whole;
use std::collections::BTreeMap;

const NO_DRIVER: &str = "no driver in the catalogue can feed this section";

/// The parts of the feed-point sheets.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut tests: BTreeMap<String, Vec<(usize, SiteTest)>> = BTreeMap::new();
    for (number, test) in (1..).zip(site_tests::all(job)) {
        if let Some(run) = &test.run {
            tests.entry(run.clone()).or_default().push((number, test));
        }
    }
    let mut runs: Vec<_> = job.sizing.runs.iter().collect();
    runs.sort_by_key(|sized| sized.run.room.index);
    let mut parts = Vec::new();
    for sized in runs {
        let own = tests.get(&sized.run.name).map_or(&[][..], Vec::as_slice);
        parts.push(drawn(job, sized));
        parts.push(places(job, sized));
        parts.push(readings(sized, own));
    }
    parts
}

fn drawn(job: &Job, sized: &SizedRun) -> Part {
    let drawing = drawing(job, sized);
    let mut part = Part::drawing("run", sized.run.name.clone(), layout::bare(&drawing));
    part.text.push(about(sized, drawing.about));
    part.new_sheet = true;
    part
}

/// Room, strip and feed, and what else whoever fits it must know.
fn about(sized: &SizedRun, mut text: String) -> String {
    let run = &sized.run;
    if let Some(profile) = &run.profile {
        text.push_str(&format!("; profile {}", profile.offer.id));
    }
    if run.wet {
        text.push_str("; wet place: seal every cut end again");
    }
    match run.accessible {
        Some(true) => {}
        Some(false) => text.push_str("; out of reach once built: test before it is closed"),
        None => text.push_str("; whether it can be reached once built is not said"),
    }
    text.push('.');
    text
}

/// Places along a run where something is done.
fn places(job: &Job, sized: &SizedRun) -> Part {
    let mut table = Table::new(vec![
        Column::text("run", "Run").data_only(),
        Column::number("section", "Section"),
        Column::figure("at_m", "Place", Unit::Metre),
        Column::number("mark", "Cut mark"),
        Column::text("work", "Work"),
        Column::text("cable_number", "Cable"),
        Column::text("cable", "Type"),
        Column::text("cores", "Cores"),
        Column::figure("cable_length_m", "Length", Unit::Metre),
        Column::text("driver", "Driver"),
        Column::number("output", "Output"),
        Column::text("done", "Done").paper_only(),
    ]);
    for (number, section) in (1..).zip(&sized.sections) {
        for work in works(job, sized, number, section) {
            table.row(row(sized, number, section, &work));
        }
    }
    let heading = format!("{}: places along it", sized.run.name);
    Part::table("run-places", heading, table)
}

/// What is done at a place.
struct Work<'a> {
    at: Length,
    what: &'static str,
    /// The feed's cable; `Some(None)` when no driver can feed it, so that none is numbered.
    feed: Option<Option<&'a FeedCable>>,
}

/// In order along the section: cut or end, feeds, joints.
fn works<'a>(job: &'a Job, sized: &SizedRun, number: usize, section: &Section) -> Vec<Work<'a>> {
    let plain = |at: Length, what: &'static str| Work {
        at,
        what,
        feed: None,
    };
    let end = section.start + section.length;
    let several = sized.sections.len();
    let fed = |at: Length| {
        let mut feeds = section.feeds.iter();
        feeds.any(|feed| (feed.at - at).abs() < 0.5 * section.ladder.segment)
    };
    let begins = edge(number > 1, "start", fed(section.start));
    let ends = edge(number < several, "end", fed(end));
    let mut works = vec![plain(section.start, begins), plain(end, ends)];
    let joints = job.joints(&sized.run.name, number);
    works.extend(joints.iter().map(|at| plain(*at, "joint")));
    for feed in &section.feeds {
        works.push(Work {
            at: feed.at,
            what: "feed",
            feed: Some(job.sizing.cable_to(sized, number, feed)),
        });
    }
    works.sort_by(|a, b| a.at.value.total_cmp(&b.at.value));
    works
}

/// What is done at an end of a section: it is cut or not, and closed where no feed enters.
fn edge(is_cut: bool, name: &'static str, is_fed: bool) -> &'static str {
    match (is_cut, is_fed, name) {
        (true, true, _) => "cut",
        (true, false, _) => "cut, end cap",
        (false, true, _) => name,
        (false, false, "start") => "start, end cap",
        (false, false, _) => "end, end cap",
    }
}

fn row(sized: &SizedRun, number: usize, section: &Section, work: &Work) -> Vec<Cell> {
    let mark = whole((work.at / section.ladder.segment).value + 0.5);
    let [cable_number, cable, size, length, driver, output] = match work.feed {
        None => [const { Cell::Empty }; 6],
        Some(None) => {
            let none = Cell::unknown(NO_DRIVER);
            [
                none.clone(),
                Cell::text(&section.cable.offer.id),
                Cell::text(cores(&section.cable)),
                Cell::Empty,
                none.clone(),
                none,
            ]
        }
        Some(Some(cable)) => {
            let (driver, output) = if section.driver.is_empty() {
                (Cell::unknown(NO_DRIVER), Cell::unknown(NO_DRIVER))
            } else {
                (Cell::text(&section.driver), Cell::count(section.output))
            };
            [
                Cell::text(&cable.number),
                Cell::text(&cable.item.offer.id),
                Cell::text(cores(&cable.item)),
                Cell::metres(cable.length),
                driver,
                output,
            ]
        }
    };
    vec![
        Cell::text(&sized.run.name),
        Cell::count(number),
        Cell::metres(work.at),
        mark.map_or(Cell::Empty, Cell::count),
        Cell::text(work.what),
        cable_number,
        cable,
        size,
        length,
        driver,
        output,
        Cell::Blank,
    ]
}

/// What a meter must read on a run at full level; the numbers are those of the test sheet.
fn readings(sized: &SizedRun, tests: &[(usize, SiteTest)]) -> Part {
    let mut table = Table::new(vec![
        Column::text("run", "Run").data_only(),
        Column::number("number", "Test"),
        Column::text("subject", "Of"),
        Column::long_text("what", "Measure"),
        Column::number("expected", "Expected"),
        Column::number("low", "Least"),
        Column::number("high", "Most"),
        Column::text("reading", "Reading").paper_only(),
    ]);
    for (number, test) in tests
        .iter()
        .filter(|(_, test)| test.stage == Stage::FeedsLive)
    {
        let [expected, low, high, _] = site_tests::expected(&test.expected);
        table.row(vec![
            Cell::text(&sized.run.name),
            Cell::count(*number),
            Cell::text(&test.subject),
            Cell::text(&test.what),
            expected,
            low,
            high,
            Cell::Blank,
        ]);
    }
    let heading = format!("{}: readings at full level", sized.run.name);
    let mut part = Part::table("run-readings", heading, table);
    if sized.states.len() > 1 {
        part.notes.push(
            "Readings are of one white at a time, which a meter can read; the drawing has the \
             whites on together, as far as the driver has them on at once, and at each feed the \
             least over all states."
                .to_owned(),
        );
    }
    part
}

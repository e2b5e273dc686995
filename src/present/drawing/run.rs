//! The drawing of a sized run.

use super::profile::{Place, Profile, Track};
use super::{Chart, Drawing, DrawnFeed, DrawnSection, Level, Line, Mark};
use crate::choose::limits;
use crate::choose::sized::{Section, SizedRun};
use crate::present::cautions;
use crate::present::date;
use crate::present::job::Job;
use crate::present::measured::{metres, percent, volts};
use crate::quantity::Length;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::whole;

/// Points of a line, at most: more than a sheet or a terminal can show.
const MOST_POINTS: usize = 300;

/// Difference, in % of light or in V, below which two lines lie on one another.
const ALIKE: f64 = 1e-3;

/// The drawing of a run of the job, as it is sized or as it is tried.
#[must_use]
pub fn drawing(job: &Job, sized: &SizedRun) -> Drawing {
    let run = &sized.run;
    Drawing {
        name: run.name.clone(),
        about: format!(
            "{}: {} of {}, fed: {}",
            run.room.title,
            figure(sized.length),
            run.strip.offer.id,
            sized.reasons.arrangement
        ),
        block: block(job),
        length_m: metres(sized.length),
        cupboard: sized.cupboard.name.clone(),
        sections: sections(job, sized),
        feeds: feeds(job, sized),
        charts: Profile::of(sized).map_or_else(Vec::new, |profile| charts(job, sized, &profile)),
        cautions: cautions::on_sheets(job),
    }
}

fn figure(length: Length) -> Figure {
    Figure::new(metres(length), Unit::Metre)
}

/// Project, reference, revision, date, in one line.
pub(super) fn block(job: &Job) -> String {
    let heading = &job.project.heading;
    let revision = heading.revision.as_ref().map(|it| format!("revision {it}"));
    let day = heading.date.map(|day| date::shown(day, job.project.region));
    [
        Some(heading.title.clone()),
        heading.reference.clone(),
        revision,
        day,
    ]
    .into_iter()
    .flatten()
    .filter(|text| !text.is_empty())
    .collect::<Vec<_>>()
    .join(", ")
}

fn sections(job: &Job, sized: &SizedRun) -> Vec<DrawnSection> {
    let several = sized.sections.len() > 1;
    let numbered = (1..).zip(&sized.sections);
    numbered
        .map(|(number, section)| DrawnSection {
            from_m: metres(section.start),
            to_m: metres(section.start + section.length),
            label: section_label(number, section, several),
            cut_m: metres(section.ladder.segment),
            joints_m: job
                .joints(&sized.run.name, number)
                .iter()
                .copied()
                .map(metres)
                .collect(),
        })
        .collect()
}

fn section_label(number: usize, section: &Section, several: bool) -> String {
    let name = if several {
        format!("section {number}: ")
    } else {
        String::new()
    };
    let driver = if section.driver.is_empty() {
        String::new()
    } else {
        format!(", {} output {}", section.fed_by(), section.output)
    };
    let length = figure(section.length);
    format!("{name}{length}{driver}, {}", section.cable.offer.id)
}

fn feeds(job: &Job, sized: &SizedRun) -> Vec<DrawnFeed> {
    let mut feeds = Vec::new();
    for (number, section) in (1..).zip(&sized.sections) {
        for feed in &section.feeds {
            let known = !section.driver.is_empty();
            let cable = job.sizing.cable_to(sized, number, feed);
            let cable = cable.filter(|_| known);
            let mut label: Vec<String> = cable.iter().map(|it| it.number.clone()).collect();
            label.push(format!("{} cable", figure(feed.cable_length)));
            label.push(format!("at {}", figure(feed.at)));
            label.extend(mark(section, feed.at));
            let at_m = metres(feed.at);
            feeds.push(DrawnFeed { at_m, label });
        }
    }
    feeds
}

/// Which cut mark a place is, counted from the run's start; nothing at its start.
fn mark(section: &Section, at: Length) -> Option<String> {
    let mark = whole((at / section.ladder.segment).value + 0.5)?;
    (mark > 0).then(|| format!("mark {mark}"))
}

fn charts(job: &Job, sized: &SizedRun, profile: &Profile) -> Vec<Chart> {
    let limit = limits::of_run(&job.project, &sized.run).light_drop.value;
    let supply = sized.sections.first().map(|one| one.ladder.supply);
    let light = Chart {
        title: "Light, of the strip's own".to_owned(),
        unit: Unit::Percent,
        lines: lines(profile, |track| &track.light),
        level: Some(Level {
            value: 100.0 - percent(limit),
            name: "limit",
        }),
        marks: marks(profile, |place| Some((place.light, place.light))),
    };
    let volts = Chart {
        title: "Volts".to_owned(),
        unit: Unit::Volt,
        lines: lines(profile, |track| &track.volts),
        level: supply.map(|supply| Level {
            value: volts(supply),
            name: "driver",
        }),
        marks: marks(profile, |place| Some((place.segment_volts, place.volts))),
    };
    let white = Chart {
        title: "White, both channels full".to_owned(),
        unit: Unit::Kelvin,
        lines: vec![line(profile, "", &profile.white)],
        level: None,
        marks: marks(profile, |place| place.white.map(|white| (white, white))),
    };
    let mut charts = vec![light, volts];
    if !profile.white.is_empty() {
        charts.push(white);
    }
    charts
}

/// A line for each channel, or one for two that no one could tell apart.
fn lines(profile: &Profile, of: fn(&Track) -> &Vec<f64>) -> Vec<Line> {
    if let [warm, cool] = profile.tracks.as_slice() {
        let mut pairs = of(warm).iter().zip(of(cool));
        if pairs.all(|(warm, cool)| (warm - cool).abs() < ALIKE) {
            return vec![line(profile, "warm and cool alike", of(warm))];
        }
    }
    let one = profile.tracks.len() == 1;
    profile
        .tracks
        .iter()
        .map(|track| line(profile, if one { "" } else { track.name }, of(track)))
        .collect()
}

/// A line in pieces, one a section, of no more points than can be seen.
fn line(profile: &Profile, name: &str, values: &[f64]) -> Line {
    let stride = profile.at_m.len().div_ceil(MOST_POINTS).max(1);
    let points: Vec<(f64, f64)> = profile
        .at_m
        .iter()
        .copied()
        .zip(values.iter().copied())
        .collect();
    let mut pieces = Vec::new();
    let mut rest = points.as_slice();
    for segments in &profile.sections {
        let (piece, after) = rest.split_at_checked(*segments).unwrap_or((rest, &[]));
        rest = after;
        let last = piece.len().saturating_sub(1);
        let kept = piece.iter().enumerate();
        let kept = kept.filter(|(index, _)| index % stride == 0 || *index == last);
        pieces.push(kept.map(|(_, point)| *point).collect());
    }
    Line {
        name: name.to_owned(),
        pieces,
    }
}

fn marks(profile: &Profile, of: fn(&Place) -> Option<(f64, f64)>) -> Vec<Mark> {
    let mark = |place: &Place| {
        let (value, shown) = of(place)?;
        Some(Mark {
            at_m: place.at_m,
            value,
            shown,
            kind: place.kind,
        })
    };
    profile.places.iter().filter_map(mark).collect()
}

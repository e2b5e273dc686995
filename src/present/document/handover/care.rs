//! What keeping the installation takes, and what must not be done to it.

use super::super::Part;
use super::super::cell::joined;
use crate::present::job::Job;
use crate::present::measured;
use crate::quantity::figure::{Figure, Unit};

/// The part with the cautions of maintenance (common practice, no source, but where one is named).
pub(super) fn part(job: &Job) -> Part {
    let mut lines = vec![
        "Look at every cupboard at least as often as the rules for the building ask: dust on \
         drivers, vents open, nothing stored on or against them, terminals neither brown nor loose."
            .to_owned(),
        "Clean strip and diffusers dry, with the circuit off; nothing is hung from strip or profile."
            .to_owned(),
        "Strip is cut, joined or lengthened only after it has been worked out again: every metre \
         more loads its feed, its driver and its circuit."
            .to_owned(),
    ];
    if job.project.circuits.residual.is_some() {
        lines.push(
            "Press the test button of each residual current device as often as its maker and the \
             rules say."
                .to_owned(),
        );
    }
    lines.extend(ambients(job));
    lines.extend(wet(job));
    lines.extend(out_of_reach(job));
    if !job.allocation.loops.is_empty() {
        lines.push(
            "Keep a copy of the controllers' settings; a new wall panel or sensor on a loop takes an \
             address and current of that loop and is checked first."
                .to_owned(),
        );
    }
    let lines = lines.into_iter().map(|line| format!("– {line}"));
    Part::prose("Keeping it in order", lines.collect())
}

/// The temperature to which drivers were worked out, by cupboard.
fn ambients(job: &Job) -> Option<String> {
    let mut said: Vec<String> = Vec::new();
    for point in &job.project.site.points {
        let mut drivers = job.sizing.drivers.iter();
        if !drivers.any(|driver| driver.cupboard.index == point.index) {
            continue;
        }
        if let Some(ambient) = point.ambient {
            let ambient = Figure::new(measured::celsius(ambient), Unit::Celsius);
            said.push(format!("{} {ambient}", point.title));
        }
    }
    (!said.is_empty()).then(|| {
        format!(
            "Drivers were worked out for air of at most: {}. Warmer than that, their load is too \
             high.",
            said.join("; ")
        )
    })
}

fn wet(job: &Job) -> Option<String> {
    let wet = job.project.runs.iter().filter(|run| run.wet);
    let names: Vec<&str> = wet.map(|run| run.name.as_str()).collect();
    (!names.is_empty()).then(|| {
        format!(
            "In wet places: {}. A cut end, joint or gland that is opened is sealed again to its \
             class before it is switched on.",
            joined(names)
        )
    })
}

fn out_of_reach(job: &Job) -> Option<String> {
    let hidden = job
        .project
        .runs
        .iter()
        .filter(|run| run.accessible == Some(false));
    let names: Vec<&str> = hidden.map(|run| run.name.as_str()).collect();
    (!names.is_empty()).then(|| {
        format!(
            "Can't be reached without opening the fabric: {}. Test these first from the feed cable's \
             end.",
            joined(names)
        )
    })
}

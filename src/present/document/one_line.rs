//! One-line drawings of every control loop and every cupboard.

use super::Part;
use crate::present::drawing::one_line::{self, bus, cupboard};
use crate::present::job::Job;

/// The parts with the drawings.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let points = job.project.site.points.iter();
    let mut parts: Vec<Part> = points
        .flat_map(|point| cupboard::drawing(job, point))
        .map(|drawn| part("cupboard", drawn))
        .collect();
    let loops = job.allocation.loops.iter();
    let loops = loops.flat_map(|on| bus::drawing(job, on));
    parts.extend(loops.map(|drawn| part("loop", drawn)));
    parts
}

fn part(name: &'static str, drawn: one_line::Part) -> Part {
    Part::drawing(name, drawn.heading, drawn.sheet)
}

//! Strip: sections cut from reels on the cut marks, and the joints that this takes.

use super::counts::{Counts, exact_metres};
use super::priced::Measured;
use super::splits;
use super::stock::{Cutting, Unit, Wanted, cost, cut_all, longest};
use crate::choose::sized::{Section, SizedRun, Sizing};
use crate::model::strip::Strip;
use crate::quantity::Ratio;
use num_traits::ToPrimitive;
use rayon::prelude::*;
use std::collections::BTreeMap;
use uom::si::ratio::ratio;

/// A section that no reel holds and that may not be joined.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TooLong {
    /// Catalogue id of the strip.
    pub strip: String,
    /// Run.
    pub run: String,
    /// Section, from 1.
    pub section: usize,
}

/// Joints between pieces of reel in a section: the fewest that its strip's reels allow, none where
/// the strip may not be joined.
#[must_use]
pub fn joints(strip: &Strip, section: &Section) -> usize {
    let most = longest(&strip.reels, unit(strip));
    let pieces = section
        .segments
        .to_u64()
        .filter(|_| strip.joints && most > 0);
    let pieces = pieces.map(|segments| segments.div_ceil(most));
    pieces
        .and_then(|pieces| pieces.to_usize())
        .map_or(0, |pieces| pieces.saturating_sub(1))
}

/// Writes into each section how many joints it takes.
pub fn set_joints(sizing: &mut Sizing) {
    for sized in &mut sizing.runs {
        for section in &mut sized.sections {
            section.joints = joints(&sized.run.strip, section);
        }
    }
}

/// The ways in which a section can be made of pieces of reel, in cut segments; none when it can't.
fn ways(strip: &Strip, section: &Section) -> Vec<Vec<u64>> {
    let most = longest(&strip.reels, unit(strip));
    let segments = section.segments.to_u64().unwrap_or(0);
    let can_be_made = segments <= most || strip.joints;
    if can_be_made {
        splits::ways(section, segments, most)
    } else {
        Vec::new()
    }
}

fn unit(strip: &Strip) -> Unit {
    Unit {
        length: strip.cut,
        kerf: 0,
    }
}

/// Sections with their run and number, from 1.
pub(super) fn sections(sizing: &Sizing) -> impl Iterator<Item = (&SizedRun, usize, &Section)> {
    sizing.runs.iter().flat_map(|sized| {
        let numbered = (1..).zip(&sized.sections);
        numbered.map(move |(number, section)| (sized, number, section))
    })
}

/// Cuts all strip from reels. Strip that is sold by the metre is counted; what no reel holds is
/// returned apart.
pub(super) fn cut_strip<'a>(
    counts: &mut Counts<'a>,
    sizing: &'a Sizing,
) -> (Vec<Cutting<'a>>, Vec<TooLong>) {
    let mut made: BTreeMap<&str, Vec<Made>> = BTreeMap::new();
    let mut too_long = Vec::new();
    for (sized, number, section) in sections(sizing) {
        let strip: &Strip = &sized.run.strip;
        if strip.reels.is_empty() {
            let metres = exact_metres(section.length);
            let run = [sized.run.name.clone()];
            counts.add(&strip.offer, Measured::Metre, metres, &run);
            continue;
        }
        let ways = ways(strip, section);
        if ways.is_empty() {
            too_long.push(TooLong {
                strip: strip.offer.id.clone(),
                run: sized.run.name.clone(),
                section: number,
            });
            continue;
        }
        let of_strip = made.entry(strip.offer.id.as_str()).or_default();
        of_strip.push(Made {
            sized,
            number,
            section,
            ways,
        });
    }
    let made: Vec<Vec<Made>> = made.into_values().collect();
    let cuttings: Vec<Option<Cutting>> = made.par_iter().map(|sections| cut(sections)).collect();
    (cuttings.into_iter().flatten().collect(), too_long)
}

/// A section with the ways in which it can be made of pieces of reel.
struct Made<'a> {
    sized: &'a SizedRun,
    number: usize,
    section: &'a Section,
    ways: Vec<Vec<u64>>,
}

/// Cuts the sections of one strip.
fn cut<'a>(sections: &[Made<'a>]) -> Option<Cutting<'a>> {
    let strip: &'a Strip = &sections.first()?.sized.run.strip;
    let unit = unit(strip);
    let ways: Vec<Vec<Vec<u64>>> = sections.iter().map(|made| made.ways.clone()).collect();
    let cost = |pieces: &[u64], below: Option<u64>| {
        cost(&strip.offer, &strip.reels, unit, (pieces, below))
    };
    let mut wanted = Vec::new();
    for (made, pieces) in sections.iter().zip(splits::chosen(&ways, cost)) {
        let start: Ratio = made.section.start / unit.length;
        let mut at = start.get::<ratio>().round().to_u64().unwrap_or(0);
        let parts = pieces.len();
        for (part, units) in (1..).zip(pieces) {
            wanted.push(Wanted {
                run: made.sized.run.name.clone(),
                section: made.number,
                part,
                parts,
                units,
                at,
            });
            at += units;
        }
    }
    cut_all(&strip.offer, &strip.reels, unit, &wanted)
}

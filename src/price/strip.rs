//! Strip: sections cut from reels on the cut marks, and the joints that this takes.

use super::counts::{Counts, exact_metres};
use super::priced::Measured;
use super::stock::{Cutting, Unit, Wanted, cut_all, longest, parts};
use crate::choose::sized::{Section, SizedRun, Sizing};
use crate::model::strip::Strip;
use num_traits::ToPrimitive;
use std::collections::BTreeMap;

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
    pieces(strip, section).map_or(0, |pieces| pieces.len().saturating_sub(1))
}

/// Writes into each section how many joints it takes.
pub fn set_joints(sizing: &mut Sizing) {
    for sized in &mut sizing.runs {
        for section in &mut sized.sections {
            section.joints = joints(&sized.run.strip, section);
        }
    }
}

/// The pieces of a section in cut segments; `None` when it can't be made.
fn pieces(strip: &Strip, section: &Section) -> Option<Vec<u64>> {
    let segments = section.segments.to_u64()?;
    let most = longest(&strip.reels, unit(strip));
    if segments <= most {
        return Some(vec![segments]);
    }
    (strip.joints && most > 0).then(|| parts(segments, most))
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
    let mut wanted: BTreeMap<&str, (&Strip, Vec<Wanted>)> = BTreeMap::new();
    let mut too_long = Vec::new();
    for (sized, number, section) in sections(sizing) {
        let strip: &Strip = &sized.run.strip;
        if strip.reels.is_empty() {
            let metres = exact_metres(section.length);
            let run = [sized.run.name.clone()];
            counts.add(&strip.offer, Measured::Metre, metres, &run);
            continue;
        }
        let Some(pieces) = pieces(strip, section) else {
            too_long.push(TooLong {
                strip: strip.offer.id.clone(),
                run: sized.run.name.clone(),
                section: number,
            });
            continue;
        };
        let (_, list) = wanted
            .entry(strip.offer.id.as_str())
            .or_insert((strip, Vec::new()));
        let parts = pieces.len();
        list.extend((1..).zip(pieces).map(|(part, units)| Wanted {
            run: sized.run.name.clone(),
            section: number,
            part,
            parts,
            units,
        }));
    }
    let cuttings = wanted
        .into_values()
        .filter_map(|(strip, list)| cut_all(&strip.offer, &strip.reels, unit(strip), &list))
        .collect();
    (cuttings, too_long)
}

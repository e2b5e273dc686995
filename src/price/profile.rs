//! Profile: each run's length and what the end caps add, cut from bars with a saw.

use super::counts::{Counts, exact_metres};
use super::priced::Measured;
use super::stock::{Cutting, Unit, Wanted, cut_all, longest, parts};
use crate::choose::sized::{SizedRun, Sizing};
use crate::model::extra::Profile;
use crate::quantity::Length;
use num_traits::ToPrimitive;
use std::collections::BTreeMap;
use uom::si::length::millimeter;

/// Cuts all profile from bars. A run longer than a bar is made of whole bars and a rest. Profile
/// that is sold by the metre is counted.
pub(super) fn cut_profile<'a>(counts: &mut Counts<'a>, sizing: &'a Sizing) -> Vec<Cutting<'a>> {
    let mut wanted: BTreeMap<&str, (&Profile, Vec<Wanted>)> = BTreeMap::new();
    for sized in &sizing.runs {
        let Some(profile) = sized.run.profile.as_deref() else {
            continue;
        };
        let length = sized.length + profile.longer_by;
        if profile.bars.is_empty() {
            let run = [sized.run.name.clone()];
            counts.add(&profile.offer, Measured::Metre, exact_metres(length), &run);
            continue;
        }
        let most = longest(&profile.bars, unit(profile));
        let pieces = parts(millimetres(length), most);
        let (_, list) = wanted
            .entry(profile.offer.id.as_str())
            .or_insert((profile, Vec::new()));
        let parts = pieces.len();
        let mut at = 0;
        for (section, units) in (1..).zip(pieces) {
            list.push(Wanted {
                run: sized.run.name.clone(),
                section,
                part: section,
                parts,
                units,
                at,
            });
            at += units;
        }
    }
    wanted
        .into_values()
        .filter_map(|(profile, list)| cut_all(&profile.offer, &profile.bars, unit(profile), &list))
        .collect()
}

/// Joints between bars in a run's profile.
pub(super) fn joints(sized: &SizedRun) -> usize {
    let Some(profile) = sized.run.profile.as_deref() else {
        return 0;
    };
    let most = longest(&profile.bars, unit(profile));
    let pieces = parts(millimetres(sized.length + profile.longer_by), most);
    pieces.len().saturating_sub(1)
}

fn unit(profile: &Profile) -> Unit {
    Unit {
        length: Length::new::<millimeter>(1.0),
        kerf: millimetres(profile.kerf),
    }
}

/// Whole millimetres, rounded up past the rounding of the arithmetic.
pub(super) fn millimetres(length: Length) -> u64 {
    (length.get::<millimeter>() - 1e-6)
        .ceil()
        .to_u64()
        .unwrap_or(0)
}

//! What one feed lights by itself at most, by the length of its cable.
//!
//! Many runs of a project ask the same of a strip and a cable. So stretches are worked out at lengths
//! that rise by a fifth each, once for all runs: cable is no better than the next shorter one of
//! these.

use crate::choose::arrangement::Piece;
use crate::choose::feeding::Feeding;
use crate::choose::sharing::Sharing;
use crate::choose::stretches::{Key, Stretch};
use crate::choose::trial;
use crate::model::cable::Cable;
use crate::quantity::{Length, Resistance};
use crate::solve::cable::{core_resistance, hottest};
use crate::solve::strip::solve;
use num_traits::ToPrimitive;
use std::sync::Arc;
use uom::si::length::meter;

/// The first length of cable above none, in metres.
const FIRST: f64 = 0.5;
/// Each length beside the one before.
const RISE: f64 = 1.2;

/// What a feed of a run lights through cable that is as long as this or a little shorter, so that it
/// lights no less; more than the run is long where it lights all of it.
pub(super) fn stretch(
    feeding: &Feeding,
    sharing: Sharing,
    cable: &Arc<Cable>,
    length: Length,
) -> Stretch {
    let limits = &feeding.limits;
    let figures = [
        trial::supply(feeding).value,
        limits.light_drop.value.value,
        limits.feed_drop.value.value,
    ];
    let key = Key {
        strip: Arc::as_ptr(&feeding.strip).addr(),
        cable: Arc::as_ptr(cable).addr(),
        sharing,
        figures: figures.map(f64::to_bits),
        rung: rung(length),
        most: feeding.segments.next_power_of_two(),
    };
    feeding.stretches.of(key, || {
        let shorter = key.rung.map_or(0.0, |rung| FIRST * RISE.powi(rung));
        let hot = hottest(cable.insulation);
        let core = core_resistance(cable, Length::new::<meter>(shorter), hot).unwrap_or_default();
        Stretch {
            side: longest(feeding, sharing, core, key.most, |_| 0),
            whole: longest(feeding, sharing, core, key.most, |segments| segments / 2),
        }
    })
}

/// The last of the rising lengths that a length reaches, with a little room for rounding; `None`
/// below the first.
fn rung(length: Length) -> Option<i32> {
    let rises = (length.get::<meter>() / FIRST).ln() / RISE.ln();
    (rises - 1e-9).floor().to_i32().filter(|rung| *rung >= 0)
}

/// The longest piece, in segments up to `most`, that one feed lights by itself through a core, the
/// feed where `place` says for a length.
fn longest(
    feeding: &Feeding,
    sharing: Sharing,
    core: Resistance,
    most: usize,
    place: impl Fn(usize) -> usize,
) -> usize {
    let lights = |segments: usize| {
        let piece = Piece {
            start: 0,
            segments,
            feeds: vec![place(segments)],
        };
        sharing.states().first().is_some_and(|lit| {
            let ladder = trial::network(feeding, &piece, |_| core);
            let state = solve(&ladder, *lit);
            state.is_some_and(|state| super::miss(feeding, &state) <= 0.0)
        })
    };
    let (mut kept, mut missed) = (0, 1);
    while missed <= most && lights(missed) {
        (kept, missed) = (missed, 2 * missed);
    }
    if missed > most {
        return most;
    }
    while missed - kept > 1 {
        let middle = usize::midpoint(kept, missed);
        if lights(middle) {
            kept = middle;
        } else {
            missed = middle;
        }
    }
    kept
}

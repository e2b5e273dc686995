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
use crate::quantity::number::real;
use crate::quantity::{Length, Resistance};
use crate::solve::cable::{core_resistance, hottest};
use crate::solve::strip::extremes;
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
    greatest(most, |segments| {
        let piece = Piece {
            start: 0,
            segments,
            feeds: vec![place(segments)],
        };
        let lit = sharing.states().first()?;
        let ladder = trial::network(feeding, &piece, |_| core);
        Some(super::miss(feeding, extremes(&ladder, *lit)?))
    })
}

/// Lengths at which a longer piece is guessed from.
const SHORT: [usize; 2] = [8, 16];
/// Guesses after which halving ends the search.
const GUESSES: usize = 8;

/// The greatest number up to `most` that misses its limits by nothing, where what is greater misses
/// them by more. A limit is missed by about a square of the length, so that a few guesses find it.
fn greatest(most: usize, miss: impl Fn(usize) -> Option<f64>) -> usize {
    let miss = |at: usize| miss(at).unwrap_or(f64::INFINITY);
    let [near, far] = SHORT;
    let (mut kept, mut missed) = (0, most + 1);
    let mut last = (near, miss(near));
    let mut next = guess(last.1, (far, miss(far)));
    for turn in 0.. {
        if missed - kept <= 1 {
            break;
        }
        let middle = || usize::midpoint(kept, missed);
        let at = next.filter(|_| turn < GUESSES).unwrap_or_else(middle);
        let at = at.clamp(kept + 1, missed - 1);
        let by = miss(at);
        if by <= 0.0 {
            kept = at;
        } else {
            missed = at;
        }
        let slope = (by - last.1) / (real(at) - real(last.0));
        let reaches = (real(at) - by / slope).floor().to_usize();
        // What is kept is likely the greatest: the next would show it.
        next = reaches.map(|reaches| {
            if by <= 0.0 {
                reaches.max(at + 1)
            } else {
                reaches
            }
        });
        last = (at, by);
    }
    kept
}

/// Where a square through what is missed at the two short lengths, and nothing used up at none,
/// reaches the limit.
fn guess(near: f64, (far, by): (usize, f64)) -> Option<usize> {
    let [first, _] = SHORT.map(real);
    let far = real(far);
    let (one, two) = ((near + 1.0) / first, (by + 1.0) / far);
    let square = (two - one) / (far - first);
    let straight = one - square * first;
    let root = (straight * straight + 4.0 * square).sqrt();
    // The form that also holds where the square is nothing.
    (2.0 / (straight + root)).floor().to_usize()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_greatest_is_found_however_the_limit_is_missed() {
        for most in [1, 2, 5, 16, 17, 512] {
            for wanted in 0..=most {
                let end = real(wanted) + 0.5;
                let square = |at: usize| Some((real(at) / end).powi(2) - 1.0);
                let straight = |at: usize| Some(real(at) / end - 1.0);
                let step = |at: usize| Some(if at > wanted { 1.0 } else { -1.0 });
                let none = |at: usize| (at <= wanted).then_some(-0.5);
                assert_eq!(greatest(most, square), wanted, "square, {most}");
                assert_eq!(greatest(most, straight), wanted, "straight, {most}");
                assert_eq!(greatest(most, step), wanted, "step, {most}");
                assert_eq!(greatest(most, none), wanted, "none, {most}");
            }
        }
    }

    #[test]
    fn few_are_looked_at() {
        let looked = std::cell::Cell::new(0);
        let found = greatest(4096, |at| {
            looked.set(looked.get() + 1);
            Some((real(at) / 777.5).powi(2) * 0.8 + real(at) / 777.5 * 0.2 - 1.0)
        });
        assert_eq!(found, 777);
        assert!(looked.get() <= 6, "{}", looked.get());
    }
}

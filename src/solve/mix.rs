//! How the white of a tunable white strip shifts along it: where one channel has lost more light
//! than the other, the mix is no longer the one asked for.

use super::colour::{Chromaticity, White, mix};
use crate::quantity::{FluxPerLength, Temperature};

/// A tunable white strip's two whites and their light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Light per length of the warm and the cool channel at nominal current.
    pub flux: [FluxPerLength; 2],
    /// Colour temperatures of the warm and the cool channel, on the locus; `None` when not known.
    pub whites: Option<[Temperature; 2]>,
}

/// The mix along a strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MixAlong {
    /// Least warm share of the light, over the segments that give any.
    pub warm_least: f64,
    /// Most warm share of the light.
    pub warm_most: f64,
    /// Warm share where nothing is lost.
    pub warm_nominal: f64,
    /// Warm share of the first and of the last segment that gives light.
    pub warm_ends: [f64; 2],
    /// Segments without any light.
    pub dark: usize,
    /// The whites that follow; `None` when the channels' own are not known.
    pub whites: Option<WhiteAlong>,
}

/// The white along a strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WhiteAlong {
    /// The warmest white on it: where the warm share is most.
    pub warmest: Option<White>,
    /// The coolest white on it.
    pub coolest: Option<White>,
    /// The white asked for.
    pub nominal: Option<White>,
    /// Shift between its ends, in steps of 0.0011 in u′v′.
    pub ends_steps: f64,
    /// Largest shift between any two places, in steps. All mixes lie on one line in (u′, v′), so
    /// it is the shift between the warmest and the coolest.
    pub most_steps: f64,
}

/// The mix along a strip whose segments give `warm` and `cool` light (each a share of nominal
/// light), with the channels dimmed to `duty` (0 to 1, warm and cool). `None` when no segment
/// gives light.
#[must_use]
pub fn along(pair: &Pair, warm: &[f64], cool: &[f64], duty: [f64; 2]) -> Option<MixAlong> {
    let full = [pair.flux[0].value * duty[0], pair.flux[1].value * duty[1]];
    let nominal = share(full)?;
    let mut shares = warm
        .iter()
        .zip(cool)
        .map(|(warm, cool)| share([full[0] * warm, full[1] * cool]));
    let first = shares.by_ref().flatten().next()?;
    let (mut least, mut most, mut last) = (first, first, first);
    let mut lit = 1;
    for share in shares.flatten() {
        (least, most, last) = (share.min(least), share.max(most), share);
        lit += 1;
    }
    let ends = [first, last];
    Some(MixAlong {
        warm_least: least,
        warm_most: most,
        warm_nominal: nominal,
        warm_ends: ends,
        dark: warm.len().saturating_sub(lit),
        whites: pair
            .whites
            .map(|whites| white_along(whites, [least, most], nominal, ends)),
    })
}

/// One segment of a strip in a mix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlaceMix {
    /// Its light as a share of what it would be where nothing is lost.
    pub light: f64,
    /// Its white; `None` without light, and when the channels' own whites are not known.
    pub white: Option<White>,
}

/// The mix of each segment, given as for [`along`]. Empty when the duties give no light.
#[must_use]
pub fn places(pair: &Pair, warm: &[f64], cool: &[f64], duty: [f64; 2]) -> Vec<PlaceMix> {
    let full = [pair.flux[0].value * duty[0], pair.flux[1].value * duty[1]];
    let whites = pair
        .whites
        .map(|whites| whites.map(Chromaticity::black_body));
    let whole = full[0] + full[1];
    let place = |(warm, cool): (&f64, &f64)| {
        let parts = [full[0] * warm, full[1] * cool];
        let white = whites
            .zip(share(parts))
            .and_then(|([warm, cool], share)| mix(warm, cool, 1.0 - share).white());
        PlaceMix {
            light: (parts[0] + parts[1]) / whole,
            white,
        }
    };
    if whole > 0.0 {
        warm.iter().zip(cool).map(place).collect()
    } else {
        Vec::new()
    }
}

/// The warm share of two amounts of light; `None` where there is none.
fn share([warm, cool]: [f64; 2]) -> Option<f64> {
    let all = warm + cool;
    (all > 0.0).then(|| warm / all)
}

fn white_along(
    whites: [Temperature; 2],
    [least, most]: [f64; 2],
    nominal: f64,
    ends: [f64; 2],
) -> WhiteAlong {
    let [warm, cool] = whites.map(Chromaticity::black_body);
    let at = |warm_share: f64| mix(warm, cool, 1.0 - warm_share);
    WhiteAlong {
        warmest: at(most).white(),
        coolest: at(least).white(),
        nominal: at(nominal).white(),
        ends_steps: at(ends[0]).steps(at(ends[1])),
        most_steps: at(least).steps(at(most)),
    }
}

/// Duties of the warm and the cool channel that give a white at full output where nothing is lost,
/// the channels sharing the light between them (warm share of light + cool share = 1, the greater
/// duty being 1); `None` when the white is not between the two, or their own are not known.
#[must_use]
pub fn duty_for(pair: &Pair, wanted: Temperature) -> Option<[f64; 2]> {
    let [warm, cool] = pair.whites?.map(Chromaticity::black_body);
    let cool_share = super::colour::cool_share_for(warm, cool, wanted)?;
    let need = [
        (1.0 - cool_share) / pair.flux[0].value,
        cool_share / pair.flux[1].value,
    ];
    let greater = need[0].max(need[1]);
    (greater > 0.0 && greater.is_finite()).then(|| need.map(|duty| duty / greater))
}

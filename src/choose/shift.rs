//! The largest colour shift along a tunable white run, at the mix where it is worst.

use super::sized::Section;
use crate::model::strip::Strip;
use crate::quantity::number::real;
use crate::solve::colour::{Chromaticity, mix};
use crate::solve::mix::{Pair, along};
use crate::solve::strip::{Lit, State};

/// Mixes tried: warm shares of 1/10 to 9/10.
const MIXES: usize = 10;

/// A strip's two whites and their light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Whites {
    pair: Pair,
    warm: Chromaticity,
    cool: Chromaticity,
}

impl Whites {
    /// Those of a strip; `None` for a single colour, and when whites or fluxes are not known.
    #[must_use]
    pub fn of(strip: &Strip) -> Option<Whites> {
        let channels = strip.channels.list();
        let [warm, cool] = channels.as_slice() else {
            return None;
        };
        Some(Whites {
            pair: Pair {
                flux: [warm.flux?, cool.flux?],
                whites: None,
            },
            warm: Chromaticity::black_body(warm.white?),
            cool: Chromaticity::black_body(cool.white?),
        })
    }

    /// Largest shift between two places of the sections, in steps, over mixes from mostly warm to
    /// mostly cool, with pulses that overlap and pulses that don't, as far as these states occur.
    #[must_use]
    pub fn largest_shift(&self, sections: &[Section]) -> Option<f64> {
        let overlapping = [(Lit::Both, 0), (Lit::Both, 1)];
        let apart = [(Lit::Warm, 0), (Lit::Cool, 0)];
        [overlapping, apart]
            .into_iter()
            .filter_map(|[warm, cool]| Some((light(sections, warm)?, light(sections, cool)?)))
            .flat_map(|(warm, cool)| {
                (1..MIXES).filter_map(move |tenths| self.shift(&warm, &cool, tenths))
            })
            .max_by(f64::total_cmp)
    }

    fn shift(&self, warm: &[f64], cool: &[f64], tenths: usize) -> Option<f64> {
        let share = real(tenths) / real(MIXES);
        let mixed = along(&self.pair, warm, cool, [share, 1.0 - share])?;
        let at = |warm_share: f64| mix(self.warm, self.cool, 1.0 - warm_share);
        Some(at(mixed.warm_least).steps(at(mixed.warm_most)))
    }
}

/// Light of one lit channel along the run; `None` when a section lacks that state.
#[must_use]
pub fn light(sections: &[Section], (lit, place): (Lit, usize)) -> Option<Vec<f64>> {
    let mut light = Vec::new();
    for section in sections {
        let state: &State = section.states.iter().find(|state| state.lit == lit)?;
        light.extend(&state.channels.get(place)?.light);
    }
    Some(light)
}

//! A strip case, as read from a file or from flags, laid as a ladder.

use super::cable::conductor_resistance;
use super::longest::Cores;
use super::mix::Pair;
use super::strip::{Ladder, LadderFeed};
use super::strip_model::{StripError, StripModel};
use crate::load::strip_case::{CaseCores, CaseFeed, StripCase};
use crate::model::assumption::Assumption;
use crate::model::strip::{Channels, Strip};
use crate::quantity::number::{real, whole};
use crate::quantity::{Length, length};
use uom::si::ratio::ratio;

/// A case ready to be solved.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// The strip, to be laid in other lengths and fed in other ways.
    pub model: StripModel,
    /// The case's own ladder.
    pub ladder: Ladder,
    /// Its two whites, when the light of both channels is known.
    pub pair: Option<Pair>,
}

/// Why a case can't be laid.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CaseError {
    /// A feed beyond the strip's end.
    #[error("a feed at {at} is beyond the strip's end at {end}", at = length::write(*.at), end = length::write(*.end))]
    Beyond {
        /// Where it is asked for.
        at: Length,
        /// Where the strip ends.
        end: Length,
    },
    /// A conductor of which no table has the resistance.
    #[error(
        "no table has the resistance of a {size} conductor of that kind: give its cores' \
         resistance, or another size or kind"
    )]
    Conductor {
        /// Its size.
        size: String,
    },
    /// A feed that is not at a cut mark.
    #[error(
        "a feed at {at} is not at a cut mark: the nearest are at {before} and {after}",
        at = length::write(*.at), before = length::write(*.before), after = length::write(*.after)
    )]
    OffCut {
        /// Where it is asked for.
        at: Length,
        /// The cut mark before.
        before: Length,
        /// The cut mark after.
        after: Length,
    },
    /// Shorter than one segment.
    #[error("{length} is shorter than one segment of {cut}", length = length::write(*.length), cut = length::write(*.cut))]
    Short {
        /// The strip's length.
        length: Length,
        /// Its segment.
        cut: Length,
    },
    /// The strip contradicts itself.
    #[error(transparent)]
    Strip(#[from] StripError),
}

/// Whole segments that fit a length; a length that is a multiple but for rounding has them all.
#[must_use]
pub fn segments(length: Length, cut: Length) -> usize {
    whole((length / cut).get::<ratio>() + MARK).unwrap_or(0)
}

/// Share of a segment within which a place counts as being at a cut mark.
const MARK: f64 = 1e-4;

/// Lays a case: whole segments, feeds at cut marks, cores' resistance from their cables.
///
/// # Errors
/// When the strip contradicts itself, is shorter than a segment, or a feed can't be where or as it
/// is asked for.
pub fn lay(case: &StripCase) -> Result<Laid, CaseError> {
    let strip = &case.strip;
    let model = StripModel::of(strip)?;
    let segments = segments(case.length, strip.cut);
    if segments == 0 {
        return Err(CaseError::Short {
            length: case.length,
            cut: strip.cut,
        });
    }
    let mut feeds = Vec::with_capacity(case.feeds.len());
    for feed in &case.feeds {
        feeds.push(laid_feed(case, feed, segments)?);
    }
    Ok(Laid {
        ladder: model.ladder(case.supply, segments, feeds),
        pair: pair(strip),
        model,
    })
}

fn laid_feed(case: &StripCase, feed: &CaseFeed, segments: usize) -> Result<LadderFeed, CaseError> {
    let cores = cores(&feed.cores, case.strip.channels.count())?;
    Ok(cores.feed(cut_at(case, feed.at, segments)?))
}

/// The cut point of a place. All of what the last segment falls short of the length is its end.
fn cut_at(case: &StripCase, at: Length, segments: usize) -> Result<usize, CaseError> {
    let cut = case.strip.cut;
    let place = (at / cut).get::<ratio>();
    if place > (case.length / cut).get::<ratio>() + MARK {
        return Err(CaseError::Beyond {
            at,
            end: case.length,
        });
    }
    let (before, nearest) = (whole(place).unwrap_or(0), whole(place + 0.5).unwrap_or(0));
    if place >= real(segments) {
        return Ok(segments);
    }
    if (place - real(nearest)).abs() <= MARK {
        return Ok(nearest);
    }
    Err(CaseError::OffCut {
        at,
        before: cut * real(before),
        after: cut * real(before + 1),
    })
}

/// Resistance of a feed's cores.
///
/// # Errors
/// When no table has the resistance of its conductors.
pub fn cores(given: &CaseCores, channels: usize) -> Result<Cores, CaseError> {
    match given {
        CaseCores::Given { plus, returns } => Ok(Cores {
            plus: *plus,
            returns: returns.clone(),
        }),
        CaseCores::Cable(cable) => {
            let of = |size| {
                conductor_resistance(cable.conductor, size, cable.temperature)
                    .map(|per_metre| per_metre * cable.length)
                    .ok_or_else(|| CaseError::Conductor {
                        size: size.to_string(),
                    })
            };
            Ok(Cores {
                plus: of(cable.size)?,
                returns: vec![of(cable.return_size)?; channels],
            })
        }
    }
}

/// A strip's two whites; `None` for a single colour, and when the light of a channel is not known.
#[must_use]
pub fn pair(strip: &Strip) -> Option<Pair> {
    let Channels::TunableWhite { warm, cool } = &strip.channels else {
        return None;
    };
    Some(Pair {
        flux: [warm.flux?, cool.flux?],
        whites: warm.white.zip(cool.white).map(|(warm, cool)| [warm, cool]),
    })
}

impl Laid {
    /// What was assumed.
    #[must_use]
    pub fn assumptions(&self) -> &[Assumption] {
        &self.model.assumptions
    }
}
